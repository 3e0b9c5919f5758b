/**
 * A curve thinned while it is made: as many points as a picture of it can show.
 *
 * The window is cut into columns, each about as wide as a dot of the picture. Of the points in a column stay the first, the lowest, the
 * highest and the last: a line through those covers the same dots as the line through all. Extremes are never lost.
 */

/** A value at a moment; null where there is none from here on. */
export interface Point {
  atMs: number;
  value: number | null;
}

interface Column {
  place: number;
  first: Known;
  low: Known;
  high: Known;
  last: Known;
  /** When there was none any more, if that is how it ended. */
  goneMs: number | undefined;
}

type Known = Point & { value: number };

/** Dots of a picture of usual width, and some. */
const COLUMNS = 480;

export class Thinned {
  private readonly fromMs: number;
  private readonly widthMs: number;
  private readonly kept: Point[] = [];
  private column: Column | undefined;

  /** @param columns - about so many, over the window */
  constructor({ fromMs, toMs }: { fromMs: number; toMs: number }, columns = COLUMNS) {
    this.fromMs = fromMs;
    this.widthMs = Math.max(1, (toMs - fromMs) / columns);
  }

  /** In order of time. */
  add(atMs: number, value: number | null): void {
    if (value === null) {
      if (this.column) this.column.goneMs ??= atMs;
      return;
    }
    const place = Math.floor((atMs - this.fromMs) / this.widthMs);
    const point = { atMs, value };
    if (this.column?.place !== place) {
      this.close();
      this.column = { place, first: point, low: point, high: point, last: point, goneMs: undefined };
      return;
    }
    const { column } = this;
    if (value < column.low.value) column.low = point;
    if (value > column.high.value) column.high = point;
    column.last = point;
    // A gap within a column is narrower than a dot.
    column.goneMs = undefined;
  }

  points(): Point[] {
    this.close();
    return this.kept;
  }

  private close(): void {
    const { column } = this;
    this.column = undefined;
    if (!column) return;
    const { first, low, high, last, goneMs } = column;
    const inner = [low, high].sort((one, other) => one.atMs - other.atMs);
    for (const point of [first, ...inner, last]) this.keep(point);
    if (goneMs !== undefined) this.kept.push({ atMs: goneMs, value: null });
  }

  private keep(point: Point): void {
    if (this.kept.at(-1) !== point) this.kept.push(point);
  }
}
