/**
 * The bands of drawn shops against their truth and against the exact posterior, a smaller version of `npm run bench:honesty`.
 * The simulator and the importance sampling share nothing with the code under test.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Cell, honesty, plusMinus } from '../bench/honesty/honesty.mjs';
import { judge } from '../bench/honesty/under-test.ts';

const SHOPS = 240;
let cells: Cell[];
let lost: number;
let problems: string[];

beforeAll(() => {
  ({ cells, lost, problems } = honesty({ judge, seed: 7, draws: 12_000, shops: 12, judged: SHOPS }));
}, 120_000);

describe('bands of shops drawn from the priors', () => {
  it('are there for both baths and every count of readings', () => {
    expect(problems).toEqual([]);
    expect(lost).toBe(0);
    expect(cells.map(({ bath, readings }) => `${bath} ${readings}`).sort()).toEqual(
      ['clean', 'dirty'].flatMap((bath) => [0, 1, 10, 3].map((count) => `${bath} ${count}`)),
    );
  });

  it('hold the truth in nine of ten shops, as chance allows', () => {
    // The goal is 86–94 %, and what chance adds over so many shops, 3.8 and 6.3 %.
    const ninety = plusMinus(0.9, SHOPS);
    const fifty = plusMinus(0.5, SHOPS);
    for (const { bath, readings, judged } of cells) {
      expect(judged.shops).toBe(SHOPS);
      expect(judged.cover90, `${bath} ${readings}`).toBeGreaterThan(0.86 - ninety);
      expect(judged.cover90, `${bath} ${readings}`).toBeLessThan(0.94 + ninety);
      expect(judged.cover50, `${bath} ${readings}`).toBeGreaterThan(0.4 - fifty);
      expect(judged.cover50, `${bath} ${readings}`).toBeLessThan(0.6 + fifty);
      expect(judged.water90, `${bath} ${readings}, water`).toBeGreaterThan(0.86 - ninety);
    }
  });

  it('say nearly as much as the exact posterior by importance sampling', () => {
    for (const { bath, readings, difference, differenceSe } of cells)
      expect(difference, `${bath} ${readings}`).toBeGreaterThan(-0.05 - 2.6 * differenceSe);
    const mean = cells.reduce((sum, cell) => sum + cell.difference, 0) / cells.length;
    expect(mean).toBeGreaterThan(-0.08);
  });

  it('narrow as readings come', () => {
    for (const bath of ['dirty', 'clean']) {
      const widths = cells
        .filter((cell) => cell.bath === bath)
        .sort((one, other) => one.readings - other.readings)
        .map(({ judged }) => judged.width);
      expect(widths).toEqual([...widths].sort((one, other) => other - one));
      expect(widths.at(-1)!).toBeLessThan(0.6 * widths[0]!);
    }
  });
});
