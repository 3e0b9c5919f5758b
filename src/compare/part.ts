/**
 * One habit in some of the drawn worlds: the piece of work that a worker is given.
 */
import type { AllFactors } from '../bath/replay.ts';
import { factorsFor } from './draws.ts';
import type { Plant } from './plant.ts';
import { type Counts, runYears } from './run.ts';
import { type Schedule, scheduleOf } from './schedule.ts';
import { addSpread, emptySpread } from './spread.ts';

/** What all habits of a comparison share. Plain data. */
export interface Basis {
  /** Drawn factors, by the tubs of the ledger. */
  draws: AllFactors[];
  /** Those of the ledger's estimate. */
  best: AllFactors;
  /** Mean loads by weekday, Sunday first. */
  perDay: readonly number[];
  seed: number;
}

/** What one drawn world counted; the spreads are those of the part. */
export type Row = Omit<Counts, 'lastBath' | 'residue'>;

export interface Part {
  rows: Row[];
  lastBath: Uint32Array;
  residue: Uint32Array;
  /** Washes followed, those that were not counted and those of the ledger's estimate as well. */
  followed: number;
}

/** More draws than any comparison has. */
const SEED_STRIDE = 1_000_003;
/** Drawing a year takes a third as long as running it, and habit after habit asks for the same few. */
const KEPT_SCHEDULES = 8;

/** Runs pieces of a comparison, one after the other. */
export class PartRunner {
  private readonly basis: Basis;
  private readonly kept = new Map<string, Schedule>();

  constructor(basis: Basis) {
    this.basis = basis;
  }

  /** Runs a habit in the draws from `from` up to but not including `to`. The same draw brings every habit the same loads. */
  run(plant: Plant, from: number, to: number): Part {
    const { best, draws } = this.basis;
    const part: Part = { rows: [], lastBath: emptySpread(), residue: emptySpread(), followed: 0 };
    const estimate = factorsFor(plant.places, best);
    for (let draw = from; draw < to; draw += 1) {
      const truth = factorsFor(plant.places, draws[draw]!);
      const schedule = this.schedule(draw, plant.loads.parts.length);
      const { followed, counts } = runYears(plant, schedule, truth, estimate);
      const { lastBath, residue, ...row } = counts;
      part.rows.push(row);
      part.followed += followed;
      addSpread(part.lastBath, lastBath);
      addSpread(part.residue, residue);
    }
    return part;
  }

  private schedule(draw: number, loads: number): Schedule {
    const { seed, perDay } = this.basis;
    const key = `${draw} ${loads}`;
    const schedule = this.kept.get(key) ?? scheduleOf({ seed: seed * SEED_STRIDE + draw, perDay, loads });
    this.kept.set(key, schedule);
    if (this.kept.size > KEPT_SCHEDULES) this.kept.delete(this.kept.keys().next().value!);
    return schedule;
  }
}

/** Adds a part of the same habit to another. */
export function joinPart(to: Part, more: Part): void {
  to.rows.push(...more.rows);
  addSpread(to.lastBath, more.lastBath);
  addSpread(to.residue, more.residue);
  to.followed += more.followed;
}
