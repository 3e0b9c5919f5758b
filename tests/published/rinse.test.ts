/**
 * Rinse theory row by row: rinse.csv. Sources are ids of data/SOURCES.md. Each row is either computed by the program and
 * held to the table's tolerance, or listed here with the reason why the program has nothing to say about it.
 */
import { describe, expect, it } from 'vitest';
import { filmMgPerCm2 } from '../../src/bath/load.ts';
import { equalTanks, type Line, lineOf, runLine } from './rinse-line.ts';
import { gap, type Row, readNumbers, readTable } from './table.ts';

const rows = readTable('rinse.csv');

/** Rows the program does not compute, and why. */
const LEFT_OUT: Record<string, { ids: [first: number, last: number][]; why: string }> = {
  'running rinses': {
    ids: [[1, 12]],
    why: 'plating lines with running water: flow for a wanted dilution; these baths stand',
  },
  'rag and pitcher': { ids: [[14, 14]], why: 'weighing experiment with a rag' },
  'unit conversions': {
    ids: [
      [15, 16],
      [139, 139],
      [150, 152],
    ],
    why: 'units, tested with the quantity parser',
  },
  extraction: { ids: [[17, 18]], why: 'two phases with a partition ratio; resin and solvent are one phase' },
  films: {
    ids: [
      [123, 138],
      [140, 146],
    ],
    why: 'validity times, films pulled from a bath and edge beads: drag-out is a rate per area in the model',
  },
};

const numberOf = (row: Row) => Number(row.id!.replace('rinse-', ''));
const isLeftOut = (row: Row) =>
  Object.values(LEFT_OUT).some(({ ids }) =>
    ids.some(([from, to]) => numberOf(row) >= from && numberOf(row) <= to),
  );

/** Rows with these numbers, and a check that they are the ones meant. */
function pick(from: number, to: number, topic: string): Row[] {
  const picked = rows.filter((row) => numberOf(row) >= from && numberOf(row) <= to);
  expect(picked.length).toBe(to - from + 1);
  for (const row of picked) expect(row.topic).toBe(topic);
  return picked;
}

function within(row: Row, actual: number): void {
  const wanted = Number(row.expected);
  const [kind, amount] = row.tolerance!.split(' ');
  const label = `${row.id}: ${row.inputs}: ${actual} against ${row.expected}`;
  switch (kind) {
    case 'exact':
      expect(actual, label).toBe(wanted);
      break;
    case 'rel':
      expect(gap(actual, wanted), label).toBeLessThanOrEqual(Number(amount));
      break;
    case 'abs':
      expect(Math.abs(actual - wanted), label).toBeLessThanOrEqual(Number(amount));
      break;
    default:
      throw new Error(`${row.id}: tolerance ${row.tolerance}`);
  }
}

describe('rinse.csv', () => {
  it('is covered but for the rows left out', () => {
    expect(rows.length).toBe(158);
    expect(rows.filter(isLeftOut).length).toBe(12 + 1 + 6 + 2 + 23);
    // 13; 19–36; 37–48; 49–64; 65–119; 120–122; 147–149; 153–158
    expect(rows.filter((row) => !isLeftOut(row)).length).toBe(1 + 18 + 12 + 16 + 55 + 3 + 3 + 6);
  });

  it('one load into one still tank', () => {
    within(pick(13, 13, 'rinse-ratio')[0]!, runLine(equalTanks(300, 1, 1), 1).loads[0]!.x[0]!);
  });

  it.each(pick(19, 36, 'still-rinse'))('$id equal tanks, $inputs', (row) => {
    const n = readNumbers(row.inputs!.replaceAll(/(tank|racks) /g, '$1='));
    const course = runLine(equalTanks(n.V![0]!, n.D![0]!, n.tank![0]!), n.racks![0]!);
    within(row, course.loads.at(-1)!.x[n.tank![0]! - 1]!);
  });

  const single = pick(37, 48, 'single-bath');
  it.each(single.filter((row) => !row.inputs!.includes('dilute')))('$id $inputs', (row) =>
    within(row, lastX(row)),
  );

  it.each(single.filter((row) => row.inputs!.includes('dilute')))(
    '$id $inputs, as an approximation',
    (row) => {
      // First-order approximation: the exact level rule lies within the film over the volume, 8/1000.
      expect(gap(lastX(row), Number(row.expected))).toBeLessThan(8 / 1000);
    },
  );

  it.each(pick(49, 64, 'two-bath'))('$id $inputs', (row) => within(row, lastX(row)));
});

/** X1 or X2, as the row's inputs end, of the last load. */
function lastX(row: Row): number {
  const inputs = row.inputs!;
  const n = readNumbers(inputs.replace('repeating', '').replaceAll(/loads /g, 'loads='));
  const line = lineOf(n, inputs.includes('float') ? 'float' : 'level');
  return runLine(line, n.loads![0]!).loads.at(-1)!.x[Number(inputs.at(-1)) - 1]!;
}

describe('rotation', () => {
  const ROTATIONS = 40;

  it.each(pick(65, 106, 'rotation'))('$id $inputs', (row) => {
    const { line, loads, last, starts, all } = steadyOf(row);
    const quantity = row.inputs!.split('; ').at(-1)!;
    const values: Record<string, () => number> = {
      'M1 at start': () => starts.at(-1)!,
      'C1 at end': () => last.c[0]!,
      'C2 at end': () => last.c[1]!,
      'X1 of last load': () => last.x[0]!,
      'X2 of last load': () => last.x[1]!,
      'mean X2': () => all.reduce((sum, load) => sum + load.x[1]!, 0) / loads,
      'shrink factor': () => (starts[1]! - starts[0]!) / starts[0]!,
    };
    expect(line.rotateEvery).toBe(loads);
    within(row, values[quantity]!());
  });

  function steadyOf(row: Row) {
    const inputs = row.inputs!;
    const line = lineOf(readNumbers(inputs), 'level');
    const loads = Number(/rotate every (\d+) loads/.exec(inputs)![1]);
    line.rotateEvery = loads;
    const course = runLine(line, loads * ROTATIONS);
    const all = course.loads.slice(-loads);
    return { line, loads, last: all.at(-1)!, starts: course.startsMl, all };
  }

  it.each(pick(107, 110, 'rotation'))('$id $inputs', (row) => {
    const period = Number(/period (\d+)/.exec(row.inputs!)![1]);
    const line = { ...lineOf(readNumbers(row.inputs!), 'level'), rotateEvery: 50 };
    within(row, runLine(line, 50 * period).loads.at(-1)!.x[1]!);
  });

  it('rinse-111 is tested for every steady state in rotation.test.ts', () => {
    expect(pick(111, 111, 'rotation')[0]!.expected).toBe('equal');
  });

  it.each(pick(112, 117, 'rotation'))('$id $inputs', (row) => {
    const inputs = row.inputs!;
    const limit = 0.005;
    const n = readNumbers(inputs);
    const volumeMl = (n.V1 ?? n.V2)![0]!;
    const filmMl = (n.D1 ?? n.D2)![0]!;
    const tanks = inputs.includes('single') ? 1 : 2;
    const line: Line = {
      volumesMl: Array(tanks).fill(volumeMl),
      carryMl: n.Dr!,
      dragMl: Array(tanks).fill([filmMl]),
      rule: 'level',
    };
    const most = Number(row.expected);
    const lastFilm = (loads: number) => {
      if (!inputs.endsWith('rotate')) return runLine(line, loads).loads.at(-1)!.x.at(-1)!;
      return runLine({ ...line, rotateEvery: loads }, loads * ROTATIONS).loads.at(-1)!.x[1]!;
    };
    expect(lastFilm(most)).toBeLessThanOrEqual(limit);
    expect(lastFilm(most + 1)).toBeGreaterThan(limit);
  });

  it('rinse-118 solvent for each load under rotation', () => {
    const row = pick(118, 118, 'rotation')[0]!;
    // Dilute formula; the exact most of 182 loads to 2000 mL (rinse-112) gives 10.99, as the note says.
    const exact = 2000 / 182;
    expect(row.note).toContain('182 loads gives 10.99');
    expect(gap(exact, Number(row.expected))).toBeLessThan(0.005);
  });

  it('rinse-119 the dilute limit', () => {
    const row = pick(119, 119, 'rotation')[0]!;
    const dilute = (volumeMl: number, loads: number, rotations: number) => {
      const line = { ...lineOf({ V1: [volumeMl], V2: [volumeMl], Dr: [6], D1: [6], D2: [6] }, 'level') };
      return runLine({ ...line, rotateEvery: loads }, loads * rotations).loads.at(-1)!.x[1]!;
    };
    // λ = n D/V = 0.3 in both; baths four hundred times as large are as good as infinitely dilute.
    within(row, dilute(400_000, 20_000, 8));
    expect(dilute(1000, 50, ROTATIONS)).toBeCloseTo(0.04802, 5);
  });
});

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
