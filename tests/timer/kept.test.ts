import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type KeptWash, keptText, readKeptWash } from '../../src/timer/kept.ts';
import { anyKeys, anyPlan, pressed } from './bench.ts';

const anyKept = fc
  .record({ plan: anyPlan, keys: anyKeys, note: fc.string(), aheadMs: fc.integer(), pid: fc.nat() })
  .map(
    ({ plan, keys, note, aheadMs, pid }): KeptWash => ({
      ledger: '/bench/bathbook.yaml',
      body: { what: 'wash', parts: { model: 2 } },
      note,
      plan,
      run: pressed(plan, keys),
      aheadMs,
      keptMs: 5,
      pid,
    }),
  );

describe('a wash that is kept', () => {
  it('is read as it was', () => {
    fc.assert(
      fc.property(anyKept, (kept) => {
        expect(readKeptWash(keptText(kept))).toEqual(kept);
      }),
    );
  });

  it('cut anywhere is none', () => {
    fc.assert(
      fc.property(anyKept, fc.double({ min: 0, max: 0.999, noNaN: true }), (kept, share) => {
        const text = keptText(kept).trimEnd();
        expect(readKeptWash(text.slice(0, Math.floor(share * text.length)))).toBeUndefined();
      }),
    );
  });

  it('with a value of another kind in any place of need is none', () => {
    const [kept] = fc.sample(anyKept, { numRuns: 1, seed: 7 });
    for (const key of ['ledger', 'body', 'plan', 'run', 'aheadMs', 'keptMs', 'pid', 'note', 'format']) {
      for (const odd of [null, [], true, { soaks: [{}], dryMs: 1 }, { startedMs: 1, marks: [{}] }]) {
        if (key === 'body' && typeof odd === 'object' && odd !== null && !Array.isArray(odd)) continue;
        const text = JSON.stringify({ ...JSON.parse(keptText(kept!)), [key]: odd });
        expect(readKeptWash(text), `${key}: ${JSON.stringify(odd)}`).toBeUndefined();
      }
    }
    expect(readKeptWash('null')).toBeUndefined();
  });
});
