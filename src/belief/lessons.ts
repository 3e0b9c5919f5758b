/**
 * What the readings of a ledger came to, all told: kept as they are compared, however long the ledger is.
 */
import type { Compared } from './belief.ts';
import type { Axis } from './factors.ts';

/** A reading too far off to be chance, with none of its bath since. */
export interface Doubted {
  bath: number;
  id: string;
  atMs: number;
  /** In standard deviations of the reading and the estimate together. */
  misfit: number;
}

/** Plain data. */
export interface LessonsSoFar {
  /** Readings and weighed loads compared with the estimate. */
  readings: number;
  /** Of them, those that brought the spread of a factor down by a hundredth or more. */
  taught: number;
  /** The same for each factor, in the order of the ensemble's axes. */
  taughtBy: number[];
  /** Those too far off to be chance, and the last three of them. */
  flagged: number;
  lastFlagged: { id: string; misfit: number }[];
  /** Baths whose last reading was too far off to be chance, by their place. */
  doubted: Doubted[];
  /** The time of the latest; 0 when there is none. */
  latestMs: number;
}

const LAST_FLAGGED = 3;

export class Lessons {
  readonly all: LessonsSoFar;
  private readonly axes: readonly Axis[];

  /** @param from - those of the readings before, which are carried on and changed */
  constructor(axes: readonly Axis[], from?: LessonsSoFar) {
    this.axes = axes;
    this.all = from ?? {
      readings: 0,
      taught: 0,
      taughtBy: axes.map(() => 0),
      flagged: 0,
      lastFlagged: [],
      doubted: [],
      latestMs: 0,
    };
  }

  note({ entry, bath, taught, flagged, misfit }: Compared): void {
    const { all } = this;
    all.readings += 1;
    all.latestMs = Math.max(all.latestMs, entry.atMs);
    if (taught.length > 0) all.taught += 1;
    for (const axis of taught) all.taughtBy[this.axes.indexOf(axis)]! += 1;
    if (bath !== undefined) all.doubted = all.doubted.filter((one) => one.bath !== bath);
    if (!flagged) return;
    if (bath !== undefined) all.doubted.push({ bath, id: entry.event.id, atMs: entry.atMs, misfit });
    all.flagged += 1;
    all.lastFlagged.push({ id: entry.event.id, misfit });
    if (all.lastFlagged.length > LAST_FLAGGED) all.lastFlagged.shift();
  }

  /** How many readings taught a factor of this name; of those of several baths, the one taught most. */
  taughtOf(name: Axis['name']): number {
    return Math.max(
      0,
      ...this.axes.map((axis, place) => (axis.name === name ? this.all.taughtBy[place]! : 0)),
    );
  }
}
