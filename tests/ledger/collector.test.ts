import { expect, it } from 'vitest';
import { Collector, MOST_PROBLEMS } from '../../src/ledger/collector.ts';
import type { Problem } from '../../src/ledger/problem.ts';

const at = (line?: number, column?: number): Problem => ({
  code: 'x',
  message: 'm',
  severity: 'error',
  ...(line === undefined ? {} : { line }),
  ...(column === undefined ? {} : { column }),
});

it('problems are told in the order of the file, those of no line first', () => {
  const out = new Collector();
  for (const one of [at(9, 1), at(2, 8), at(2, 3), at(), at(2), at(1, 50)]) out.add(one);
  expect(out.sorted()).toEqual([at(), at(1, 50), at(2), at(2, 3), at(2, 8), at(9, 1)]);
  expect(out.more).toBe(0);
});

it('twenty are told, and the rest counted', () => {
  const out = new Collector();
  for (let nth = 1; nth < MOST_PROBLEMS; nth += 1) out.add(at(nth));
  expect(out.full).toBe(false);
  for (let nth = 0; nth < 4; nth += 1) out.add(at(100 + nth));
  expect([out.full, out.more, out.problems.length]).toEqual([true, 3, 20]);
  expect(out.problems.at(-1)).toEqual(at(100));
});
