/**
 * What a replay moved in and out of stock, waste and tray, kept while it runs.
 */
import type { Step } from '../bath/replay.ts';
import type { Grams } from '../bath/tally.ts';
import type { LedgerEvent } from '../ledger/event.ts';

/** Solvent taken from stock by one event. */
interface Pour {
  atMs: number;
  eventId: string;
  solvent: string;
  /** At 20 °C. */
  ml: number;
}

/** Liquid that one event drained from the baths. */
interface Drained {
  atMs: number;
  eventId: string;
  /** The waste container; absent when the event names none. */
  into?: string;
  /** At 20 °C. */
  ml: number;
  grams: Grams;
}

/** One wash that took place. */
interface Washed {
  atMs: number;
  eventId: string;
  /** 0 when the wash names none. */
  parts: number;
  /** Resin that rinses before and between the baths took off, which goes to the tray, g. */
  trayG: number;
}

export interface Movements {
  pours: Pour[];
  wastes: Drained[];
  washes: Washed[];
}

/** Movements that fill as a replay calls `watch`. Each list is in the order of the entries. */
export interface MovementsKept extends Movements {
  watch(step: Pick<Step, 'entry' | 'load' | 'move' | 'wash'>): void;
}

/** A collector to be handed to `replay` or `believe` as `watch`. What the replay refused is not in it. */
export function movementsOf(): MovementsKept {
  const kept: Movements = { pours: [], wastes: [], washes: [] };
  return { ...kept, watch: (step) => collect(step, kept) };
}

function collect(
  { entry, load, move, wash }: Pick<Step, 'entry' | 'load' | 'move' | 'wash'>,
  kept: Movements,
): void {
  const { event, atMs } = entry;
  if (load && wash)
    kept.washes.push({ atMs, eventId: event.id, parts: load.parts, trayG: trayOf(load, wash) });
  if (!move) return;
  if (move.solvent !== undefined && move.pouredMl > 0)
    kept.pours.push({ atMs, eventId: event.id, solvent: move.solvent, ml: move.pouredMl });
  if (move.wasteMl > 0)
    kept.wastes.push({
      atMs,
      eventId: event.id,
      ...into(event),
      ml: move.wasteMl,
      grams: move.waste,
    });
}

function into(event: LedgerEvent): { into?: string } {
  return 'into' in event && event.into !== undefined ? { into: event.into } : {};
}

/** The share of a sum that its roundings stay far below, and every rinse far above. */
const ROUNDING = 1e-12;

/**
 * Resin that went to the tray in one wash [g].
 *
 *     tray = η_pre (c − trapped)/(1 − η_pre) + c − Σ dissolved − u
 *
 * c: carry-over into the first bath, g; η_pre: share that the pre-rinse takes off the film; trapped: resin it does not
 * reach, g; dissolved: in each bath, g; u: what never dissolved, g. The first term turns carry-over c = film (1 − η_pre) +
 * trapped round; it is 0 where the carry-over was given outright. The rest is what left between the baths.
 *
 * Example: c 4 g after a spray (0.6), nothing trapped: 6 g; of it 3 g dissolved, 0.4 g still on the parts: 0.6 g more.
 */
export function trayOf(
  load: Pick<NonNullable<Step['load']>, 'givenCarryG' | 'prerinseShare' | 'trappedG'>,
  wash: Pick<NonNullable<Step['wash']>, 'carryG' | 'dissolvedG' | 'undissolvedG'>,
): number {
  const { carryG, dissolvedG, undissolvedG } = wash;
  const film = load.givenCarryG === undefined ? carryG - load.trappedG : 0;
  const before = (load.prerinseShare * film) / (1 - load.prerinseShare);
  let dissolved = 0;
  for (const one of dissolvedG) dissolved += one;
  const between = carryG - dissolved - undissolvedG;
  // The difference of nearly equal numbers can end a rounding beside nothing, on either side.
  return before + (between > ROUNDING * carryG ? between : 0);
}
