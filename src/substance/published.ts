/**
 * The published tables of isopropanol with water, read from data/*.csv. Import this only where tables are looked up: it brings
 * their text along.
 */

import densityText from '../../data/ipa_water_density.csv';
import indexText from '../../data/refractive_index.csv';

interface Point {
  wtPct: number;
  value: number;
  /** What is known to be wrong with it: see data/SOURCES.md. */
  flag?: Flag;
}

/** One source at one temperature, by rising strength, without the rows its own page calls suspect. */
export interface Column {
  source: string;
  tempC: number;
  points: readonly Point[];
}

/** Flags that a reader has to know; `suspect` rows are left out altogether. */
const FLAGS = ['column_bias', 'reads_high', 'rounded'] as const;
export type Flag = (typeof FLAGS)[number];

export const DENSITY_COLUMNS: readonly Column[] = readColumns(densityText);
export const INDEX_COLUMNS: readonly Column[] = readColumns(indexText);

/** Rows farther apart than this, in wt%, are not joined; below 40 wt% the curve bends and turns too much for wide gaps. */
const WIDEST_GAP_WT = { weak: 12, strong: 22 } as const;

/** Columns of one source may be joined by a straight line in temperature when they are no farther apart than this. */
const WIDEST_GAP_C = 10;

/**
 * The columns at a temperature: those measured at it, and those between two columns of one source at most 10 °C apart.
 * No source is carried beyond its own temperatures.
 */
export function columnsAt(columns: readonly Column[], tempC: number): Column[] {
  const sources = [...new Set(columns.map(({ source }) => source))];
  return sources.flatMap((source) => {
    const own = columns.filter((column) => column.source === source);
    const exact = own.find((column) => Math.abs(column.tempC - tempC) < 0.005);
    return exact ? [exact] : between(own, tempC);
  });
}

function between(own: readonly Column[], tempC: number): Column[] {
  const colder = own.filter((column) => column.tempC < tempC).at(-1);
  const warmer = own.find((column) => column.tempC > tempC);
  if (!colder || !warmer || warmer.tempC - colder.tempC > WIDEST_GAP_C) return [];
  const share = (tempC - colder.tempC) / (warmer.tempC - colder.tempC);
  const points = colder.points.flatMap((point) => {
    const other = valueAt(warmer, point.wtPct);
    return other === null ? [] : [{ ...point, value: point.value + share * (other - point.value) }];
  });
  return points.length < 2 ? [] : [{ source: colder.source, tempC, points }];
}

/** The value of a column at a strength, by a cubic through the four nearest rows; null outside its rows or in a wide gap. */
export function valueAt({ points }: Column, wtPct: number): number | null {
  const next = points.findIndex((point) => point.wtPct >= wtPct);
  const after = points[next];
  if (!after || after.wtPct === wtPct) return after?.value ?? null;
  return next > 0 && isClose(points, next) ? cubic(points, next, wtPct) : null;
}

/** The flags of the two rows around a strength, or of the one row that has it. */
export function flagsAt({ points }: Column, wtPct: number): Flag[] {
  const next = points.findIndex((point) => point.wtPct > wtPct - 1e-9);
  const isRow = points[next] !== undefined && points[next].wtPct < wtPct + 1e-9;
  const around = points.slice(isRow ? next : Math.max(0, next - 1), next + 1);
  return [...new Set(around.flatMap(({ flag }) => flag ?? []))];
}

function isClose(points: readonly Point[], next: number): boolean {
  const [from, to] = [points[next - 1]!.wtPct, points[next]!.wtPct];
  return to - from <= (from < 36 ? WIDEST_GAP_WT.weak : WIDEST_GAP_WT.strong);
}

/** The strengths at which a column has a value: none, one, or two where an index rises and falls again. */
export function strengthsAt({ points }: Column, value: number): number[] {
  const found: number[] = [];
  for (let next = 1; next < points.length; next += 1) {
    const [from, to] = [points[next - 1]!, points[next]!];
    if (from.value === value) found.push(from.wtPct);
    else if ((from.value - value) * (to.value - value) < 0 && isClose(points, next)) {
      found.push(crossing(points, next, value));
    }
  }
  if (points.at(-1)?.value === value) found.push(points.at(-1)!.wtPct);
  return found;
}

function crossing(points: readonly Point[], next: number, value: number): number {
  let [low, high] = [points[next - 1]!.wtPct, points[next]!.wtPct];
  const rising = points[next]!.value > points[next - 1]!.value;
  for (let step = 0; step < 48; step += 1) {
    const middle = (low + high) / 2;
    if (cubic(points, next, middle) < value === rising) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Lagrange's polynomial through the four rows around the gap that ends at row `next`. */
function cubic(points: readonly Point[], next: number, wtPct: number): number {
  const first = Math.max(0, Math.min(next - 2, points.length - 4));
  const around = points.slice(first, first + 4);
  return around.reduce((sum, { wtPct: own, value }) => {
    const weight = around.reduce(
      (product, { wtPct: other }) => (other === own ? product : (product * (wtPct - other)) / (own - other)),
      1,
    );
    return sum + weight * value;
  }, 0);
}

/** A file of rows `source, temp_C, wt_pct_ipa, value, flag`, as columns in the order of their temperatures. */
function readColumns(text: string): Column[] {
  const columns = new Map<string, { source: string; tempC: number; points: Point[] }>();
  for (const line of text.trim().split(/\r?\n/).slice(1)) {
    const [source, temp, strength, value, flag] = line.split(',') as [string, string, string, string, string];
    const key = `${source} ${temp}`;
    const column = columns.get(key) ?? { source, tempC: Number(temp), points: [] };
    columns.set(key, column);
    if (flag === 'suspect') continue;
    const known = FLAGS.find((one) => one === flag);
    column.points.push({ wtPct: Number(strength), value: Number(value), ...(known ? { flag: known } : {}) });
  }
  const inOrder = [...columns.values()].filter(({ points }) => points.length > 1);
  for (const { points } of inOrder) points.sort((a, b) => a.wtPct - b.wtPct);
  return inOrder.sort((a, b) => a.tempC - b.tempC);
}
