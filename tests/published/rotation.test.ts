/**
 * Rotation of clean into dirty against exact rational recursion: rotation_steady.csv, rotation_transient.csv. The steady
 * state is reached by simulating rotations from clean baths until what is left of the start is below 1e-17.
 */
import { describe, expect, it } from 'vitest';
import { type Course, type Line, runLine } from './rinse-line.ts';
import { gap, type Row, readTable } from './table.ts';

/** What doubles give after thousands of loads; the tables have 15 digits. */
const EXACT = 2e-12;

const steady = readTable('rotation_steady.csv');
const transient = readTable('rotation_transient.csv');

function lineOfRow(row: Row, rotateEvery: number): Line {
  const of = (column: string) => Number(row[column]);
  return {
    volumesMl: [of('V1_mL'), of('V2_mL')],
    carryMl: [of('Dr_mL')],
    dragMl: [[of('D1_mL')], [of('D2_mL')]],
    rule: 'level',
    rotateEvery,
  };
}

/** Loads of one rotation period, from 0. */
function period(course: Course, loads: number, number: number) {
  return course.loads.slice(number * loads, (number + 1) * loads);
}

describe('steady state of rotation', () => {
  it('has every row of the table', () => {
    expect(steady.length).toBe(40);
  });

  it.each(steady)('$V1_mL + $V2_mL mL, $Dr_mL in, $D1_mL out, every $n_loads loads', (row) => {
    const loads = Number(row.n_loads);
    const rotations = Math.ceil(Math.log(1e-17) / Math.log(Number(row.convergence_factor)));
    const course = runLine(lineOfRow(row, loads), rotations * loads);
    const all = period(course, loads, rotations - 1);
    const last = all.at(-1)!;
    const first = period(course, loads, 0).at(-1)!;
    const startMl = course.startsMl.at(-1)!;
    const [firstMl, secondMl] = course.startsMl as [number, number];
    const found = {
      M1_start_mL: startMl,
      C1_start: startMl / Number(row.V1_mL),
      C1_end: last.c[0]!,
      C2_end: last.c[1]!,
      X1_last: last.x[0]!,
      X2_last: last.x[1]!,
      X2_mean: all.reduce((sum, load) => sum + load.x[1]!, 0) / loads,
      X1_last_if_both_dumped: first.x[0]!,
      X2_last_if_both_dumped: first.x[1]!,
    };
    for (const [column, value] of Object.entries(found)) {
      expect(gap(value, Number(row[column])), column).toBeLessThan(EXACT);
    }
    // The distance to the steady state shrinks by the same factor at each rotation; a difference of near equals, so 1e-9.
    expect(gap((secondMl - firstMl) / firstMl, Number(row.convergence_factor))).toBeLessThan(1e-9);
  });

  it('balances over one period in every row: n Dr = B2 ΣX2 + (B1 − D1) ΣX1 + M1_end + (1 − f) M2_end', () => {
    // rinse-111; B1, B2: the larger flow of each bath; f: the share of the clean bath that fits into the dirty one.
    for (const row of steady) {
      const of = (column: string) => Number(row[column]);
      const loads = of('n_loads');
      const rotations = Math.ceil(Math.log(1e-17) / Math.log(of('convergence_factor')));
      const course = runLine(lineOfRow(row, loads), rotations * loads);
      const all = period(course, loads, rotations - 1);
      const sum = (tank: number) => all.reduce((total, load) => total + load.x[tank]!, 0);
      const last = all.at(-1)!;
      const moved = Math.min(1, of('V1_mL') / of('V2_mL'));
      const bailed = Math.max(of('Dr_mL'), of('D1_mL')) - of('D1_mL');
      const out =
        Math.max(of('D1_mL'), of('D2_mL')) * sum(1) +
        bailed * sum(0) +
        last.c[0]! * of('V1_mL') +
        (1 - moved) * last.c[1]! * of('V2_mL');
      expect(gap(out, loads * of('Dr_mL'))).toBeLessThan(1e-12);
    }
  });
});

describe('rotation from clean baths', () => {
  it('has every row of the table', () => {
    expect(transient.length).toBe(80);
  });

  it.each(transient.filter((row) => row.rotation_no === '1'))(
    '$V1_mL + $V2_mL mL, $Dr_mL in, $D1_mL out, every $n_loads_per_rotation loads, eight rotations',
    (start) => {
      const loads = Number(start.n_loads_per_rotation);
      const same = (row: Row) =>
        ['V1_mL', 'V2_mL', 'Dr_mL', 'D1_mL', 'D2_mL', 'n_loads_per_rotation'].every(
          (column) => row[column] === start[column],
        );
      const rows = transient.filter(same);
      expect(rows.length).toBe(8);
      const course = runLine(lineOfRow(start, loads), loads * rows.length);
      for (const row of rows) {
        const last = period(course, loads, Number(row.rotation_no) - 1).at(-1)!;
        const found = { C1_end: last.c[0]!, C2_end: last.c[1]!, X1_last: last.x[0]!, X2_last: last.x[1]! };
        for (const [column, value] of Object.entries(found)) {
          expect(gap(value, Number(row[column])), `rotation ${row.rotation_no} ${column}`).toBeLessThan(
            EXACT,
          );
        }
      }
    },
  );
});
