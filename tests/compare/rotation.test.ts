/**
 * Rotation against rinse theory: `rotation_steady.csv` from an exact rational recursion, the closed forms in the comments, and the
 * published comparison of rotating with dumping both baths. Sources: data/SOURCES.md, RECURSION and JMFSJ1977.
 */
import { describe, expect, it } from 'vitest';
import { runYears } from '../../src/compare/run.ts';
import { quantileOf } from '../../src/compare/spread.ts';
import { World } from '../../src/compare/world.ts';
import { gap, type Row, readTable } from '../published/table.ts';
import { everyDay, plainFactors, plantOfTanks, type Tanks } from './line.ts';

/** What doubles give after thousands of loads; the table has 15 digits. */
const EXACT = 2e-12;

const steady = readTable('rotation_steady.csv');

function tanksOf(row: Row): Tanks {
  const of = (column: string) => Number(row[column]);
  return {
    volumesMl: [of('V1_mL'), of('V2_mL')],
    carryMl: of('Dr_mL'),
    dragMl: [of('D1_mL'), of('D2_mL')],
  };
}

/** Volume fraction of resin in a bath. */
function fraction(world: World, bath: number, resin20: number): number {
  return (world.masses[3 * bath]! * resin20) / world.volumeMl(bath);
}

function keepLevel(world: World, bath: number, markMl: number): void {
  if (world.volumeMl(bath) < markMl) world.topUp(bath);
  else world.bail(bath);
}

describe('rotation in the flat world', () => {
  it.each(steady)('$V1_mL + $V2_mL mL, $Dr_mL in, $D1_mL out, every $n_loads loads', (row) => {
    const tanks = tanksOf(row);
    const plant = plantOfTanks(tanks);
    const { resin20 } = plant.liquids;
    const world = new World(plant, plainFactors(2));
    world.refill(0);
    world.refill(1);
    const rotations = Math.ceil(Math.log(1e-17) / Math.log(Number(row.convergence_factor)));
    let x = [0, 0];
    let c = [0, 0];
    for (let rotation = 0; rotation < rotations; rotation += 1) {
      if (rotation > 0) world.rotate();
      for (let load = 0; load < Number(row.n_loads); load += 1) {
        world.wash(0, 1);
        x = [0, 1].map((bath) => fraction(world, bath, resin20));
        for (const bath of [0, 1]) keepLevel(world, bath, tanks.volumesMl[bath]!);
        c = [0, 1].map((bath) => fraction(world, bath, resin20));
      }
    }
    expect(gap(x[0]!, Number(row.X1_last))).toBeLessThan(EXACT);
    expect(gap(x[1]!, Number(row.X2_last))).toBeLessThan(EXACT);
    expect(gap(c[0]!, Number(row.C1_end))).toBeLessThan(EXACT);
    expect(gap(c[1]!, Number(row.C2_end))).toBeLessThan(EXACT);
  });
});

/**
 * X2 of each load in the steady state of rotating every n loads, V1 = V2 = V and D_r = D_s = D, by the recursion
 * M1 ← r (M1 + D), M2 ← r (M2 + D X1), r = V/(V + D); every rotation starts from M1 = the last M2 and M2 = 0.
 */
function steadyX2(volumeMl: number, filmMl: number, loads: number, rule: 'rotate' | 'refill'): number[] {
  const stays = volumeMl / (volumeMl + filmMl);
  let start = 0;
  let found: number[] = [];
  for (let period = 0; period < 40; period += 1) {
    let first = start;
    let second = 0;
    found = [];
    for (let load = 0; load < loads; load += 1) {
      const x1 = (first + filmMl) / (volumeMl + filmMl);
      const x2 = (second + filmMl * x1) / (volumeMl + filmMl);
      found.push(x2);
      first = stays * (first + filmMl);
      second = stays * (second + filmMl * x1);
    }
    start = rule === 'rotate' ? second : 0;
  }
  return found;
}

/** wt% of a volume fraction; densities in g/mL. */
function wtPct(x: number, resin: number, solvent: number): number {
  return (100 * x * resin) / (x * resin + (1 - x) * solvent);
}

describe('years of rotation', () => {
  const tanks: Tanks = { volumesMl: [2000, 2000], carryMl: 5, dragMl: [5, 5] };

  it.each([
    ['rotate', 40],
    ['rotate', 80],
    ['refill', 60],
  ] as const)('%s every %d loads: solvent, waste and the clean bath follow the recursion', (rule, loads) => {
    const plant = plantOfTanks(tanks, { everyWashes: loads, rule });
    const { counts } = runYears(plant, everyDay(1), plainFactors(2), plainFactors(2));
    const { resin20 } = plant.liquids;
    // Films in and out are alike, so nothing is topped up.
    const pouredMl = rule === 'rotate' ? 2000 : 4000;
    expect(counts.washes).toBe(counts.changes * loads);
    expect(counts.washes).toBeGreaterThanOrEqual(364 - loads);
    expect(counts.pouredMl / counts.changes).toBeCloseTo(pouredMl, 6);
    expect(counts.wasteMl / counts.changes).toBeCloseTo(pouredMl, 6);
    const sorted = steadyX2(2000, 5, loads, rule)
      .map((x) => wtPct(x, 1 / resin20, plant.solvent.density))
      .toSorted((one, other) => one - other);
    for (const share of [0.25, 0.5, 0.95, 1]) {
      const expected = sorted[Math.ceil(share * loads) - 1]!;
      expect(gap(quantileOf(counts.lastBath, share), expected), String(share)).toBeLessThan(0.006);
    }
  });

  // The dilute limit of the recursion, loads × film/volume = 0.05 to 0.2: X2 at the end of a period. JMFSJ1977 for dumping both,
  // RECURSION for rotation.
  it.each([
    [0.05, 0.001269, 0.004679],
    [0.1, 0.005144, 0.01752],
    [0.2, 0.02095, 0.06155],
  ])(
    'with the same solvent, rotation at %f leaves %f where dumping both leaves %f',
    (lambda, rotated, dumped) => {
      const volumesMl = [20_000, 20_000];
      const loads = Math.round((lambda * 20_000) / 5);
      const worst = (rule: 'rotate' | 'refill', everyWashes: number) => {
        const plant = plantOfTanks({ ...tanks, volumesMl }, { everyWashes, rule });
        const { counts } = runYears(plant, everyDay(10), plainFactors(2), plainFactors(2));
        expect(counts.pouredMl / counts.washes).toBeCloseTo(20_000 / loads, 6);
        return { wt: quantileOf(counts.lastBath, 1), plant };
      };
      const { wt, plant } = worst('rotate', loads);
      const expected = (x: number) => wtPct(x, 1 / plant.liquids.resin20, plant.solvent.density);
      expect(gap(wt, expected(rotated))).toBeLessThan(0.02);
      expect(gap(worst('refill', 2 * loads).wt, expected(dumped))).toBeLessThan(0.02);
    },
  );

  it('rotating at a limit of the clean bath takes about half the solvent of refilling both at it', () => {
    // Rinse theory for a limit L on X2, D_r = D_s: dumping both 2V/n = 2 sqrt(D²/(2L)), rotation half of it, 0.5–10 % more at
    // n D/V up to 0.2. The exact numbers of loads by the recursion above.
    const litres = (rule: 'rotate' | 'refill', percent: number) => {
      const plant = plantOfTanks(tanks, { rule, changeAt: 1 });
      plant.baths.resinLimit.set([1, percent / 100]);
      const { counts } = runYears(plant, everyDay(1), plainFactors(2), plainFactors(2));
      const loads = counts.washes / counts.changes;
      const met = (many: number) =>
        wtPct(steadyX2(2000, 5, many, rule).at(-1)!, 1 / plant.liquids.resin20, plant.solvent.density) >=
        percent;
      expect(met(loads), `${rule} at ${percent}`).toBe(true);
      expect(met(loads - 1), `${rule} at ${percent}`).toBe(false);
      return counts.pouredMl / counts.washes;
    };
    for (const percent of [0.2, 0.5, 1, 2]) {
      const ratio = litres('rotate', percent) / litres('refill', percent);
      expect(ratio).toBeGreaterThan(0.5);
      expect(ratio).toBeLessThan(0.56);
    }
  });

  it('three baths in turn follow the same recursion with one more bath', () => {
    const plant = plantOfTanks(
      { volumesMl: [2000, 2000, 2000], carryMl: 5, dragMl: [5, 5, 5] },
      { everyWashes: 50 },
    );
    const { counts } = runYears(plant, everyDay(1), plainFactors(3), plainFactors(3));
    let held = [0, 0, 0];
    let last: number[] = [];
    for (let period = 0; period < 40; period += 1) {
      if (period > 0) held = [held[1]!, held[2]!, 0];
      last = [];
      for (let load = 0; load < 50; load += 1) {
        let film = 5;
        held = held.map((resin) => {
          const x = (resin + film) / 2005;
          film = 5 * x;
          return 2000 * x;
        });
        last.push(film / 5);
      }
    }
    const worst = wtPct(last.at(-1)!, 1 / plant.liquids.resin20, plant.solvent.density);
    expect(gap(quantileOf(counts.lastBath, 1), worst)).toBeLessThan(0.006);
    expect(counts.pouredMl / counts.changes).toBeCloseTo(2000, 6);
  });
});
