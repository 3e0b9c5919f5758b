/** Likely causes: ranked as the thresholds say (handbook of the bench: common practice, no source, but for the papers named). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RESULTS } from '../../src/ledger/event.ts';
import { type CauseKind, causesOf } from '../../src/records/causes.ts';
import type { WashSeen } from '../../src/records/inspections.ts';

/** A wash with nothing to be said against it, but that nobody logs the drying. */
const GOOD: WashSeen = {
  id: 'w',
  atMs: 0,
  lastBath: 'clean',
  isUsualLast: true,
  limits: { resin: [1.5, 2, 5], water: [5, 8, 12] },
  resinWtPct: { p05: 0.2, p50: 0.4, p95: 0.8 },
  waterWtPct: { p05: 0.5, p50: 0.6, p95: 0.9 },
  residueUgPerCm2: { p50: 100 },
  undissolvedShare: 0.01,
  soakMin: [5, 5],
  agitation: 'stirred',
  drainedMin: 30,
  drainedLogged: true,
  hollow: false,
  thin: [],
  dryMin: 30,
};
const LATER = { minutesSinceWash: 600 };

const ranked = (result: (typeof RESULTS)[number], wash: Partial<WashSeen>, since = LATER) =>
  causesOf(result, { ...GOOD, ...wash }, since).map(({ kind, weight }) => [kind, weight]);
const at = (p50: number, p95 = p50) => ({ p05: p50, p50, p95 });

describe('the causes of a look', () => {
  it('are none for parts that were ok, whatever the bath', () => {
    expect(ranked('ok', { resinWtPct: at(30), soakMin: [60, 60] })).toEqual([]);
  });

  it('are only what nobody logs for a good wash', () => {
    expect(ranked('sticky', {})).toEqual([['drying', 1]]);
    expect(ranked('residue', {})).toEqual([]);
  });

  it.each<[string, Partial<WashSeen>, CauseKind, number]>([
    ['below soon', { resinWtPct: at(1.4) }, 'bath-resin', 0],
    ['from soon on', { resinWtPct: at(1.5) }, 'bath-resin', 1],
    ['the band reaching change', { resinWtPct: at(1.2, 2.1) }, 'bath-resin', 1],
    ['from change on', { resinWtPct: at(2) }, 'bath-resin', 2],
    ['from never on', { resinWtPct: at(5) }, 'bath-resin', 3],
    ['an empty bath', { resinWtPct: null }, 'bath-resin', 0],
    ['water past soon', { waterWtPct: at(5.5) }, 'water', 1],
    ['water past change', { waterWtPct: at(9) }, 'water', 2],
    ['water past the azeotrope', { waterWtPct: at(12.2) }, 'water', 3],
    ['15 min of soak', { soakMin: [7, 8] }, 'long-soak', 0],
    ['16 min of soak', { soakMin: [8, 8] }, 'long-soak', 1],
    ['21 min of soak', { soakMin: [11, 10] }, 'long-soak', 2],
    ['61 min of soak', { soakMin: [1, 60] }, 'long-soak', 3],
    ['11 min with a mask', { soakMin: [6, 5], thin: ['mask'] }, 'long-soak', 1],
    ['looked at after 10 min', {}, 'drying', 2],
  ])('of a cloudy part: %s', (words, wash, kind, weight) => {
    const since = words.startsWith('looked') ? { minutesSinceWash: 10 } : LATER;
    const found = causesOf('cloudy', { ...GOOD, ...wash }, since).find((one) => one.kind === kind);
    expect(found?.weight ?? 0).toBe(weight);
  });

  it.each<[string, Partial<WashSeen>, CauseKind, number]>([
    // Two still baths of 5 min at 6 min leave e^(−10/6) = 19 %; two stirred ones e^(−10/1.9) = 0.5 % (MODEL 3, data/SOURCES.md).
    ['19 % undissolved', { undissolvedShare: Math.exp(-10 / 6) }, 'undissolved', 1],
    ['0.5 % undissolved', { undissolvedShare: Math.exp(-10 / 1.9) }, 'undissolved', 0],
    ['43 % undissolved', { undissolvedShare: Math.exp(-5 / 6) }, 'undissolved', 2],
    ['4 min of soak', { soakMin: [2, 2] }, 'short-soak', 2],
    ['5 min of soak', { soakMin: [5] }, 'short-soak', 0],
    ['drained 9 min', { drainedMin: 9 }, 'drained', 1],
    ['drained 2 min', { drainedMin: 2 }, 'drained', 2],
    ['drained 10 min', { drainedMin: 10 }, 'drained', 0],
    ['hollow parts', { hollow: true }, 'hollow', 1],
  ])('of a sticky part: %s', (_, wash, kind, weight) => {
    const found = causesOf('sticky', { ...GOOD, ...wash }, LATER).find((one) => one.kind === kind);
    expect(found?.weight ?? 0).toBe(weight);
  });

  it('come by weight, and among equals in the usual order for the result', () => {
    const bad = { resinWtPct: at(2.5), soakMin: [15, 15], waterWtPct: at(13), undissolvedShare: 0.1 };
    expect(ranked('cloudy', bad)).toEqual([
      ['water', 3],
      ['bath-resin', 2],
      ['long-soak', 2],
      ['drying', 1],
      ['undissolved', 1],
    ]);
    expect(ranked('soft', bad).map(([kind]) => kind)).toEqual([
      'long-soak',
      'bath-resin',
      'drying',
      'undissolved',
    ]);
    expect(ranked('cracked', bad)).toEqual([
      ['long-soak', 2],
      ['drying', 1],
    ]);
  });

  it('never weigh less for more resin, water or undissolved rest, and never repeat', () => {
    const amount = fc.double({ min: 0, max: 40, noNaN: true });
    const weights = (result: (typeof RESULTS)[number], share: number, wash: Partial<WashSeen>) =>
      Object.fromEntries(ranked(result, { ...wash, undissolvedShare: share }));
    fc.assert(
      fc.property(fc.constantFrom(...RESULTS), amount, amount, (result, one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        const of = (value: number) =>
          weights(result, value / 40, { resinWtPct: at(value), waterWtPct: at(value) });
        const [low, high] = [of(less), of(more)];
        for (const [kind, weight] of Object.entries(low))
          expect(high[kind]).toBeGreaterThanOrEqual(weight as number);
        const kinds = ranked(result, { resinWtPct: at(more) }).map(([kind]) => kind);
        expect(new Set(kinds).size).toBe(kinds.length);
      }),
    );
  });
});
