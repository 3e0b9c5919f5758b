/**
 * The measurements that a shop can make next, and what each would see.
 */

import { liquidOf } from '../bath/liquid.ts';
import type { Load } from '../bath/load.ts';
import type { Shop } from '../bath/shop.ts';
import { copyBath, isBeyondModel, isEmpty } from '../bath/state.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import { WASH_SCATTER } from '../belief/factors.ts';
import { lookOf, WEIGHED_SHARE } from '../belief/readings.ts';
import { rootOf } from '../belief/scatter.ts';
import { sceneIn } from '../belief/sight.ts';
import { roomFor, washWorld } from '../belief/world.ts';
import type { ReadingEvent } from '../ledger/event.ts';

export type MeasurementKind = 'load' | 'residue' | 'index' | 'density' | 'weekend' | 'weight' | 'level';

/** Things a shop may own. */
export const TOOLS = ['balance', 'refractometer', 'hydrometer', 'measure'] as const;
export type Tool = (typeof TOOLS)[number];

/** What each measurement is made with. */
export const TOOL_OF: Record<MeasurementKind, Tool> = {
  load: 'balance',
  residue: 'balance',
  weekend: 'balance',
  weight: 'balance',
  index: 'refractometer',
  density: 'hydrometer',
  level: 'measure',
};

export interface Measurement {
  kind: MeasurementKind;
  /** Name of the bath; absent for a load. */
  bath?: string;
  /** For each number read: how it answers to each unknown factor, and its variance from everything else. */
  looks: { slopes: Float64Array; variance: number }[];
}

/** A weekend is from Friday evening to Monday morning. */
const WEEKEND_MS = 60 * 3_600_000;

/** Readings that would be made of a bath, with any value: only their instrument counts. */
const READINGS: readonly [MeasurementKind, Partial<ReadingEvent>][] = [
  ['residue', { resin_wt_pct: 1 }],
  ['index', { refractive_index: 1.38 }],
  ['density', { density_g_ml: 0.8 }],
  ['weight', { weight_g: 1000 }],
];

/**
 * All measurements of the baths that hold liquid, and of the next load like the recent ones.
 *
 * @param load - the mean of the recent loads; null when there was none
 */
export function measurementsOf(
  shop: Shop,
  ensemble: Ensemble,
  load: Load | null,
  clockMs: number,
): Measurement[] {
  const after = ensemble.at(clockMs + WEEKEND_MS);
  const ofBaths = shop.tubs.flatMap(({ name, markMl }, place) => {
    const baths = ensemble.worlds.map((world) => world.baths[place]!);
    if (baths.some((bath) => isEmpty(bath) || isBeyondModel(bath))) return [];
    const one = (kind: MeasurementKind, event: Partial<ReadingEvent>): Measurement => ({
      kind,
      bath: name,
      looks: [lookAt(shop, ensemble, place, event)],
    });
    const weight = { weight_g: 1000 };
    return [
      ...READINGS.map(([kind, event]) => one(kind, event)),
      one('level', { level_ml: markMl }),
      {
        kind: 'weekend' as const,
        bath: name,
        looks: [lookAt(shop, ensemble, place, weight), lookAt(shop, after, place, weight)],
      },
    ];
  });
  return load === null ? ofBaths : [loadOnScale(shop, ensemble, load), ...ofBaths];
}

function lookAt(
  shop: Shop,
  ensemble: Ensemble,
  place: number,
  event: Partial<ReadingEvent>,
): Measurement['looks'][number] {
  const liquid = liquidOf(ensemble.worlds[0]!.baths[place]!, shop.resins);
  const look = lookOf(event as ReadingEvent, shop.roomC, liquid);
  const scene = sceneIn(ensemble, look, place, rootOf(ensemble.scatter));
  const middle = new Float64Array(ensemble.axes.length);
  const scatter = scene.scatterSlopes(middle).reduce((sum, one) => sum + one * one, 0);
  return {
    slopes: scene.slopes(middle),
    variance: look.instrumentSd ** 2 + look.modelSd ** 2 + scatter,
  };
}

/** The logarithm of what comes off the next load; its scatter and the balance are what else it answers to. */
function loadOnScale(shop: Shop, ensemble: Ensemble, load: Load): Measurement {
  const kept = roomFor(shop);
  const logs = ensemble.worlds.map((world) => {
    const apart = { baths: world.baths.map(copyBath), factors: world.factors };
    const outcome = washWorld(apart, shop, load, kept);
    return outcome ? Math.log(Math.max(1e-6, outcome.carryG - outcome.residueG)) : 0;
  });
  const bends = ensemble.bends(logs);
  const scatter = load.filmG > 0 ? WASH_SCATTER ** 2 : 0;
  return {
    kind: 'load',
    looks: [{ slopes: ensemble.slopesOf(bends), variance: scatter + WEIGHED_SHARE ** 2 }],
  };
}
