// How honest a band is: each simulated shop judged with 0, 1, 3 and 10 readings against its truth, the exact posterior
// of the same shop beside it, and the sums over many shops.
import { exactPosteriors } from './exact.mjs';
import { eventsWith, makeShop, READINGS } from './shops.mjs';

/**
 * @typedef {import('./exact.mjs').Belief} Belief
 * @typedef {(header: any, events: any[], clockIso: string) => Record<string, Belief>} Judge
 * @typedef {{in90: number, in50: number, low: number, high: number, width: number, water90: number, water50: number, score: number}} Marks of one bath; 1 or 0, but for width (p95/p05) and score (ln density)
 * @typedef {{shop: number, bath: string, readings: number, judged?: Marks, exact?: Marks, ess?: number, draws?: number, problem?: string}} Row
 * @typedef {{shops: number, cover90: number, cover50: number, low: number, high: number, width: number, score: number, water90: number, water50: number}} Sums
 * @typedef {{bath: string, readings: number, judged: Sums, exact: Sums, difference: number, differenceSe: number, essMedian: number, essWorst: number, drawsMedian: number}} Cell
 * @typedef {{cells: Cell[], problems: string[], lost: number}} Figures
 */

/** @param {Belief} belief @param {{resinWtPct: number, waterWtPct: number}} truth @returns {Marks} */
function marksOf({ q, water, logDensity }, { resinWtPct, waterWtPct }) {
  const within = (/** @type {number} */ low, /** @type {number} */ x, /** @type {number} */ high) =>
    Number(low <= x && x <= high);
  return {
    in90: within(q.p05, resinWtPct, q.p95),
    in50: within(q.p25, resinWtPct, q.p75),
    low: Number(resinWtPct < q.p05),
    high: Number(resinWtPct > q.p95),
    width: q.p95 / q.p05,
    water90: within(water.p05, waterWtPct, water.p95),
    water50: within(water.p25, waterWtPct, water.p75),
    score: logDensity(resinWtPct),
  };
}

/**
 * One shop with every number of readings.
 * @param {number} index
 * @param {{seed: number, draws: number, judge: Judge | undefined, withExact: boolean}} how
 * @returns {Row[]}
 */
export function judgeShop(index, { seed, draws, judge, withExact }) {
  const shop = makeShop(seed, index);
  const exact = withExact ? exactPosteriors(shop, { seed: seed * 1_000_003 + index, draws }) : [];
  return READINGS.flatMap((readings, i) => {
    /** @type {Record<string, Belief> | undefined} */
    let judged;
    let problem = '';
    try {
      judged = judge?.(shop.header, eventsWith(shop, readings), shop.clock);
    } catch (error) {
      problem = `Shop ${index}, ${readings} readings: ${error instanceof Error ? error.message : error}`;
    }
    return Object.entries(shop.truth).map(([bath, truth]) => ({
      shop: index,
      bath,
      readings,
      ...(problem === '' ? {} : { problem }),
      ...(judged ? { judged: marksOf(judged[bath], truth) } : {}),
      ...(exact[i]
        ? { exact: marksOf(exact[i].baths[bath], truth), ess: exact[i].ess, draws: exact[i].draws }
        : {}),
    }));
  });
}

/** @param {number[]} list */
function mean(list) {
  return list.reduce((sum, one) => sum + one, 0) / list.length;
}

/** @param {number[]} list */
export function median(list) {
  const sorted = list.toSorted((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}

/** @param {Marks[]} marks @returns {Sums} */
function sumsOf(marks) {
  const of = (/** @type {keyof Marks} */ key) => mean(marks.map((one) => one[key]));
  return {
    shops: marks.length,
    cover90: of('in90'),
    cover50: of('in50'),
    low: of('low'),
    high: of('high'),
    width: median(marks.map(({ width }) => width)),
    score: of('score'),
    water90: of('water90'),
    water50: of('water50'),
  };
}

/** @param {Row[]} rows of one bath and number of readings @returns {Cell} */
function cellOf(rows) {
  const { bath, readings } = rows[0];
  const differences = rows.flatMap(({ judged, exact }) =>
    judged && exact ? [judged.score - exact.score] : [],
  );
  const difference = mean(differences);
  const spread = mean(differences.map((one) => (one - difference) ** 2));
  const ess = rows.flatMap((row) => row.ess ?? []);
  return {
    bath,
    readings,
    judged: sumsOf(rows.flatMap((row) => row.judged ?? [])),
    exact: sumsOf(rows.flatMap((row) => row.exact ?? [])),
    difference,
    differenceSe: Math.sqrt(spread / Math.max(differences.length - 1, 1)),
    essMedian: median(ess),
    essWorst: ess.reduce((least, one) => Math.min(least, one), Infinity),
    drawsMedian: median(rows.flatMap((row) => row.draws ?? [])),
  };
}

/** @param {Row[]} rows @returns {Figures} */
export function summarise(rows) {
  const cells = ['dirty', 'clean'].flatMap((bath) =>
    READINGS.map((readings) => cellOf(rows.filter((row) => row.bath === bath && row.readings === readings))),
  );
  const problems = [...new Set(rows.flatMap(({ problem }) => problem ?? []))];
  const lost = rows.filter(({ judged }) => judged && !Number.isFinite(judged.score)).length;
  return { cells, problems, lost };
}

/**
 * Judges shops 0 to judged − 1, the first few also exactly, in this process.
 * @param {{judge: Judge, seed?: number, draws?: number, shops?: number, judged?: number}} how shops: those the exact posterior is worked out for
 * @returns {Figures}
 */
export function honesty({ judge, seed = 1, draws = 40_000, shops = 40, judged = shops }) {
  return summarise(
    Array.from({ length: judged }, (_, index) =>
      judgeShop(index, { seed, draws, judge, withExact: index < shops }),
    ).flat(),
  );
}

/** Half width of the 95 % interval of a share seen in so many shops. @param {number} share @param {number} shops */
export function plusMinus(share, shops) {
  return 1.96 * Math.sqrt((share * (1 - share)) / shops);
}
