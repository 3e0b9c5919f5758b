/** The time that a report is about. */
export interface Period {
  /** Not in it. */
  fromMs: number;
  /** The last moment in it. */
  toMs: number;
}

/** After the start, up to and including the end: of periods that follow each other, each moment is in one. */
export function isWithin({ fromMs, toMs }: Period, atMs: number): boolean {
  return atMs > fromMs && atMs <= toMs;
}
