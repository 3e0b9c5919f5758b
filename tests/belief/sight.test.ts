import { describe, expect, it } from 'vitest';
import { liquidOf } from '../../src/bath/liquid.ts';
import { replay } from '../../src/bath/replay.ts';
import { REACH } from '../../src/belief/bend.ts';
import { SCATTER_MEAN } from '../../src/belief/factors.ts';
import { type Look, lookOf } from '../../src/belief/readings.ts';
import { rootOf } from '../../src/belief/scatter.ts';
import { dot, logOfLoad, type Scene, sceneIn, sceneOfLoad } from '../../src/belief/sight.ts';
import type { ReadingEvent } from '../../src/ledger/event.ts';
import { type Draft, FILLED, headerOf, OPEN } from '../bath/bench.ts';
import { believing } from './bench.ts';

const HEADER = headerOf({ dirty: OPEN, clean: OPEN });
const washes: Draft[] = Array.from(
  { length: 15 },
  (_, nth): Draft => ({ what: 'wash', parts: { model: 6 }, hour: 24 * nth }),
);
const { belief, shop, entries, clockMs } = believing(HEADER, [...FILLED, ...washes], 400);
const { ensemble } = belief;
const UNKNOWNS = ensemble.axes.length;

const look = (keys: object): Look =>
  lookOf(
    { id: 'r', at: '', what: 'reading', bath: 'dirty', ...keys } as ReadingEvent,
    22,
    liquidOf(ensemble.worlds[0]!.baths[0]!, shop.resins),
  );
const LOOKS: [string, object][] = [
  ['density', { density_g_ml: 0.8, temp_c: 25 }],
  ['index', { brix: 30, temp_c: 20 }],
  ['dry residue', { residue: { sample_ml: 10, dry_g: 0.3 } }],
  ['wt%', { resin_wt_pct: 3 }],
  ['level', { level_ml: 3900 }],
  ['weight', { weight_g: 3100 }],
];
const nothing = shop.tubs.map(() => new Float64Array(shop.tubs.length));
const at = (axis: number, u: number) =>
  Float64Array.from({ length: UNKNOWNS }, (_, one) => (one === axis ? u : 0));

/** Slopes by central differences. */
function differences(scene: Scene, u: Float64Array): number[] {
  return Array.from(u, (_, axis) => {
    const [high, low] = [u.slice(), u.slice()];
    high[axis]! += 1e-4;
    low[axis]! -= 1e-4;
    return (scene.see(high) - scene.see(low)) / 2e-4;
  });
}

describe('an instrument in a bath', () => {
  it.each(LOOKS)('%s: shows in each world what that world holds', (_, keys) => {
    const made = look(keys);
    for (const bath of [0, 1]) {
      const scene = sceneIn(ensemble, made, bath, nothing);
      const inWorld = (world: number) =>
        made.see(liquidOf(ensemble.worlds[world]!.baths[bath]!, shop.resins));
      expect(scene.see(at(0, 0)) / inWorld(0)).toBeCloseTo(1, 12);
      for (let axis = 0; axis < UNKNOWNS; axis += 1) {
        expect(scene.see(at(axis, REACH)) / inWorld(1 + 2 * axis)).toBeCloseTo(1, 9);
        expect(scene.see(at(axis, -REACH)) / inWorld(2 + 2 * axis)).toBeCloseTo(1, 9);
      }
    }
  });

  it.each(LOOKS)('%s: between the worlds shows what a plain replay with those factors does', (_, keys) => {
    // One standard deviation of each factor, and two at once: the replay with e^(sd) for it. Within a twentieth of the spread.
    const made = look(keys);
    const scene = sceneIn(ensemble, made, 0, nothing);
    const replayed = (u: readonly [number, number, number]) => {
      const { baths } = replay(shop, entries, clockMs, {
        factors: {
          carry: SCATTER_MEAN * Math.exp(0.45 * u[0]),
          drag: Math.exp(0.5 * u[1]),
          dissolution: 1,
          air: [
            { evaporation: Math.exp(0.7 * u[2]), moisture: 1 },
            { evaporation: 1, moisture: 1 },
          ],
        },
      });
      return made.see(liquidOf(baths[0]!, shop.resins));
    };
    const middle = replayed([0, 0, 0]);
    const spread = Math.hypot(
      replayed([1, 0, 0]) - middle,
      replayed([0, 1, 0]) - middle,
      replayed([0, 0, 1]) - middle,
    );
    for (const u of [
      [1, 0, 0],
      [-1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0, 0, -1],
      [1, -1, 0],
      [1, 1, 1],
    ] as [number, number, number][]) {
      const seen = scene.see(Float64Array.of(u[0], u[1], 0, u[2], 0, 0, 0));
      expect(Math.abs(seen - replayed(u)) / spread, u.join()).toBeLessThan(0.05);
    }
  });

  it.each(LOOKS)(
    '%s: slopes are the differences of what is seen, for factors and for the scatter',
    (_, keys) => {
      const columns = rootOf(ensemble.scatter);
      for (const bath of [0, 1]) {
        const scene = sceneIn(ensemble, look(keys), bath, columns);
        for (const u of [at(0, 0), Float64Array.of(0.7, -0.5, 0.3, 1, -1, 0.2, 0)]) {
          const slopes = scene.slopes(u);
          const scale = Math.max(...slopes.map(Math.abs));
          differences(scene, u).forEach((wanted, axis) => {
            expect(Math.abs(slopes[axis]! - wanted)).toBeLessThan(1e-4 * scale);
          });
          // Grams more of resin for one standard deviation, by the formula of the instrument in the middle.
          const grams = ensemble.worlds[0]!.baths[bath]!;
          const held = liquidOf(grams, shop.resins);
          if (u.every((one) => one === 0)) {
            scene.scatterSlopes(u).forEach((slope, z) => {
              const more = { ...held, resinG: held.resinG + 1e-3 * columns[bath]![z]! };
              const less = { ...held, resinG: held.resinG - 1e-3 * columns[bath]![z]! };
              const { see } = look(keys);
              // The mean and the median of the scatter differ by ρ²/2.
              expect(Math.abs(slope - (see(more) - see(less)) / 2e-3)).toBeLessThan(
                0.01 * Math.abs(slope) + 1e-9,
              );
            });
          }
        }
      }
    },
  );
});

describe('a balance under a load', () => {
  const wash: Draft = { what: 'wash', parts: { model: 6 }, minutes: [2, 2], hour: 360 };
  const known = believing(HEADER, [...FILLED, ...washes, wash]);
  const outcome = known.replayed.recent.at(-1)!.outcome;
  const before = believing(HEADER, [...FILLED, ...washes]);
  const { load } = known.replayed.recent.at(-1)!;
  const single = before.belief.ensemble.washAlone(load, known.clockMs);
  const scene = sceneOfLoad(before.belief.ensemble, single, 2);

  it('expects the logarithm of what the wash brought, less what stayed on the parts, at the median of its scatter', () => {
    const lost = outcome.carryG - outcome.residueG;
    // 30 to 45 % of it stays undissolved after so short a soak; the residue in the film is of the worlds' mean.
    expect(outcome.residueG / outcome.carryG).toBeGreaterThan(0.2);
    expect(scene.see(at(0, 0))).toBeCloseTo(Math.log(lost), 2);
  });

  it('has the slopes of what it shows', () => {
    for (const u of [at(0, 0), Float64Array.of(0.7, -0.5, 0.3, 1, -1, 0.2, 0)])
      differences(scene, u).forEach((wanted, axis) => {
        expect(scene.slopes(u)[axis]!).toBeCloseTo(wanted, 5);
      });
    // All of it in proportion to κ_c: 0.45 but for the film, which brings the baths' own resin.
    expect(scene.slopes(at(0, 0))[0]!).toBeCloseTo(0.45, 1);
  });

  it('answers to the scatter of this wash alone, by a quarter', () => {
    const slopes = scene.scatterSlopes(at(0, 0));
    expect([...slopes.slice(0, 2)]).toEqual([0, 0]);
    expect(slopes[2]!).toBeCloseTo(0.25, 1);
    expect(single.scatterSd).toBe(0.25);
  });
});

it('a load that lost nothing still has a logarithm', () => {
  expect(logOfLoad(0)).toBe(Math.log(1e-3));
  expect(logOfLoad(3)).toBe(Math.log(3));
  expect(dot([1, 2, 3], [4, 5, 6])).toBe(32);
});
