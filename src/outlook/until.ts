/**
 * What a shop uses up to a day: changes, solvent, waste, money, with their bands, and the stock against it.
 */
import { bandOf, withScatterAhead } from '../belief/band.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import { atMeanScatter } from '../belief/lump.ts';
import type { Stock } from '../records/stock.ts';
import { type Outlook, scatterOf } from './outlook.ts';
import type { Days } from './pace.ts';
import type { Quantity } from './quantity.ts';
import type { Status } from './status.ts';
import { type DayAhead, daysAhead } from './until-days.ts';
import { type Course, runCourse } from './until-run.ts';
import { type NeedOfStock, needOf } from './until-stock.ts';

export interface Until {
  /** The end of the last day that counts. */
  toMs: number;
  days: number;
  loads: Quantity;
  parts: Quantity;
  /** Whole ones. */
  changes: Quantity;
  solventMl: Quantity;
  wasteMl: Quantity;
  wasteG: Quantity;
  /** In the shop's currency; null when the solvent has no price. */
  cost: Quantity | null;
  solvent: string;
  pricePerL: number | null;
  stock: NeedOfStock | null;
  /** Of the best estimate. */
  best: Course;
}

const MS_PER_DAY = 86_400_000;

/**
 * Goes on past the first limit in the best estimate and in every world, each changed when its own bath meets a limit.
 *
 * Changes come whole, so that two worlds that hardly differ may differ by one; for the bands a change under way counts by its
 * share, and every world is taken as far into it as the best estimate is. The number of changes is the whole part of a count
 * that grows with the share; what is whole keeps the order of what is not, so that its quantiles are whole parts, too.
 *
 * @param toMs - the end of a day, after the clock
 * @returns null when nothing was ever poured
 */
export function untilOf(
  status: Status,
  outlook: Outlook,
  on: { toMs: number; days: Days; stock: readonly Stock[]; leadDays: number },
): Until | null {
  const { shop, replayed, factors, clockMs, belief } = status;
  const { solvent } = replayed;
  if (solvent === undefined) return null;
  const { pace, load } = outlook;
  const days = daysAhead(clockMs, on.toMs, { pace, days: on.days });
  const given = { days, solvent };
  const best = runCourse(shop, { baths: replayed.baths, factors }, { ...given, load });
  const mean = atMeanScatter(load);
  const { ensemble } = belief;
  const worlds = ensemble.worlds.map((world) => runCourse(shop, world, { ...given, load: mean }));
  const scatterSd = scatterOf({ loads: loadsOf(days), days: days.length }, pace);
  const more = runCourse(shop, ensemble.worlds[0]!, { ...given, load: heavier(mean, Math.exp(scatterSd)) });
  const band = (of: (course: Course) => number) => bandFrom(ensemble, of, { best, worlds, more, scatterSd });
  const smooth = (of: (course: Course) => number, next: (course: Course) => number) =>
    band((course) => of(course) + (course.underWay - best.underWay) * next(course));
  const changes = band((course) => course.changes.length + course.underWay);
  const solventMl = smooth(
    ({ pouredMl }) => pouredMl,
    ({ next }) => next.pouredMl,
  );
  const stock = on.stock.find((one) => one.solvent === solvent);
  const pricePerL = stock?.pricePerL ?? shop.solvents.get(solvent)?.pricePerL ?? null;
  const loads = loadsBand(ensemble, days, outlook);
  return {
    toMs: on.toMs,
    days: (on.toMs - clockMs) / MS_PER_DAY,
    loads,
    parts: scaled(loads, load.parts),
    changes: {
      p05: Math.floor(changes.p05),
      p50: best.changes.length,
      p95: Math.max(best.changes.length, Math.floor(changes.p95)),
    },
    solventMl,
    wasteMl: smooth(
      ({ wasteMl }) => wasteMl,
      ({ next }) => next.wasteMl,
    ),
    wasteG: smooth(
      ({ wasteG }) => wasteG,
      ({ next }) => next.wasteG,
    ),
    cost: pricePerL === null ? null : scaled(solventMl, pricePerL / 1000),
    solvent,
    pricePerL,
    stock: needOf(solventMl, {
      stock,
      best,
      worlds,
      ensemble,
      clockMs,
      toMs: on.toMs,
      leadDays: on.leadDays,
    }),
    best,
  };
}

function loadsOf(days: readonly DayAhead[]): number {
  return days.reduce((sum, { loads }) => sum + loads, 0);
}

function heavier(load: Outlook['load'], by: number): Outlook['load'] {
  return { ...load, filmG: by * load.filmG, trappedG: by * load.trappedG };
}

/** The band of a figure of the courses; what loads bring by chance moves it as it moves the middle world. Never below 0. */
function bandFrom(
  ensemble: Ensemble,
  of: (course: Course) => number,
  { best, worlds, more, scatterSd }: { best: Course; worlds: Course[]; more: Course; scatterSd: number },
): Required<Quantity> {
  const values = worlds.map(of);
  const figure = { best: of(best), values };
  const isPositive = values.every((value) => value > 0) && of(more) > 0;
  const answer = isPositive ? Math.log(of(more) / values[0]!) : of(more) - values[0]!;
  const sd = scatterSd > 0 ? Math.abs(answer) : 0;
  const { p05, p50, p95 } = bandOf(
    ensemble,
    isPositive ? withScatterAhead(figure, sd) : { ...figure, scatterSd: sd },
  );
  return { p05: Math.max(0, p05), p50, p95 };
}

/** Loads to come: surer the more days there are, and no surer than the days behind tell the pace. */
function loadsBand(ensemble: Ensemble, days: readonly DayAhead[], { pace }: Outlook): Quantity {
  const best = loadsOf(days);
  const worked = Math.max(1, days.filter(({ loads }) => loads > 0).length);
  const squares = pace.dayScatter ** 2 * (1 / worked + (pace.basisDays > 0 ? 1 / pace.basisDays : 0));
  const values = ensemble.worlds.map(() => best);
  return bandOf(ensemble, withScatterAhead({ best, values }, best > 0 ? Math.sqrt(squares) : 0));
}

function scaled({ p05, p50, p95 }: Quantity, by: number): Quantity {
  return { p05: (p05 ?? p50) * by, p50: p50 * by, p95: (p95 ?? p50) * by };
}
