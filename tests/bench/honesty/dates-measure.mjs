// How honest a date is: each simulated shop's stated days to the first change limit, with 0, 1 and 3 readings, against the day
// on which its true baths meet it, and the sums over many shops.
import { makeDatedShop } from './dates-shops.mjs';
import { DAY } from './design.mjs';
import { median } from './measure.mjs';
import { eventsWith } from './shops.mjs';

/**
 * @typedef {{days: {p05?: number, p50: number, p95?: number} | null, bath: string | null}} Stated
 * @typedef {(header: any, events: any[], clockIso: string) => Stated} State
 * @typedef {object} DateRow
 * @property {number} shop
 * @property {number} readings
 * @property {import('./dates-shops.mjs').Case} kind
 * @property {number} daysBehind from the first wash to the clock
 * @property {number} truth days, at most a year
 * @property {string | null} bath that meets its limit first in truth, null within no year
 * @property {Stated} [stated]
 * @property {string} [problem]
 * @typedef {object} DateCell shares of the shops that a date was stated for, but for `shops` and `none`
 * @property {string} name
 * @property {number} readings
 * @property {number} shops
 * @property {number} cover90
 * @property {number} early truth before p05
 * @property {number} late truth after p95
 * @property {number} beforeMiddle truth before p50
 * @property {number} middle median of p50, days
 * @property {number} width median of p95 − p05, days
 * @property {number} ratio median of p95/p05, where p95 is not 0
 * @property {number} bath where the first bath was the one named
 * @property {number} past where the truth was past a limit at the clock
 * @property {number} noneStated share of all shops for which no limit was seen within a year
 * @property {number} noneTrue share of all shops in which none was met
 * @typedef {{cells: DateCell[], problems: string[]}} DateFigures
 */

/** Numbers of readings that a date is stated with. */
const DATE_READINGS = [0, 1, 3];
/** The program looks no further, so neither does the truth. */
const YEAR = 365;

/** One shop with every number of readings. @param {number} index @param {{seed: number, state: State}} how @returns {DateRow[]} */
export function dateShop(index, { seed, state }) {
  const shop = makeDatedShop(seed, index);
  const { days, bath } = shop.truth;
  const first = shop.base.find(({ what }) => what === 'wash');
  const daysBehind = (Date.parse(shop.clock) - Date.parse(first?.at)) / DAY;
  const truth = Math.min(days, YEAR);
  return DATE_READINGS.map((readings) => {
    const row = { shop: index, readings, kind: shop.kind, daysBehind, truth, bath };
    try {
      return { ...row, stated: state(shop.header, eventsWith(shop, readings), shop.clock) };
    } catch (error) {
      const why = error instanceof Error ? error.message : error;
      return { ...row, problem: `Shop ${index}, ${readings} readings: ${why}` };
    }
  });
}

/** @param {string} name @param {DateRow[]} rows of one number of readings @returns {DateCell} */
function cellOf(name, rows) {
  const judged = rows.flatMap(({ truth, bath, stated }) => {
    if (!stated?.days) return [];
    const { p05 = Number.NaN, p50, p95 = Number.NaN } = stated.days;
    return [{ truth, p05, p50, p95, named: stated.bath === bath }];
  });
  /** @param {(row: typeof judged[number]) => boolean} is */
  const share = (is) => judged.filter(is).length / judged.length;
  const of = (/** @type {(row: DateRow) => boolean} */ is) => rows.filter(is).length / rows.length;
  return {
    name,
    readings: rows[0]?.readings ?? 0,
    shops: judged.length,
    cover90: share(({ truth, p05, p95 }) => p05 <= truth && truth <= p95),
    early: share(({ truth, p05 }) => truth < p05),
    late: share(({ truth, p95 }) => truth > p95),
    beforeMiddle: share(({ truth, p50 }) => truth < p50),
    middle: median(judged.map(({ p50 }) => p50)),
    width: median(judged.map(({ p05, p95 }) => p95 - p05)),
    ratio: median(judged.flatMap(({ p05, p95 }) => (p95 > 0 ? p95 / p05 : []))),
    bath: share(({ named }) => named),
    past: share(({ truth }) => truth === 0),
    noneStated: of(({ stated }) => stated?.days === null),
    noneTrue: of(({ bath }) => bath === null),
  };
}

/** Which shops a row of the table is about; the first is all of them. @type {[string, (row: DateRow) => boolean][]} */
const GROUPS = [
  ['all', () => true],
  ['still soak', ({ kind }) => kind.agitation === 'still'],
  ['stirred', ({ kind }) => kind.agitation === 'stirred'],
  ['regular pace', ({ kind }) => kind.pace === 'regular'],
  ['ragged pace', ({ kind }) => kind.pace === 'ragged'],
  ['usual air', ({ kind }) => kind.air === 'usual'],
  ['strong evaporation', ({ kind }) => kind.air === 'strong'],
  ['first week of washing', ({ daysBehind }) => daysBehind < 7],
  ['four weeks and more', ({ daysBehind }) => daysBehind >= 28],
];

/** @param {DateRow[]} rows @returns {DateFigures} */
export function summariseDates(rows) {
  const cells = GROUPS.flatMap(([name, isIn]) =>
    DATE_READINGS.map((readings) =>
      cellOf(
        name,
        rows.filter((row) => row.readings === readings && isIn(row)),
      ),
    ),
  );
  return { cells, problems: rows.flatMap(({ problem }) => problem ?? []) };
}

/** Dates of shops 0 to `shops` − 1 of a seed, in this process. @param {{state: State, seed?: number, shops?: number}} how @returns {DateFigures} */
export function dateHonesty({ state, seed = 1, shops = 40 }) {
  return summariseDates(Array.from({ length: shops }, (_, index) => dateShop(index, { seed, state })).flat());
}
