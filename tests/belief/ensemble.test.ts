import { describe, expect, it } from 'vitest';
import { priorMedians } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { resinMass } from '../../src/bath/state.ts';
import { Ensemble } from '../../src/belief/ensemble.ts';
import { factorOn } from '../../src/belief/factors.ts';
import { type Draft, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';
import { believing } from './bench.ts';

const HEADER = headerOf({ dirty: OPEN, clean: OPEN }, { factors: { carry: 1.3 } });
const HOUR = 3_600_000;
const wash = (hour: number, more: object = {}): Draft =>
  ({ what: 'wash', parts: { model: 6 }, hour, ...more }) as Draft;
const DAYS = Array.from({ length: 30 }, (_, nth) => wash(8 * nth));

/** All that can be seen of the worlds. */
const plain = ({ worlds, scatter, last }: Ensemble) => structuredClone({ worlds, scatter, last });

describe('the worlds before any reading', () => {
  const shop = openShop(HEADER);
  const ensemble = new Ensemble(shop, priorMedians(shop));

  it('are the middle and two for each factor, √3 prior standard deviations apart in its logarithm', () => {
    const spread = [0.45, 0.5, 0.35, 0.7, 0.7, 0.7, 0.7];
    expect(ensemble.worlds.length).toBe(15);
    expect(ensemble.axes.map((axis) => factorOn(ensemble.worlds[0]!.factors, axis))).toEqual([
      1.3, 1, 1, 1, 1, 1, 1,
    ]);
    ensemble.axes.forEach((axis, place) => {
      ensemble.worlds.forEach(({ factors }, world) => {
        const side = world === 1 + 2 * place ? 1 : world === 2 + 2 * place ? -1 : 0;
        const middle = place === 0 ? 1.3 : 1;
        expect(factorOn(factors, axis)).toBeCloseTo(
          middle * Math.exp(side * Math.sqrt(3) * spread[place]!),
          12,
        );
      });
    });
    ensemble.factorSds().forEach((sd, place) => {
      expect(sd).toBeCloseTo(spread[place]!, 12);
    });
  });

  it('interpolate factors by the curves they are: e^(sd u)', () => {
    const values = ensemble.worlds.map(({ factors }) => Math.log(factors.carry));
    expect([...ensemble.slopesOf(ensemble.bends(values))]).toEqual([
      expect.closeTo(0.45, 12),
      ...[0, 0, 0, 0, 0, 0].map((zero) => expect.closeTo(zero, 12)),
    ]);
  });
});

describe('a look at another moment', () => {
  it('lets the ensemble go on as if nobody had looked, with washes waiting', () => {
    const drafts = [...FILLED, ...DAYS];
    const { shop, entries } = believing(HEADER, []);
    expect(entries).toEqual([]);
    const all = believing(HEADER, drafts, 300).belief.ensemble;
    const looked = believing(HEADER, drafts, 300).belief.ensemble;
    for (const hour of [300, 500]) looked.at(START_MS + hour * HOUR);
    looked.standTo(START_MS + 900 * HOUR);
    all.standTo(START_MS + 900 * HOUR);
    expect(plain(looked)).toEqual(plain(all));
    // With washes that the worlds have not taken yet.
    const waiting = new Ensemble(shop, priorMedians(shop));
    const again = new Ensemble(shop, priorMedians(shop));
    const { load } = believing(HEADER, drafts).replayed.recent.at(-1)!;
    for (const one of [waiting, again]) {
      for (const bath of ['dirty', 'clean']) {
        const fill = { id: 'f', at: '', what: 'fill', bath, solvent: 'ipa99', ml: 4000 } as const;
        one.move(fill, {
          atMs: START_MS,
          before: one.worlds[0]!.baths,
          after: one.worlds[0]!.baths,
          solvent: undefined,
        });
      }
      one.wash(load, START_MS + HOUR);
      one.wash(load, START_MS + 2 * HOUR);
    }
    const seen = waiting.at(START_MS + 3 * HOUR);
    expect(resinMass(seen.worlds[0]!.baths[0]!)).toBeGreaterThan(0);
    expect(resinMass(waiting.worlds[0]!.baths[0]!)).toBe(0);
    for (const one of [waiting, again]) {
      one.wash(load, START_MS + 4 * HOUR);
      one.standTo(START_MS + 5 * HOUR);
    }
    expect(plain(waiting)).toEqual(plain(again));
  });

  it('shows what the ensemble itself shows then', () => {
    const drafts = [...FILLED, ...DAYS];
    const early = believing(HEADER, drafts).belief.ensemble.at(START_MS + 600 * HOUR);
    const late = believing(HEADER, drafts, 600).belief.ensemble;
    // One more cut of an interval of evaporation, which costs its 24 h steps a little.
    early.worlds.forEach(({ baths }, world) => {
      baths.forEach((bath, place) => {
        const other = late.worlds[world]!.baths[place]!;
        expect(bath.ipaG / other.ipaG).toBeCloseTo(1, 3);
        expect(resinMass(bath) / resinMass(other)).toBeCloseTo(1, 9);
      });
    });
  });
});

describe('the figures of the last wash', () => {
  const lastOf = (more: object) =>
    believing(PAIR, [...FILLED, ...DAYS, wash(300, more)]).belief.ensemble.last!;

  it('carry the scatter of the wash where it shows: carry-over in full, drag-out not at all', () => {
    const { carry, residue, drags } = lastOf({});
    expect(carry).toMatchObject({ scatterSd: 0.25, moved: 1 });
    expect(drags.map(({ scatterSd }) => scatterSd)).toEqual([0, 0]);
    // What never dissolved scatters with the wash, the film of the bath does not.
    expect(residue.scatterSd).toBeGreaterThan(0.1);
    expect(residue.scatterSd).toBeLessThan(0.25);
    expect(lastOf({ agitation: 'ultrasonic', minutes: [60, 60] }).residue.scatterSd).toBeLessThan(0.001);
  });

  it('do not scatter when the carry-over was weighed', () => {
    const { carry, residue } = lastOf({ carry_g: 5 });
    expect([carry.scatterSd, residue.scatterSd]).toEqual([0, 0]);
  });

  it('answer to the factors as the model says: carry-over to κ_c alone, drag-out to κ_d', () => {
    const { carry, drags } = lastOf({ minutes: [5, 5] });
    const spread = (values: number[], axis: number) =>
      Math.log(values[1 + 2 * axis]! / values[2 + 2 * axis]!);
    expect(spread(carry.values, 0)).toBeCloseTo(2 * Math.sqrt(3) * 0.45, 9);
    expect(spread(carry.values, 1)).toBeCloseTo(0, 9);
    // A thicker bath clings a little more, so a little of κ_c is in it, too.
    expect(spread(drags[0]!.values, 1)).toBeCloseTo(2 * Math.sqrt(3) * 0.5, 1);
  });
});

it('a wash through baths that hold nothing in the middle leaves no figures, no scatter and no resin', () => {
  const { shop, replayed } = believing(HEADER, [...FILLED, ...DAYS]);
  const empty = new Ensemble(shop, priorMedians(shop));
  const single = empty.washAlone(replayed.recent.at(-1)!.load, START_MS);
  expect(single.outcomes).toEqual(empty.worlds.map(() => undefined));
  expect(single.column).toEqual(new Float64Array(2));
  expect(empty.last).toBeUndefined();
  expect(empty.scatter).toEqual([new Float64Array(2), new Float64Array(2)]);
  for (const { baths } of empty.worlds) expect(baths.map(resinMass)).toEqual([0, 0]);
});

it('washes far apart find the baths as the air has left them by then', () => {
  // Two weeks open day and night. Two washes within the hour are taken as one, at their time and not at the last one before.
  const open = headerOf({ dirty: { ...OPEN, lid_open_h: 24 }, clean: { ...OPEN, lid_open_h: 24 } });
  const drafts = [...FILLED, wash(336), wash(337)];
  const { belief, replayed } = believing(open, drafts);
  belief.ensemble.standTo(START_MS + 337 * HOUR);
  const [world, best] = [belief.ensemble.worlds[0]!.baths[0]!, replayed.baths[0]!];
  expect(world.ipaG / best.ipaG).toBeCloseTo(1, 3);
  // Of both together, twice that of one; the second meets a little more resin than the first.
  const drags = belief.ensemble.last!.drags[0]!.values[0]! / replayed.recent.at(-1)!.outcome.dragMl[0]!;
  expect(Math.abs(drags - 2)).toBeLessThan(0.05);
});
