/**
 * The program against an exact rational recursion of rinsing in one, two and three tanks (rinse_oracle.csv).
 * Ids of sources in the tables are those of data/SOURCES.md.
 *
 * Rows named `dilute` hold an approximation, with an error of first order in film over volume, and are held to that.
 */
import { describe, expect, it } from 'vitest';
import { type Course, equalTanks, lineOf, runLine } from './rinse-line.ts';
import { countBy, gap, readNumbers, readTable } from './table.ts';

/** What doubles give over 200 loads; the table has 15 digits. */
const EXACT = 1e-12;

const rows = readTable('rinse_oracle.csv');
const LONGEST = Math.max(...rows.map((row) => Number(row.n_loads)));

/** One run of the program for each line of tanks, used by all its rows. */
const courses = new Map<string, Course>();

function courseOf(model: string, parameters: string): Course {
  const key = `${model} ${parameters}`;
  const known = courses.get(key);
  if (known) return known;
  const numbers = readNumbers(parameters);
  const line = model.startsWith('equal_volume')
    ? equalTanks(numbers.V![0]!, numbers.D![0]!, numbers.k![0]!)
    : lineOf(numbers, parameters.includes('policy=float') ? 'float' : 'level');
  const course = runLine(line, LONGEST);
  courses.set(key, course);
  return course;
}

function figureOf(row: Record<string, string>): number {
  const load = courseOf(row.model!, row.parameters_mL!).loads[Number(row.n_loads) - 1]!;
  const series = row.quantity!.startsWith('X') ? load.x : load.c;
  return series[Number(row.quantity!.slice(1)) - 1]!;
}

describe('exact recursion of rinse tanks', () => {
  const dilute = rows.filter((row) => row.parameters_mL!.includes('policy=dilute'));
  const exact = rows.filter((row) => !dilute.includes(row));

  it('covers every row of the table', () => {
    expect(countBy(rows, 'model')).toEqual({
      equal_volume_still_rinse_C0_1: 54,
      single_bath: 162,
      two_baths_carry_through: 12,
      two_baths_in_series: 432,
      two_baths_varying_loads: 12,
    });
    expect([exact.length, dilute.length]).toEqual([672 - 198, 198]);
  });

  it.each(Object.keys(countBy(exact, 'model')))('%s', (model) => {
    for (const row of exact.filter((one) => one.model === model)) {
      const label = `${row.parameters_mL} ${row.quantity} after ${row.n_loads}`;
      expect(gap(figureOf(row), Number(row.decimal)), label).toBeLessThan(EXACT);
    }
  });

  it('lies within the error of the dilute approximation where films replace the drag-in', () => {
    const compared = dilute.map((row) => ({ row, n: readNumbers(row.parameters_mL!) }));
    const topped = compared.filter(({ n }) => n.D1![0]! >= n.Dr![0]!);
    // The other 90 have more drag-in than film: the approximation leaves the bailing out and passes 1 in the end.
    expect([topped.length, compared.length - topped.length]).toEqual([108, 90]);
    for (const { row, n } of topped) {
      const share = n.D1![0]! / n.V1![0]! + (n.V2 ? n.D2![0]! / n.V2[0]! : 0);
      const label = `${row.parameters_mL} ${row.quantity} after ${row.n_loads}`;
      expect(gap(figureOf(row), Number(row.decimal)), label).toBeLessThan(share);
    }
  });
});
