export interface Masses {
  resin: number;
  ipa: number;
  water: number;
}

export interface Resin {
  density: number;
  index: number;
}

export function bathDensity(held: Masses, resin: Resin, tempC: number): number;
export function bathVolume(held: Masses, resin: Resin): number;
export function indexOfBrix(brix: number): number;

export interface Plan {
  room: { resin: Resin };
  tubs: { name: string }[];
}

type Plain = Record<string, unknown>;

export function planOf(header: Plain, events: Plain[], clockIso: string): Plan;

/** Grams, one entry a draw. */
export interface Liquid {
  resin: Float64Array;
  ipa: Float64Array;
  water: Float64Array;
}

/** Grams into the first bath, mL out of each, grams of resin left on the parts; one entry a draw. */
export interface Wash {
  carry: Float64Array;
  drag: Float64Array[];
  left: Float64Array;
}

export interface Step {
  event: { id: string };
  area: number;
}

export class Simulation {
  constructor(plan: Plan, draws: unknown);
  run(after?: (step: Step, tubs: Liquid[], wash: Wash | undefined) => void): { tubs: Liquid[] };
}

export function medianDraws(plan: Plan, size?: number): unknown;

export interface Band {
  p05: number;
  p25: number;
  p50: number;
  p75: number;
  p95: number;
}

/** Of one bath: resin wt%, water wt% of the solvent, and the density of ln(resin wt%). */
export interface Belief {
  q: Band;
  water: Band;
  logDensity(resinWtPct: number): number;
}

export interface Exact {
  baths: Record<string, Belief>;
  ess: number;
  draws: number;
}

/** One for each count of readings. */
export function exactPosteriors(
  shop: { header: Plain; base: Plain[]; readings: Plain[]; clock: string },
  how: { seed: number; draws: number; counts?: readonly number[] },
): Exact[];

export type Judge = (header: unknown, events: readonly unknown[], clockIso: string) => Record<string, Belief>;

/** Shares of shops, but for the median width (p95/p05) and the mean score (ln density of ln resin wt% at the truth). */
export interface Sums {
  shops: number;
  cover90: number;
  cover50: number;
  /** Truth below p05. */
  low: number;
  /** Truth above p95. */
  high: number;
  width: number;
  score: number;
  water90: number;
  water50: number;
}

export interface Cell {
  bath: string;
  readings: number;
  judged: Sums;
  exact: Sums;
  /** Score judged less exact, over the shops both have, and its standard error. */
  difference: number;
  differenceSe: number;
  essMedian: number;
  essWorst: number;
  drawsMedian: number;
}

export interface Figures {
  cells: Cell[];
  problems: string[];
  /** Scores that are no number. */
  lost: number;
}

/** Judges the first shops of a seed; the exact posterior beside it for the first `shops` of the `judged`. */
export function honesty(how: {
  judge: Judge;
  seed?: number;
  draws?: number;
  shops?: number;
  judged?: number;
}): Figures;

/** Half width of the 95 % interval of a share seen in so many shops. */
export function plusMinus(share: number, shops: number): number;

/** Days to the first limit as the program states them; null where it sees none within a year. */
export interface Stated {
  days: { p05?: number; p50: number; p95?: number } | null;
  bath: string | null;
}

/** Shares of the shops that a date was stated for; `middle` and `width` are medians in days, `ratio` that of p95/p05. */
export interface DateCell {
  name: string;
  readings: number;
  shops: number;
  cover90: number;
  /** True day before p05. */
  early: number;
  /** True day after p95. */
  late: number;
  beforeMiddle: number;
  middle: number;
  width: number;
  ratio: number;
  bath: number;
  past: number;
  noneStated: number;
  noneTrue: number;
}

/** Dates of the first shops of a seed with 0, 1 and 3 readings; the first three cells are about all shops. */
export function dateHonesty(how: {
  state: (header: unknown, events: readonly unknown[], clockIso: string) => Stated;
  seed?: number;
  shops?: number;
}): { cells: DateCell[]; problems: string[] };
