/**
 * The simulator and the exact posterior of the honesty bench, against outside answers: the golden cases, closed forms and
 * quadrature. What they say of the program is in honesty.test.ts and `npm run bench:honesty`.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import {
  bathDensity,
  bathVolume,
  type Exact,
  exactPosteriors,
  indexOfBrix,
  type Liquid,
  type Masses,
  medianDraws,
  type Plan,
  planOf,
  Simulation,
} from '../bench/honesty/honesty.mjs';

/** The golden cases of one resin kind and no corrections: what the simulator can express. */
const CASES = [
  'p01-given-carry-and-drag',
  'p02-theory-level-kept',
  'p03-theory-level-floats',
  'p04-theory-rotation-steady',
  'p06-rinses-and-agitation',
  'p07-hollow-and-trapped',
  'p08-evaporation-and-moisture',
  'p09-top-ups',
  'p10-rotate-equal',
  'p11-rotate-unequal-refill-drain',
];

type Contents = Record<string, number | null>;

interface After {
  id: string;
  dirty: Contents;
  clean: Contents;
  wash?: { carry_g: number; drag_ml: number[]; residue_ug_per_cm2: number };
}

interface Expected {
  tolerance_relative: number;
  as_of: string;
  after: After[];
  at_as_of: Record<string, Contents>;
}

function golden(name: string, ending: string): string {
  return readFileSync(new URL(`../golden/${name}.${ending}`, import.meta.url), 'utf8');
}

function massesOf({ resin, ipa, water }: Liquid): Masses {
  return { resin: resin[0]!, ipa: ipa[0]!, water: water[0]! };
}

function contentsOf(liquid: Liquid, { room }: Plan): Contents {
  const held = massesOf(liquid);
  const all = held.resin + held.ipa + held.water;
  return {
    resin_g: held.resin,
    ipa_g: held.ipa,
    water_g: held.water,
    volume_ml: bathVolume(held, room.resin),
    resin_wt_pct: all > 0 ? (100 * held.resin) / all : null,
    density_20c_g_ml: all > 0 ? bathDensity(held, room.resin, 20) : null,
  };
}

/** Largest relative gap; a value below 0.001 of its unit compares against 0.001, as the golden README says. */
class Gap {
  worst = 0;
  count = 0;

  take(actual: number | null | undefined, wanted: number | null | undefined): void {
    if (wanted === null || wanted === undefined) return;
    const gap = Math.abs(actual! - wanted) / Math.max(Math.abs(wanted), 0.001);
    this.worst = Number.isFinite(gap) ? Math.max(this.worst, gap) : Number.POSITIVE_INFINITY;
    this.count += 1;
  }

  takeAll(actual: Contents, wanted: Contents): void {
    for (const [key, value] of Object.entries(actual)) this.take(value, wanted[key]);
  }
}

describe('the simulator against the golden cases', () => {
  it.each(CASES)('%s', (name) => {
    const { events, ...header } = parse(golden(name, 'yaml'));
    const expected: Expected = JSON.parse(golden(name, 'expected.json'));
    const plan = planOf(header, events, expected.as_of);
    const gap = new Gap();
    let seen = 0;
    const { tubs } = new Simulation(plan, medianDraws(plan)).run(({ event, area }, liquids, wash) => {
      const wanted = expected.after[seen]!;
      seen += 1;
      expect(event.id).toBe(wanted.id);
      plan.tubs.forEach(({ name: bath }, k) => {
        gap.takeAll(contentsOf(liquids[k]!, plan), wanted[bath as 'dirty' | 'clean']);
      });
      if (!wash) return;
      gap.take(wash.carry[0], wanted.wash?.carry_g);
      gap.take((1e6 * wash.left[0]!) / area, wanted.wash?.residue_ug_per_cm2);
      wanted.wash?.drag_ml.forEach((drag, k) => {
        gap.take(wash.drag[k]?.[0], drag);
      });
    });
    plan.tubs.forEach(({ name: bath }, k) => {
      gap.takeAll(contentsOf(tubs[k]!, plan), expected.at_as_of[bath]!);
    });
    expect(seen).toBe(expected.after.length);
    expect(gap.count).toBeGreaterThan(8 * seen);
    expect(gap.worst).toBeLessThanOrEqual(expected.tolerance_relative);
  });
});

describe('the scale of degrees Brix', () => {
  it.each([
    // ICUMSA 1974, 20 °C, 589 nm; from memory.
    [0, 1.33299],
    [30, 1.38115],
    [60, 1.44193],
  ])('%d is n = %d', (brix, index) => {
    expect(indexOfBrix(brix)).toBeCloseTo(index, 4);
  });
});

/** One wash of which all resin stays in one bath, nothing evaporates: ln(resin) is normal before any reading. */
const HEADER = {
  format: 'bathbook/1',
  shop: { name: 'One Wash', timezone: 'Europe/Lisbon', room_c: 25 },
  baths: {
    dirty: {
      mark_ml: 1000,
      length_mm: 150,
      width_mm: 100,
      freeboard_mm: 40,
      evaporation: 0,
      moisture: 0,
    },
  },
  solvents: { ipa99: { ipa_wt_pct: 99.5 } },
};
const BASE = [
  { id: 'f', at: '2026-01-05T08:00:00Z', what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 1000 },
  {
    id: 'w',
    at: '2026-01-05T09:00:00Z',
    what: 'wash',
    baths: ['dirty'],
    area_cm2: 1000,
    drained_min: 4,
    minutes: [600],
    drag_ml: [0],
  },
];
const READ = { id: 'r', at: '2026-01-05T10:00:00Z', what: 'reading', bath: 'dirty', resin_wt_pct: 2.4 };
/** At 25 °C the default resin has 400 mPa·s: 1.2 · 1000 cm² · 22 mg/cm² / √4 / 1000. */
const CARRY_G = 13.2;
const SOLVENT_G = 1000 * 0.786513243185; // density of 99.5 wt% IPA from golden case p08
const SD = Math.hypot(0.45, 0.25);

function wtPct(z: number): number {
  const resin = CARRY_G * Math.exp(SD * z);
  return (100 * resin) / (resin + SOLVENT_G);
}

/** Quantiles of the resin wt% by quadrature over its one unknown, a standard normal. */
function byQuadrature(levels: number[], likelihood: (wtPct: number) => number): number[] {
  const steps = Array.from({ length: 12_001 }, (_, i) => -6 + i / 1000);
  const mass = steps.map((z) => Math.exp((-z * z) / 2) * likelihood(wtPct(z)));
  const total = mass.reduce((sum, one) => sum + one, 0);
  let sum = 0;
  const below = mass.map((one) => {
    sum += one / total;
    return sum;
  });
  return levels.map((level) => wtPct(steps[below.findIndex((share) => share >= level)]!));
}

describe('the exact posterior of one wash', () => {
  const shop = { header: HEADER, base: BASE, readings: [READ], clock: '2026-01-05T12:00:00Z' };
  const [prior, posterior] = exactPosteriors(shop, {
    seed: 1,
    draws: 40_000,
    counts: [0, 1],
  }) as [Exact, Exact];
  const levels = [0.05, 0.25, 0.5, 0.75, 0.95];

  it('has the quantiles of a log-normal before any reading', () => {
    // Standard normal quantiles: 1.644854 and 0.674490.
    const wanted = [-1.644854, -0.67449, 0, 0.67449, 1.644854].map(wtPct);
    expect(prior.ess).toBeGreaterThan(2000);
    Object.values(prior.baths.dirty!.q).forEach((value, i) => {
      // Three standard errors of a tail quantile of 2 000 draws are about 0.14 of the standard deviation.
      expect(Math.abs(Math.log(value / wanted[i]!))).toBeLessThan(0.14 * SD);
    });
  });

  it('agrees with quadrature after a reading', () => {
    const wanted = byQuadrature(levels, (share) => Math.exp(-0.5 * ((2.4 - share) / 0.2) ** 2));
    const sd = (wanted[4]! - wanted[0]!) / 3.29;
    expect(posterior.ess).toBeGreaterThan(500);
    Object.values(posterior.baths.dirty!.q).forEach((value, i) => {
      // Three standard errors of a tail quantile of 500 draws.
      expect(Math.abs(value - wanted[i]!)).toBeLessThan(0.28 * sd);
    });
  });

  it('has the density of a normal at a point, smoothed by its kernel', () => {
    // ln(wt%) is normal but for the resin's own share of the whole, 1.7 %.
    const wanted = -Math.log(SD * Math.sqrt(2 * Math.PI));
    expect(Math.abs(prior.baths.dirty!.logDensity(wtPct(0)) - wanted)).toBeLessThan(0.06);
  });
});
