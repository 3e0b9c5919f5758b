/**
 * Films of resin, residue on parts and the properties of rinse theory: the rows of rinse.csv that rinse.test.ts leaves to this file.
 */
import { describe, expect, it } from 'vitest';
import { filmMgPerCm2 } from '../../src/bath/load.ts';
import { type Line, lineOf, runLine } from './rinse-line.ts';
import { pick, within } from './rinse-rows.ts';
import { gap, type Row, readNumbers, readTable } from './table.ts';

describe('films of resin on arrival', () => {
  /** 22 mg/cm² at 400 mPa·s and one minute is 2.2 times the mean Jeffreys film on a wall of 30 mm. */
  const GEOMETRY = 2.2;
  const WALL_MM = 30;
  const fromJeffreys = (mgPerCm2: number, wallMm: number) =>
    Math.min(40, Math.max(2, GEOMETRY * mgPerCm2 * Math.sqrt(WALL_MM / wallMm)));

  it.each(pick(120, 122, 'film'))('$id $inputs', (row) => {
    const n = readNumbers(row.inputs!.replaceAll(/ (Pa s|mm|s)(?=;|$)/g, ''));
    const density = n.rho![0]! / 1000;
    const mgPerCm2 = Number(row.expected) * density * 0.1;
    const film = filmMgPerCm2(1000 * n.mu![0]!, n.t![0]! / 60);
    expect(gap(film, fromJeffreys(mgPerCm2, n.H![0]!))).toBeLessThan(0.003);
  });

  it('follow every row of the Jeffreys table, clamped at 2 and 40 mg/cm²', () => {
    const films = readTable('film_jeffreys_resin.csv');
    expect(films.length).toBe(105);
    for (const row of films) {
      const of = (column: string) => Number(row[column]);
      const film = filmMgPerCm2(1000 * of('mu_Pa_s'), of('drain_s') / 60);
      const wanted = fromJeffreys(of('mg_per_cm2'), of('H_mm'));
      expect(gap(film, wanted), JSON.stringify(row)).toBeLessThan(0.003);
    }
    // Most rows lie between the clamps, so that this says something.
    const free = films.filter((row) =>
      [2, 40].every((edge) => edge !== fromJeffreys(Number(row.mg_per_cm2), Number(row.H_mm))),
    );
    expect(free.length).toBeGreaterThan(60);
  });
});

describe('residue on the parts', () => {
  /** Residue of a film of `filmUm` with resin fraction `fraction` of a resin of 1.10 g/mL, µg/cm². */
  function residue(fraction: number, filmUm: number): number {
    const areaCm2 = 100;
    const line: Line = {
      volumesMl: [1000 * (1 - fraction)],
      carryMl: [1000 * fraction],
      dragMl: [[filmUm * 1e-4 * areaCm2]],
      rule: 'float',
      resinDensity: 1.1,
      areaCm2,
    };
    return runLine(line, 1).loads[0]!.residueUgPerCm2;
  }
  const [mass, layer, limit] = pick(147, 149, 'residue') as [Row, Row, Row];

  it('rinse-147 from the last film', () => within(mass, residue(0.005, 20)));
  // µg/cm² over g/mL is 0.01 µm.
  it('rinse-148 as a dry layer', () => within(layer, (0.01 * residue(0.005, 20)) / 1.1));
  it('rinse-149 the largest fraction for a limit of 1 µg/cm²', () => {
    expect(gap(residue(Number(limit.expected), 20), 1)).toBeLessThan(0.0005);
  });
});

describe('properties of the recursion', () => {
  const line = lineOf(readNumbers('V1=1000; V2=1000; Dr=5; D1=8; D2=8'), 'level');
  const course = runLine(line, 100);
  const properties = pick(153, 158, 'property');

  it('are the six of the table', () => {
    expect(properties.map((row) => row.expected)).toEqual(Array(6).fill('true'));
  });

  it('rinse-153 fractions stay within 0..1 and X2 below the largest X1', () => {
    let largest = 0;
    for (const { x, c } of course.loads) {
      for (const value of [...x, ...c]) expect(value >= 0 && value <= 1).toBe(true);
      largest = Math.max(largest, x[0]!);
      expect(x[1]).toBeLessThanOrEqual(largest);
    }
  });

  it('rinse-154 from clean baths both rise with the loads', () => {
    for (let load = 1; load < course.loads.length; load += 1) {
      expect(course.loads[load]!.x[0]).toBeGreaterThan(course.loads[load - 1]!.x[0]!);
      expect(course.loads[load]!.x[1]).toBeGreaterThan(course.loads[load - 1]!.x[1]!);
    }
  });

  it('rinse-155 scaling every volume changes no concentration', () => {
    for (const factor of [0.01, 3, 1000]) {
      const scaled = runLine(
        {
          ...line,
          volumesMl: line.volumesMl.map((ml) => factor * ml),
          carryMl: line.carryMl.map((ml) => factor * ml),
          dragMl: line.dragMl.map((list) => list.map((ml) => factor * ml)),
        },
        100,
      );
      for (const tank of [0, 1]) {
        expect(gap(scaled.loads.at(-1)!.x[tank]!, course.loads.at(-1)!.x[tank]!)).toBeLessThan(1e-12);
      }
    }
  });

  it('rinse-156 resin in = out on parts + bailed + held, after every load', () => {
    const bailing = lineOf(readNumbers('V1=1000; V2=800; Dr=4; D1=2; D2=2'), 'level');
    for (const loads of [1, 2, 5, 50]) {
      const { resinMl } = runLine(bailing, loads);
      expect(gap(resinMl.in, 4 * loads)).toBeLessThan(1e-12);
      expect(gap(resinMl.parts + resinMl.waste + resinMl.held, resinMl.in)).toBeLessThan(1e-12);
    }
  });

  it('rinse-157 equal flows are no special case: a hair beside them changes a hair', () => {
    const flows = (d2: number) => ({ ...line, carryMl: [8], dragMl: [[8], [d2]] });
    const at = runLine(flows(8), 50).loads.at(-1)!.x[1]!;
    for (const beside of [8 * (1 - 1e-9), 8 * (1 + 1e-9)]) {
      const near = runLine(flows(beside), 50).loads.at(-1)!.x[1]!;
      expect(gap(near, at)).toBeLessThan(1e-9);
    }
  });

  it('rinse-158 a larger film lowers X1 where it passes the drag-in, and raises X2 early on', () => {
    const larger = runLine({ ...line, dragMl: [[12], [12]] }, 20).loads;
    // The first load has the same X1 whatever leaves after it.
    for (let load = 1; load < 20; load += 1) {
      expect(larger[load]!.x[0]).toBeLessThan(course.loads[load]!.x[0]!);
      expect(larger[load]!.x[1]).toBeGreaterThan(course.loads[load]!.x[1]!);
    }
  });
});
