/** A shop's practice from drafts of its ledger, and its years in drawn worlds. */
import { priorMedians } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { drawFactors } from '../../src/compare/draws.ts';
import { type Habit, habitsOf, layOut, type Practice } from '../../src/compare/habits.ts';
import { type Basis, PartRunner } from '../../src/compare/part.ts';
import { practiceOf } from '../../src/compare/practice.ts';
import { type Yearly, yearlyOf } from '../../src/compare/yearly.ts';
import type { Header } from '../../src/ledger/header.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, run, START_MS } from '../bath/bench.ts';

/** What the shop of a ledger does now; the drafts hold a fill of each bath and a wash at least. */
export function practiceFrom(header: Header, drafts: readonly Draft[]): Practice {
  const { shop, replayed } = run(header, drafts);
  return practiceOf(header, shop, replayed)!;
}

/** Worlds drawn from what the drafts leave open, 5 loads a day from Monday to Friday. */
export function basisFrom(header: Header, drafts: readonly Draft[], draws: number): Basis {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const clockMs = Math.max(START_MS, ...entries.map(({ atMs }) => atMs));
  const { ensemble } = statusOf(shop, entries, clockMs).belief;
  return {
    draws: drawFactors(ensemble, draws, 1),
    best: priorMedians(shop),
    perDay: [0, 5, 5, 5, 5, 5, 0],
    seed: 1,
  };
}

/** The year of a practice at the pace of {@link basisFrom}, without prices. */
export function yearOf(practice: Practice, basis: Basis): Yearly {
  const part = new PartRunner(basis).run(layOut(practice), 0, basis.draws.length);
  return yearlyOf(part, { disposalPerLitre: 0, perChange: 0 }, 25);
}

/** The habit of a name that fits. */
export function habitNamed(now: Practice, name: string | RegExp): Habit {
  const fits = (habit: Habit) => (typeof name === 'string' ? habit.name === name : name.test(habit.name));
  const found = habitsOf(now).filter(fits);
  if (found.length !== 1)
    throw new Error(`${found.length} habits named ${name}: ${habitsOf(now).map((habit) => habit.name)}`);
  return found[0]!;
}
