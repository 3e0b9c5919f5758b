/**
 * One plant through its years in one drawn world, changed when the ledger's own estimate says so: README.md 2.
 */
import type { Plant } from './plant.ts';
import { type Schedule, YEAR_DAYS } from './schedule.ts';
import { count, emptySpread } from './spread.ts';
import { World, type WorldFactors } from './world.ts';

/** What was counted, over whole cycles from one change to another. */
export interface Counts {
  days: number;
  washes: number;
  parts: number;
  pouredMl: number;
  wasteMl: number;
  /** Liquid from the baths and what rinses took off. */
  wasteG: number;
  changes: number;
  /** Washes that began with a bath at or above its resin limit, or its water limit. */
  overLimit: number;
  /** Resin of the last bath as each load leaves it, wt%; residue on the parts, µg/cm². */
  lastBath: Uint32Array;
  residue: Uint32Array;
}

function noCounts(): Counts {
  return {
    days: 0,
    washes: 0,
    parts: 0,
    pouredMl: 0,
    wasteMl: 0,
    wasteG: 0,
    changes: 0,
    overLimit: 0,
    lastBath: emptySpread(),
    residue: emptySpread(),
  };
}

/** Changes after which the baths have forgotten that they began fresh: each leaves at most e⁻¹ of it, 0.1 in ordinary use. */
const WARM_UP_CHANGES = 3;
/** From so many days on the next change will do, and days count at last although nothing was changed. */
const WARM_UP_DAYS = 4 * YEAR_DAYS;
const UNCHANGED_DAYS = 6 * YEAR_DAYS;
/** The most that count. */
const MOST_DAYS = 10 * YEAR_DAYS;

/**
 * Runs until whole cycles have filled a year.
 *
 * @param truth - factors of the world that is drawn
 * @param estimate - factors of the ledger's estimate, on which the shop decides
 * @returns what was counted, and the washes followed in both worlds whether they counted or not
 */
export function runYears(
  plant: Plant,
  schedule: Schedule,
  truth: WorldFactors,
  estimate: WorldFactors,
): { counts: Counts; followed: number } {
  const run = new Run(plant, schedule, truth, estimate);
  return { counts: run.counts(), followed: run.followed };
}

class Run {
  followed = 0;
  private readonly plant: Plant;
  private readonly schedule: Schedule;
  private readonly truth: World;
  private readonly ledger: World;
  private counted: Counts | undefined;
  private days = 0;
  private changes = 0;
  private sinceChange = 0;
  private over = false;

  constructor(plant: Plant, schedule: Schedule, truth: WorldFactors, estimate: WorldFactors) {
    this.plant = plant;
    this.schedule = schedule;
    this.truth = new World(plant, truth);
    this.ledger = new World(plant, estimate);
    for (let bath = 0; bath < plant.count; bath += 1) {
      this.truth.refill(bath);
      this.ledger.refill(bath);
    }
  }

  counts(): Counts {
    while (!this.over) {
      if (this.days === UNCHANGED_DAYS && !this.counted) this.begin();
      this.day(this.days % YEAR_DAYS);
      this.days += 1;
      if (this.counted) this.counted.days += 1;
      if (this.counted && this.counted.days >= MOST_DAYS) break;
      // A shop that has changed nothing in all these years will not.
      if (this.changes === 0 && this.days >= UNCHANGED_DAYS + YEAR_DAYS) break;
    }
    return this.end();
  }

  private begin(): void {
    this.counted = noCounts();
    this.truth.pouredMl = 0;
    this.truth.wasteMl = 0;
    this.truth.wasteG = 0;
  }

  private end(): Counts {
    const counted = this.counted ?? noCounts();
    counted.pouredMl = this.truth.pouredMl;
    counted.wasteMl = this.truth.wasteMl;
    counted.wasteG += this.truth.wasteG;
    return counted;
  }

  private day(day: number): void {
    const { schedule } = this;
    this.level();
    for (let at = schedule.starts[day]!; at < schedule.starts[day + 1]!; at += 1) {
      this.wash(schedule.load[at]!, schedule.scatter[at]!);
      this.changeWhenDue();
      if (this.over) return;
    }
    this.truth.stand(24);
    this.ledger.stand(24);
    this.changeWhenDue();
  }

  /** A level is seen; the ledger is told that the bath was filled to its mark. */
  private level(): void {
    const { plant, truth, ledger } = this;
    for (let bath = 0; bath < plant.count; bath += 1) {
      const holds = truth.volumeMl(bath);
      if (holds < plant.topUpBelow * plant.baths.markMl[bath]!) {
        truth.topUp(bath);
        ledger.topUp(bath);
      } else if (holds > plant.baths.brimMl[bath]!) {
        truth.bail(bath);
        if (ledger.volumeMl(bath) > plant.baths.markMl[bath]!) ledger.bail(bath);
      }
    }
  }

  private wash(load: number, scatter: number): void {
    const { plant, truth, counted } = this;
    const isOver = counted !== undefined && this.isOverLimit();
    truth.wash(load, scatter);
    this.ledger.wash(load, 1);
    this.followed += 2;
    this.sinceChange += 1;
    if (!counted) return;
    counted.washes += 1;
    counted.parts += plant.loads.parts[load]!;
    counted.wasteG += truth.trayG;
    if (isOver) counted.overLimit += 1;
    count(counted.lastBath, 100 * truth.resinFraction(plant.count - 1));
    const areaCm2 = plant.loads.areaCm2[load]!;
    if (areaCm2 > 0) count(counted.residue, (1e6 * truth.residueG) / areaCm2);
  }

  private isOverLimit(): boolean {
    const { baths, count: many } = this.plant;
    for (let bath = 0; bath < many; bath += 1) {
      if (this.truth.resinFraction(bath) >= baths.resinLimit[bath]!) return true;
      if (this.truth.waterFraction(bath) >= baths.waterLimit[bath]!) return true;
    }
    return false;
  }

  /** Changes the baths where the estimate is at the share of a limit at which this shop acts, or so many washes have gone through. */
  private changeWhenDue(): void {
    const { plant, ledger } = this;
    const { baths, changeAt, count: many } = plant;
    let due = this.sinceChange >= plant.everyWashes;
    let all = plant.rule === 'refill';
    for (let bath = 0; bath < many; bath += 1) {
      const resin = ledger.resinFraction(bath);
      if (resin >= changeAt * baths.resinLimit[bath]!) due = true;
      if (ledger.waterFraction(bath) >= baths.waterLimit[bath]!) {
        due = true;
        // Water in a bath that moves on stays where it is put.
        if (bath > 0) all = true;
      }
      if (bath > 0 && resin >= changeAt * baths.resinLimit[bath - 1]!) all = true;
    }
    if (due) this.change(all);
  }

  private change(all: boolean): void {
    for (const world of [this.truth, this.ledger]) {
      if (all) for (let bath = 0; bath < this.plant.count; bath += 1) world.refill(bath);
      else world.rotate();
    }
    this.changes += 1;
    this.sinceChange = 0;
    const { counted } = this;
    if (counted) {
      counted.changes += 1;
      this.over = counted.days >= YEAR_DAYS && counted.changes >= 2;
    } else if (this.changes >= WARM_UP_CHANGES || this.days >= WARM_UP_DAYS) this.begin();
  }
}
