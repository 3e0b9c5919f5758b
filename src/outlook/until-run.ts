/**
 * One set of baths on its way to a day: washed, topped up, and changed as often as due.
 */
import type { Load } from '../bath/load.ts';
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath } from '../bath/state.ts';
import { copyTally, emptyTally, type Tally } from '../bath/tally.ts';
import type { WashRefusal } from '../bath/wash.ts';
import { nearest } from './ahead.ts';
import { type Change, changeIfDue, type Kept, topUpLow } from './until-change.ts';
import { type DayAhead, goingFrom, partsOfDay, standDay, washMany } from './until-days.ts';

/** What was counted on the way. */
export interface Course {
  changes: (Change & { atMs: number })[];
  topUpMl: number;
  pouredMl: number;
  wasteMl: number;
  wasteG: number;
  /** Solvent taken from stock, in order. */
  pours: { atMs: number; ml: number }[];
  /** How far to the next change at the end, 0 to 1: by the limit that is nearest, from where it stood after the last change. */
  underWay: number;
  /** What the next change would take. */
  next: { pouredMl: number; wasteMl: number; wasteG: number };
  /** Set where the loads could go no further: more would be carried out than a bath holds. */
  stopped: WashRefusal | null;
  baths: readonly Bath[];
  tally: Tally;
}

/**
 * Goes on to the end of the last day. In the morning a bath below nine tenths of its mark is topped up; the baths stand for the
 * day; its loads go through, and after each what is at its change limit is changed. A limit that is met at the start is seen to first.
 */
export function runCourse(
  shop: Shop,
  from: { baths: readonly Bath[]; factors: AllFactors },
  on: { load: Load; days: readonly DayAhead[]; solvent: string },
): Course {
  return new Way({ ...goingFrom(shop, from), solvent: on.solvent }, on.load).through(on.days);
}

class Way {
  private readonly kept: Kept;
  private readonly load: Load;
  private readonly course: Course;
  private readonly room: { baths: Bath[]; tally: Tally };
  /** Share of the nearest limit right after the last change. */
  private freshShare: number;

  constructor(kept: Kept, load: Load) {
    this.kept = kept;
    this.load = load;
    this.room = { baths: [], tally: emptyTally() };
    this.freshShare = nearest(kept.baths, kept.shop).share;
    this.course = {
      changes: [],
      topUpMl: 0,
      pouredMl: 0,
      wasteMl: 0,
      wasteG: 0,
      pours: [],
      underWay: 0,
      next: { pouredMl: 0, wasteMl: 0, wasteG: 0 },
      stopped: null,
      baths: kept.baths,
      tally: kept.tally,
    };
  }

  through(days: readonly DayAhead[]): Course {
    if (days[0]) this.change(days[0].startMs);
    for (const day of days) {
      this.topUp(day.startMs);
      standDay(this.kept, day);
      this.change(day.startMs);
      this.washDay(day);
      if (this.course.stopped) break;
    }
    return this.end();
  }

  private washDay(day: DayAhead): void {
    const { parts, each } = partsOfDay(day);
    for (let part = 0; part < parts && !this.course.stopped; part += 1) {
      // The middle of its part of the day, so that a change falls on the day of its load.
      const atMs = day.startMs + ((part + 0.5) / parts) * (day.endMs - day.startMs);
      this.wash(each, atMs);
      this.change(atMs);
    }
  }

  /** Loads for which a bath holds too little wait for it to be topped up. */
  private wash(loads: number, atMs: number): void {
    const { kept, room } = this;
    room.baths = kept.baths.map(copyBath);
    copyTally(room.tally, kept.tally);
    if (!washMany(kept, this.load, loads)) return;
    this.putBack();
    this.topUp(atMs, 1);
    room.baths = kept.baths.map(copyBath);
    copyTally(room.tally, kept.tally);
    this.course.stopped = washMany(kept, this.load, loads) ?? null;
    if (this.course.stopped) this.putBack();
  }

  private putBack(): void {
    const { kept, room } = this;
    kept.baths.splice(0, kept.baths.length, ...room.baths);
    copyTally(kept.tally, room.tally);
  }

  private topUp(atMs: number, below?: number): void {
    const ml = topUpLow(this.kept, atMs, below);
    this.course.topUpMl += ml;
    this.pour(atMs, ml);
  }

  /** A bath that is not of the pair is changed by itself: there may be one more. */
  private change(atMs: number): void {
    const { kept, course } = this;
    for (let more = kept.baths.length; more > 0; more -= 1) {
      const change = changeIfDue(kept, atMs);
      if (!change) return;
      course.changes.push({ ...change, atMs });
      course.wasteMl += change.wasteMl;
      course.wasteG += change.wasteG;
      this.pour(atMs, change.fillMl + change.makeUpMl);
      this.freshShare = nearest(kept.baths, kept.shop).share;
    }
  }

  private pour(atMs: number, ml: number): void {
    if (!(ml > 0)) return;
    this.course.pouredMl += ml;
    this.course.pours.push({ atMs, ml });
  }

  private end(): Course {
    const { kept, course, freshShare } = this;
    const { share } = nearest(kept.baths, kept.shop);
    course.underWay = Math.min(1, Math.max(0, (share - freshShare) / Math.max(1e-9, 1 - freshShare)));
    const supposed: Kept = { ...kept, baths: kept.baths.map(copyBath), tally: emptyTally() };
    const next = changeIfDue(supposed, 0, true);
    if (next)
      course.next = {
        pouredMl: next.fillMl + next.makeUpMl,
        wasteMl: next.wasteMl,
        wasteG: next.wasteG,
      };
    return course;
  }
}
