/**
 * Years in fixed worlds against tests/bench/compare/years.c, which computes the same from raw inputs in C, written from the equations
 * of src/bath/README.md and the rules of src/compare/README.md 2. The totals in c-golden.json are what it printed; after a change
 * of the model there, `npm run bench:compare -- --golden` has it write them anew.
 */
import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { AllFactors } from '../../src/bath/replay.ts';
import { factorsFor } from '../../src/compare/draws.ts';
import { layOut, type Practice } from '../../src/compare/habits.ts';
import { runYears } from '../../src/compare/run.ts';
import { type Schedule, YEAR_DAYS } from '../../src/compare/schedule.ts';
import { World } from '../../src/compare/world.ts';

/** Short lists, each begun again at its end. */
interface Cycles {
  perDay: number[];
  load: number[];
  scatter: number[];
}

interface Totals {
  days: number;
  washes: number;
  parts: number;
  pouredMl: number;
  wasteMl: number;
  wasteG: number;
  changes: number;
  overLimit: number;
  followed: number;
  /** Resin, IPA and water of each bath at the end, g. */
  truth: number[];
  ledger: number[];
}

interface Case {
  name: string;
  practice: Practice;
  truth: AllFactors;
  estimate: AllFactors;
  schedule: Cycles;
  totals: Totals;
}

const path = new URL('c-golden.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(path, 'utf8')) as { cases: Case[] };

function scheduleOf({ perDay, load, scatter }: Cycles): Schedule {
  const starts = [0];
  for (let day = 0; day < YEAR_DAYS; day += 1) starts.push(starts[day]! + perDay[day % perDay.length]!);
  const length = starts[YEAR_DAYS]!;
  return {
    starts: Int32Array.from(starts),
    load: Int32Array.from({ length }, (_, wash) => load[wash % load.length]!),
    scatter: Float64Array.from({ length }, (_, wash) => scatter[wash % scatter.length]!),
  };
}

function run({ practice, truth, estimate, schedule }: Case): Totals {
  const plant = layOut(practice);
  // Each world fills its first bath before anything else happens, the true one before the ledger's.
  const refill = vi.spyOn(World.prototype, 'refill');
  const [one, other] = [truth, estimate].map((factors) => factorsFor(practice.places, factors));
  const { counts, followed } = runYears(plant, scheduleOf(schedule), one!, other!);
  const [truthWorld, ledgerWorld] = [...new Set(refill.mock.contexts as World[])].map(({ masses }) => [
    ...masses,
  ]);
  const { lastBath: _, residue: __, ...row } = counts;
  return { ...row, followed, truth: truthWorld!, ledger: ledgerWorld! };
}

function expectWithin(value: number, golden: number): void {
  expect(Math.abs(value - golden)).toBeLessThanOrEqual(1e-9 * Math.abs(golden));
}

afterEach(() => {
  vi.restoreAllMocks();
});

describe('years by the C program', () => {
  it.each(cases)('$name', (one) => {
    const { truth, ledger, ...numbers } = run(one);
    for (const [key, value] of Object.entries(numbers))
      expectWithin(value, one.totals[key as keyof typeof numbers]);
    expect(truth).toHaveLength(one.totals.truth.length);
    truth.forEach((grams, mass) => {
      expectWithin(grams, one.totals.truth[mass]!);
    });
    ledger.forEach((grams, mass) => {
      expectWithin(grams, one.totals.ledger[mass]!);
    });
  });
});
