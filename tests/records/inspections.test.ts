/** Which looks count for or against the last bath, and how many are missing. */
import { describe, expect, it } from 'vitest';
import type { InspectResult } from '../../src/ledger/event.ts';
import {
  type Look,
  missingTrials,
  type Trial,
  trialsOf,
  type WashSeen,
} from '../../src/records/inspections.ts';

function look(result: InspectResult, washId: string | null, wash: Partial<WashSeen> = {}): Look {
  const seen = { id: washId, isUsualLast: true, resinWtPct: { p50: 2 }, ...wash } as WashSeen;
  return {
    event: { id: 'i', at: '', what: 'inspect', result },
    atMs: 0,
    wash: washId === null ? null : seen,
  };
}
const counted = (...looks: Look[]) => trialsOf(looks).map(({ washId, failed }) => [washId, failed]);

describe('the washes that looks tell of', () => {
  it('count once each: failed when any look of it was', () => {
    expect(
      counted(look('ok', 'a'), look('sticky', 'a'), look('ok', 'b'), look('cloudy', 'c'), look('ok', 'c')),
    ).toEqual([
      ['a', true],
      ['b', false],
      ['c', true],
    ]);
  });

  it('leave out soft and cracked, which tell of soaks, looks of no wash, and washes that ended elsewhere', () => {
    expect(
      counted(
        look('soft', 'a'),
        look('cracked', 'b'),
        look('sticky', null),
        look('sticky', 'c', { isUsualLast: false }),
        look('sticky', 'd', { resinWtPct: null }),
        look('sticky', 'e', { resinWtPct: { p50: 0 } }),
        look('residue', 'f'),
      ),
    ).toEqual([['f', true]]);
    expect(counted(look('soft', 'a'), look('ok', 'a'))).toEqual([['a', false]]);
  });

  it.each([
    [0, 0, { trials: 8, failed: 2, passed: 2 }],
    [2, 5, { trials: 1, failed: 0, passed: 0 }],
    [0, 20, { trials: 0, failed: 2, passed: 0 }],
    [9, 1, { trials: 0, failed: 0, passed: 1 }],
    [2, 6, null],
  ])('with %d failed and %d passed lack %j', (failed, passed, missing) => {
    const trials = Array.from(
      { length: failed + passed },
      (_, place): Trial => ({
        washId: `${place}`,
        resinWtPct: 1,
        failed: place < failed,
      }),
    );
    expect(missingTrials(trials)).toEqual(missing);
  });
});
