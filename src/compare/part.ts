/**
 * One habit in some of the drawn worlds: the piece of work that a worker is given.
 */
import type { AllFactors } from '../bath/replay.ts';
import { factorsFor } from './draws.ts';
import type { Plant } from './plant.ts';
import { type Counts, runYears } from './run.ts';
import { scheduleOf } from './schedule.ts';
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

/** Runs the draws from `from` up to but not including `to`. The same draw brings every habit the same loads. */
export function runPart(plant: Plant, basis: Basis, from: number, to: number): Part {
  const part: Part = { rows: [], lastBath: emptySpread(), residue: emptySpread(), followed: 0 };
  const estimate = factorsFor(plant.places, basis.best);
  for (let draw = from; draw < to; draw += 1) {
    const seed = basis.seed * SEED_STRIDE + draw;
    const schedule = scheduleOf({ seed, perDay: basis.perDay, loads: plant.loads.parts.length });
    const truth = factorsFor(plant.places, basis.draws[draw]!);
    const { followed, counts } = runYears(plant, schedule, truth, estimate);
    const { lastBath, residue, ...row } = counts;
    part.rows.push(row);
    part.followed += followed;
    addSpread(part.lastBath, lastBath);
    addSpread(part.residue, residue);
  }
  return part;
}

/** Adds a part of the same habit to another. */
export function joinPart(to: Part, more: Part): void {
  to.rows.push(...more.rows);
  addSpread(to.lastBath, more.lastBath);
  addSpread(to.residue, more.residue);
  to.followed += more.followed;
}
