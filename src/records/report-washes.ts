/**
 * The washes of a period, summed while a replay runs: loads, parts by kind, the resin they brought, and who washed.
 */
import type { Step } from '../bath/replay.ts';
import { bandOf, withScatterAhead } from '../belief/band.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import { factorOn, WASH_SCATTER, washScatter } from '../belief/factors.ts';
import type { WashEvent } from '../ledger/event.ts';
import { isWithin, type Period } from './report-period.ts';

export interface Washes {
  loads: number;
  /** Of the washes that say how many. */
  parts: number;
  /** In the order in which the kinds first came. */
  partsByKind: Map<string, number>;
  /** Washes that name no parts. */
  uncountedLoads: number;
  /** Of all, those that were logged from memory. */
  estimatedLoads: number;
  /** Loads by initials; null for washes without any. In the order in which they first came. */
  by: Map<string | null, number>;
  /** Carry-over into the first bath, all loads together, best estimate. */
  resinInG: number;
  /** Of it, what was given outright or trapped, which no factor makes uncertain. */
  fixedG: number;
  /** Sum of the squares of the rest, g². */
  squares: number;
}

export interface WashesKept {
  washes: Washes;
  watch(step: Pick<Step, 'entry' | 'load' | 'wash'>): void;
}

/** A collector for the washes of a period, to be handed to a replay as `watch`. What the replay refused is not in it. */
export function washesOf(period: Period): WashesKept {
  const washes: Washes = {
    loads: 0,
    parts: 0,
    partsByKind: new Map(),
    uncountedLoads: 0,
    estimatedLoads: 0,
    by: new Map(),
    resinInG: 0,
    fixedG: 0,
    squares: 0,
  };
  return {
    washes,
    watch: (step) => {
      if (step.wash && isWithin(period, step.entry.atMs)) add(step, washes);
    },
  };
}

function add({ entry, load, wash }: Pick<Step, 'entry' | 'load' | 'wash'>, washes: Washes): void {
  const event = entry.event as WashEvent;
  const { carryG } = wash!;
  const fixedG = load!.givenCarryG ?? Math.min(carryG, load!.trappedG);
  washes.loads += 1;
  washes.resinInG += carryG;
  washes.fixedG += fixedG;
  washes.squares += ((carryG - fixedG) * (washScatter(load!) / WASH_SCATTER)) ** 2;
  bump(washes.by, event.by ?? null, 1);
  if (!(load!.parts > 0)) washes.uncountedLoads += 1;
  if (event.estimated) washes.estimatedLoads += 1;
  for (const [kind, number] of Object.entries(event.parts ?? {})) {
    bump(washes.partsByKind, kind, number);
    washes.parts += number;
  }
}

function bump<Key>(counts: Map<Key, number>, key: Key, by: number): void {
  counts.set(key, (counts.get(key) ?? 0) + by);
}

/**
 * The resin that washes brought in, with its band [g].
 *
 * All loads share the carry-over factor as it is known now, and each scatters on its own:
 *
 *     sd of ln(sum) from the scatter = 0.25 sqrt(Σ c²)/Σ c
 *
 * c: carry-over of a load less what was given or trapped, g. Without any, the sum is known and has no band.
 *
 * Example: four equal loads scatter by 0.125, half as much as one.
 */
export function resinInBand(
  { resinInG, fixedG, squares }: Pick<Washes, 'resinInG' | 'fixedG' | 'squares'>,
  ensemble: Ensemble,
): { p05?: number; p50: number; p95?: number } {
  const unsureG = resinInG - fixedG;
  if (!(squares > 0)) return { p50: resinInG };
  const axis = ensemble.axes.find(({ name }) => name === 'carry');
  const middle = axis ? factorOn(ensemble.worlds[0]!.factors, axis) : 1;
  const values = ensemble.worlds.map(
    ({ factors }) => unsureG * (axis && middle > 0 ? factorOn(factors, axis) / middle : 1),
  );
  const scatterSd = (WASH_SCATTER * Math.sqrt(squares)) / unsureG;
  const { p05, p50, p95 } = bandOf(ensemble, withScatterAhead({ best: unsureG, values }, scatterSd));
  return { p05: p05 + fixedG, p50: p50 + fixedG, p95: p95 + fixedG };
}
