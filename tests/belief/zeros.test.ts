import { describe, expect, it } from 'vitest';
import type { Move } from '../../src/bath/moves.ts';
import { openShop } from '../../src/bath/shop.ts';
import type { Look } from '../../src/belief/readings.ts';
import type { Learned } from '../../src/belief/update.ts';
import { Zeros } from '../../src/belief/zeros.ts';
import { type Draft, FILLED, PAIR } from '../bath/bench.ts';
import { believing } from './bench.ts';

const look = (value: number, sees: Look['sees'] = 'density', instrumentSd = 0.001): Look => ({
  sees,
  value,
  instrumentSd,
  modelSd: 0.0007,
  see: () => 0,
  shown: (compared) => compared,
});
const learned = (misfit: number, p50 = 0.785): Learned =>
  ({ misfit, expected: { p05: p50, p50, p95: p50 } }) as Learned;
const moved = (zeros: Zeros, move: object) => zeros.moved({ id: 'm', at: '', ...move } as Move);

describe('the zero of an instrument', () => {
  it('is what it showed in fresh solvent beyond what it should have, and has the error of a second reading', () => {
    const zeros = new Zeros(openShop(PAIR));
    expect(zeros.apply(look(0.79), 0)).toEqual({ zero: 0, sd: Math.hypot(0.001, 0.0007) });
    expect(zeros.note(look(0.792, 'density', 0.002), 0, learned(5))).toBe(true);
    const { zero, sd } = zeros.apply(look(0.8), 0);
    expect(zero).toBeCloseTo(0.007, 12);
    // A difference has the error of both instruments: √(0.001² + 0.0007² + 0.002²).
    expect(sd).toBeCloseTo(Math.hypot(0.001, 0.0007, 0.002), 12);
  });

  it('belongs to one kind of instrument in one tub', () => {
    const zeros = new Zeros(openShop(PAIR));
    zeros.note(look(0.792), 0, learned(5));
    expect(zeros.apply(look(1.38, 'index'), 0).zero).toBe(0);
    expect(zeros.apply(look(0.79), 1).zero).toBe(0);
  });

  it('is not taken from a reading that chance explains, of a balance or a level, or twice', () => {
    const zeros = new Zeros(openShop(PAIR));
    expect(zeros.note(look(0.787), 0, learned(3))).toBe(false);
    for (const sees of ['resin', 'volume', 'mass'] as const)
      expect(zeros.note(look(9, sees), 0, learned(9))).toBe(false);
    expect(zeros.apply(look(0.79), 0).zero).toBe(0);
    expect(zeros.note(look(0.792), 0, learned(5))).toBe(true);
    expect(zeros.note(look(0.797), 0, learned(9))).toBe(false);
    expect(zeros.apply(look(0.79), 0).zero).toBeCloseTo(0.007, 12);
  });

  it.each<[string, object, number, number]>([
    ['a fill ends that of its tub', { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 1 }, 0, 0.008],
    ['a refill ends that of its tub', { what: 'refill', bath: 'clean' }, 0.007, 0],
    ['a rotation takes that of clean along', { what: 'rotate' }, 0.008, 0],
    ['a top-up leaves it', { what: 'top-up', bath: 'dirty', ml: 9 }, 0.007, 0.008],
    ['a drain leaves it', { what: 'drain', bath: 'dirty', ml: 9 }, 0.007, 0.008],
  ])('%s', (_, move, dirty, clean) => {
    const zeros = new Zeros(openShop(PAIR));
    zeros.note(look(0.792), 0, learned(5));
    zeros.note(look(0.793), 1, learned(5));
    moved(zeros, move);
    expect(zeros.apply(look(0.8), 0).zero).toBeCloseTo(dirty, 12);
    expect(zeros.apply(look(0.8), 1).zero).toBeCloseTo(clean, 12);
  });
});

describe('a hydrometer that reads 0.0100 too much', () => {
  const OFF = 0.01;
  const washes: Draft[] = Array.from({ length: 20 }, (_, nth) => ({
    what: 'wash',
    parts: { model: 6 },
    hour: 2 + nth,
  }));
  const read = (value: number, hour: number, bath = 'dirty'): Draft =>
    ({ what: 'reading', bath, density_g_ml: value, temp_c: 20, hour }) as Draft;
  /** 99.5 wt% at 20 °C: DAOUDI2012's dry 0.78520 and 0.5 % of water, 0.7865 g/mL. */
  const FRESH = 0.7865;
  const plain = believing(PAIR, [...FILLED, ...washes]);
  const compared = (drafts: Draft[]) => believing(PAIR, drafts).belief.compared;

  it('in fresh solvent is taken for its zero, flagged, and teaches nothing', () => {
    const { belief, factors } = believing(PAIR, [...FILLED, read(FRESH + OFF, 1)]);
    expect(belief.compared[0]).toMatchObject({ isZero: true, flagged: true, taught: [], zero: 0 });
    expect(belief.compared[0]!.misfit).toBeCloseTo(OFF / Math.hypot(0.001, 0.0007), 0);
    expect(factors).toEqual(plain.factors);
  });

  it('is later compared by difference: it says the same as a true one, less surely', () => {
    const carry = (drafts: Draft[]) => believing(PAIR, [...FILLED, ...drafts]).factors.carry;
    const true_ = [...washes, read(0.795, 30)];
    const off = [read(FRESH + OFF, 1), ...washes, read(0.795 + OFF, 30)];
    const [sure, unsure] = [Math.log(carry(true_)), Math.log(carry(off))];
    expect(sure).toBeGreaterThan(0.1);
    expect(unsure).toBeLessThan(sure);
    expect(unsure).toBeGreaterThan(0.6 * sure);
    const last = compared([...FILLED, ...off]).at(-1)!;
    expect(last.zero).toBeCloseTo(OFF, 3);
    expect(last.sd).toBeCloseTo(Math.hypot(0.001, 0.0007, 0.001), 5);
    // As it is told, the zero is in what was expected, not in what was read.
    expect(last.value).toBeCloseTo(0.795 + OFF, 12);
    expect(last.expected.p50).toBeGreaterThan(0.79 + OFF - 0.005);
    expect(last.flagged).toBe(false);
  });

  it('is the same in the tub that took the liquid, and forgotten with the liquid', () => {
    const rotated = [
      ...FILLED,
      read(FRESH + OFF, 1, 'clean'),
      { what: 'rotate', solvent: 'ipa99', hour: 2 },
    ] as Draft[];
    const inDirty = compared([...rotated, read(FRESH + OFF, 3)]).at(-1)!;
    expect(inDirty).toMatchObject({ flagged: false });
    expect(inDirty.zero).toBeCloseTo(OFF, 3);
    const inClean = compared([...rotated, read(FRESH + OFF, 3, 'clean')]).at(-1)!;
    expect(inClean).toMatchObject({ flagged: true, zero: 0, isZero: true });
    const refilled = compared([
      ...FILLED,
      read(FRESH + OFF, 1),
      { what: 'refill', bath: 'dirty', solvent: 'ipa99', hour: 2 },
      read(FRESH + OFF, 3),
    ]).at(-1)!;
    expect(refilled).toMatchObject({ flagged: true, zero: 0, isZero: true });
  });

  it('first read when there is resin is no zero', () => {
    const late = compared([...FILLED, ...washes, read(0.86, 30)]).at(-1)!;
    expect(late).toMatchObject({ flagged: true, isZero: false });
  });
});
