import { BEST_LIMIT_RUNS, type Best, bestLimit } from '../compare/best.ts';
import { drawFactors } from '../compare/draws.ts';
import {
  atShare,
  changeName,
  type Habit,
  habitsOf,
  isAllowed,
  layOut,
  weakSolventOf,
} from '../compare/habits.ts';
import type { Basis, Part } from '../compare/part.ts';
import { practiceOf } from '../compare/practice.ts';
import { type Prices, type Yearly, yearlyOf } from '../compare/yearly.ts';
import { stockOf } from '../records/stock.ts';
import { type Comparison, compareDocument, compareText } from '../render/compare.ts';
import { printable } from '../render/printable.ts';
import { type Ahead, aheadOf } from './ahead.ts';
import { readableWithDay } from './clock.ts';
import { Pool } from './compare-pool.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { onInterrupt } from './interrupt.ts';
import { numberIn } from './number-option.ts';
import { paceFor } from './pace-option.ts';
import { Progress } from './progress.ts';
import { remarksOnTerminal } from './streams.ts';
import { tellFlagged, tellRefused, tellUncounted } from './tell.ts';

interface Question {
  /** Most of the loads that may begin past a limit, 0 to 1. */
  risk: number;
  draws: number;
  seed: number;
  disposalPerLitre: number;
  perChange: number;
}

/** `compare`: what a year costs under other habits. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const question = readQuestion(options);
  const opened = await context.open();
  const ahead = aheadOf(opened);
  await tellRefused(context, opened, ahead.status.replayed.refused);
  const now = practiceOf(opened.file.header!, opened.shop, ahead.status.replayed);
  if (!now) throw usage('Cannot compare habits, no wash was logged yet', 'log one: bathbook wash 6 model');
  const pace = paceFor(ahead.pace, options, { command: 'compare', clockMs: opened.clockMs });
  const { best, ...compared } = await compareAll({
    habits: habitsOf(now),
    basis: basisOf(ahead, pace.loads, question),
    prices: pricesOf(ahead, opened, now.solvent, question),
    perWeek: pace.perWeek,
    risk: question.risk,
    width: context.width,
    progress: remarksOnTerminal() && !context.quiet,
  });
  if (compared.draws === 0) return EXIT.interrupted;
  const comparison: Comparison = {
    ...compared,
    best: best && {
      name: changeName(atShare(now, best.changeAt)),
      practice: atShare(now, best.changeAt),
      yearly: best.result,
      bounded: best.bounded,
    },
    weak: weakSolventOf(now),
    risk: question.risk,
    seed: question.seed,
    prices: pricesOf(ahead, opened, now.solvent, question),
    pace,
    loads: now.washes.length,
    currency: opened.shop.currency,
  };
  if (context.json) context.printJson('compare', opened.clockMs, compareDocument(comparison));
  else {
    const title = printable([opened.shop.name, readableWithDay(opened.clockMs)].filter(Boolean).join(', '));
    context.print(await compareText(comparison, { ...context, width: context.width, title }));
  }
  tellUncounted(context, opened.settled);
  tellFlagged(context, ahead.status);
  return compared.stopped ? EXIT.interrupted : EXIT.done;
}

function readQuestion(options: Options): Question {
  const money = { least: 0, most: 1e6, example: '3' };
  return {
    risk: (numberIn(options, { flag: 'risk', least: 0, most: 100, percent: true, example: '5' }) ?? 5) / 100,
    draws: numberIn(options, { flag: 'draws', least: 4, most: 10_000, whole: true, example: '200' }) ?? 200,
    seed: numberIn(options, { flag: 'seed', least: 1, most: 1000, whole: true, example: '1' }) ?? 1,
    disposalPerLitre: numberIn(options, { flag: 'disposal', ...money }) ?? 0,
    perChange: numberIn(options, { flag: 'per-change', ...money }) ?? 0,
  };
}

function basisOf({ status }: Ahead, perDay: readonly number[], { draws, seed }: Question): Basis {
  return { draws: drawFactors(status.belief.ensemble, draws, seed), best: status.factors, perDay, seed };
}

function pricesOf(
  { movements }: Ahead,
  { shop, settled, clockMs }: Opened,
  solvent: string,
  { disposalPerLitre, perChange }: Question,
): Prices {
  const stock = stockOf(shop, settled.entries, movements, clockMs);
  const perLitre =
    stock.find((one) => one.solvent === solvent)?.pricePerL ?? shop.solvents.get(solvent)?.pricePerL;
  return { ...(perLitre === undefined ? {} : { perLitre }), disposalPerLitre, perChange };
}

/** All habits in all drawn worlds, then the search for the best limit; what was done, when the person pressed Ctrl-C. */
async function compareAll(on: {
  habits: readonly Habit[];
  basis: Basis;
  prices: Prices;
  perWeek: number;
  risk: number;
  width: number;
  progress: boolean;
}): Promise<{
  policies: { habit: Habit; yearly: Yearly }[];
  best: Best<Yearly> | null;
  draws: number;
  stopped: boolean;
}> {
  const { habits, basis, prices, perWeek, risk } = on;
  const pieces = Pool.pieces(habits.length + BEST_LIMIT_RUNS, basis.draws.length);
  const label = 'comparing, Ctrl-C prints what is done';
  const progress = new Progress({ label, of: pieces, width: on.width, shown: on.progress });
  const pool = new Pool(basis, () => progress.step());
  const back = onInterrupt(() => pool.stop());
  try {
    const year = (part: Part) => yearlyOf(part, prices, perWeek);
    const parts = await pool.run(habits.map(({ practice }) => layOut(practice)));
    const now = habits[0]!.practice;
    const allowed = (changeAt: number) => isAllowed(now, changeAt);
    const best = await bestLimit(risk, allowed, async (changeAt) => {
      const found = pool.stopped ? null : await pool.run([layOut(atShare(now, changeAt))]);
      return found && !pool.stopped ? year(found[0]!) : null;
    });
    return {
      policies: (parts ?? []).map((part, place) => ({ habit: habits[place]!, yearly: year(part) })),
      best,
      draws: parts?.[0]?.rows.length ?? 0,
      stopped: pool.stopped,
    };
  } finally {
    progress.clear();
    back();
    pool.close();
  }
}
