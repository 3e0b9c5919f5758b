/**
 * What was poured and drained in a period, move by move, kept while a replay runs.
 */
import type { Move } from '../bath/moves.ts';
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { bathVolume } from '../bath/state.ts';
import { isWithin, type Period } from './report-period.ts';

export interface Change {
  atMs: number;
  event: Move;
  /** From stock, at 20 °C, and what it was. */
  pouredMl: number;
  solvent: string | null;
  /** From the clean bath, by a top-up. */
  fromCleanMl: number;
  /** To waste, at 20 °C, and its mass. */
  wasteMl: number;
  wasteG: number;
}

export interface ChangesKept {
  changes: Change[];
  watch(step: Pick<Step, 'entry' | 'before' | 'baths' | 'move'>): void;
}

/** A collector for the moves of a period, to be handed to a replay as `watch`. What the replay refused is not in it. */
export function changesOf(period: Period, shop: Pick<Shop, 'tubPlace' | 'resins'>): ChangesKept {
  const changes: Change[] = [];
  return {
    changes,
    watch: (step) => {
      if (step.move && isWithin(period, step.entry.atMs)) changes.push(changeOf(step, shop));
    },
  };
}

function changeOf(
  { entry, before, baths, move }: Pick<Step, 'entry' | 'before' | 'baths' | 'move'>,
  { tubPlace, resins }: Pick<Shop, 'tubPlace' | 'resins'>,
): Change {
  const event = entry.event as Move;
  const clean = tubPlace.get('clean');
  const { pouredMl, solvent, wasteMl, waste } = move!;
  const taken = event.what === 'top-up' && event.from === 'clean' && clean !== undefined;
  return {
    atMs: entry.atMs,
    event,
    pouredMl,
    solvent: pouredMl > 0 ? (solvent ?? null) : null,
    fromCleanMl: taken ? bathVolume(before[clean]!, resins) - bathVolume(baths[clean]!, resins) : 0,
    wasteMl,
    wasteG: waste.resin + waste.ipa + waste.water,
  };
}
