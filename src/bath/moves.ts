/**
 * Moving liquid, README.md 5. Each move changes baths and tallies in place, or says why it cannot be.
 */
import type { DrainEvent, FillEvent, RefillEvent, RotateEvent, TopUpEvent } from '../ledger/event.ts';
import type { Shop, Solvent, Tub } from './shop.ts';
import {
  type Bath,
  bathVolume,
  emptyFilm,
  type Film,
  isEmpty,
  leaveEmpty,
  moveShare,
  resinMass,
} from './state.ts';
import type { Tally } from './tally.ts';

export interface Moving {
  shop: Shop;
  baths: Bath[];
  tally: Tally;
  /** The solvent most recently poured from stock, by name. */
  solvent: string | undefined;
}

/** What a move did: liquid poured from stock and liquid drained to waste. */
export interface MoveOutcome {
  /** From stock, mL at 20 °C, by solvent name. */
  pouredMl: number;
  solvent?: string;
  /** Of it, what a rotation poured into the dirty bath to reach its mark, mL. */
  makeUpMl?: number;
  /** To waste, mL at 20 °C, and what is in it, g. */
  wasteMl: number;
  waste: { resin: number; ipa: number; water: number };
}

export interface MoveRefusal {
  bath: string;
  why: 'not-empty' | 'holds-less' | 'no-solvent' | 'no-pair' | 'empty';
  holdsMl?: number;
  wantedMl?: number;
}

/** The moving events that are not washes. */
export type Move = FillEvent | TopUpEvent | DrainEvent | RotateEvent | RefillEvent;

/** Somebody who takes "all 4 L" out of 3.9999 L takes all. */
const ROUNDING = 1e-3;

/** Carries out a move; on refusal baths and tallies may be half-changed, and the caller restores them. */
export function carryOut(move: Move, atMs: number, on: Moving): MoveOutcome | MoveRefusal {
  switch (move.what) {
    case 'fill':
      return fill(move, atMs, on);
    case 'top-up':
      return topUp(move, atMs, on);
    case 'drain':
      return drain(move, on);
    case 'rotate':
      return rotate(move, atMs, on);
    case 'refill':
      return refill(move, atMs, on);
    default:
      return move satisfies never;
  }
}

function fill(move: FillEvent, atMs: number, on: Moving): MoveOutcome | MoveRefusal {
  const { bath } = tubOf(move.bath, on);
  if (!isEmpty(bath)) return notEmpty(move.bath, bath, on);
  startAfresh(bath, atMs);
  return pour(bath, move.solvent, move.ml, atMs, on);
}

function notEmpty(name: string, bath: Bath, on: Moving): MoveRefusal {
  return { bath: name, why: 'not-empty', holdsMl: bathVolume(bath, on.shop.resins) };
}

/** The volume of a top-up counts as poured, so contraction can leave the bath a little off the mark. */
function topUp(move: TopUpEvent, atMs: number, on: Moving): MoveOutcome | MoveRefusal {
  const { bath, tub } = tubOf(move.bath, on);
  const missing = Math.max(0, tub.markMl - bathVolume(bath, on.shop.resins));
  const ml = move.to === 'mark' ? missing : (move.ml ?? 0);
  if (isEmpty(bath)) startAfresh(bath, atMs);
  if (move.from === 'clean') return topUpFromClean(bath, ml, on);
  const solvent = move.solvent ?? on.solvent;
  if (solvent === undefined) return { bath: move.bath, why: 'no-solvent' };
  return pour(bath, solvent, ml, atMs, on);
}

function topUpFromClean(bath: Bath, ml: number, on: Moving): MoveOutcome | MoveRefusal {
  const { bath: clean } = tubOf('clean', on);
  if (ml === 0) return nothingMoved();
  if (isEmpty(clean)) return { bath: 'clean', why: 'empty' };
  const holdsMl = bathVolume(clean, on.shop.resins);
  if (ml > holdsMl * (1 + ROUNDING)) return { bath: 'clean', why: 'holds-less', holdsMl, wantedMl: ml };
  moveShare(clean, Math.min(1, ml / holdsMl), bath);
  bath.pouredMs = older(bath.pouredMs, clean.pouredMs);
  bath.dry = false;
  if (isEmpty(clean)) leaveEmpty(clean);
  return nothingMoved();
}

function drain(move: DrainEvent, on: Moving): MoveOutcome | MoveRefusal {
  const { bath, tub } = tubOf(move.bath, on);
  const holdsMl = bathVolume(bath, on.shop.resins);
  if (holdsMl <= 0) return { bath: move.bath, why: 'empty' };
  const ml = move.all ? holdsMl : move.to === 'mark' ? Math.max(0, holdsMl - tub.markMl) : (move.ml ?? 0);
  if (ml > holdsMl * (1 + ROUNDING)) return { bath: move.bath, why: 'holds-less', holdsMl, wantedMl: ml };
  return { ...nothingMoved(), ...toWaste(bath, Math.min(1, ml / holdsMl), on) };
}

function refill(move: RefillEvent, atMs: number, on: Moving): MoveOutcome | MoveRefusal {
  const { bath, tub } = tubOf(move.bath, on);
  const solvent = move.solvent ?? on.solvent;
  if (solvent === undefined) return { bath: move.bath, why: 'no-solvent' };
  const waste = toWaste(bath, 1, on);
  startAfresh(bath, atMs);
  return { ...pour(bath, solvent, move.ml ?? tub.markMl, atMs, on), ...waste };
}

/**
 * All of dirty to waste; all of clean into dirty up to dirty's mark, the rest to waste, what is missing made up with
 * fresh solvent; clean filled fresh, to its mark unless `ml` says otherwise.
 */
function rotate(move: RotateEvent, atMs: number, on: Moving): MoveOutcome | MoveRefusal {
  if (!on.shop.tubPlace.has('dirty') || !on.shop.tubPlace.has('clean'))
    return { bath: 'clean', why: 'no-pair' };
  const solvent = move.solvent ?? on.solvent;
  if (solvent === undefined) return { bath: 'clean', why: 'no-solvent' };
  const { bath: dirty, tub: dirtyTub } = tubOf('dirty', on);
  const { bath: clean, tub: cleanTub } = tubOf('clean', on);
  const dumped = toWaste(dirty, 1, on);
  const cleanMl = bathVolume(clean, on.shop.resins);
  const pouredMs = clean.pouredMs;
  startAfresh(dirty, atMs);
  if (cleanMl > 0) moveShare(clean, Math.min(1, dirtyTub.markMl / cleanMl), dirty);
  const surplus = toWaste(clean, 1, on);
  const makeUp = Math.max(0, dirtyTub.markMl - cleanMl);
  pour(dirty, solvent, makeUp, atMs, on);
  dirty.pouredMs = older(dirty.pouredMs, pouredMs);
  startAfresh(clean, atMs);
  const fresh = pour(clean, solvent, move.ml ?? cleanTub.markMl, atMs, on);
  return {
    ...fresh,
    pouredMl: fresh.pouredMl + makeUp,
    makeUpMl: makeUp,
    wasteMl: dumped.wasteMl + surplus.wasteMl,
    waste: {
      resin: dumped.waste.resin + surplus.waste.resin,
      ipa: dumped.waste.ipa + surplus.waste.ipa,
      water: dumped.waste.water + surplus.waste.water,
    },
  };
}

/** Pours `ml` at 20 °C of a solvent from stock: m = V ρ_s(w, 20 °C), split by w. */
function pour(bath: Bath, name: string, ml: number, atMs: number, on: Moving): MoveOutcome {
  const solvent: Solvent = on.shop.solvents.get(name)!;
  const grams = ml * solvent.density;
  const ipa = grams * solvent.ipaFraction;
  const water = grams - ipa;
  bath.ipaG += ipa;
  bath.waterG += water;
  on.tally.in.ipa += ipa;
  on.tally.in.water += water;
  if (ml > 0) {
    bath.dry = false;
    bath.pouredMs = older(bath.pouredMs, atMs);
    on.solvent = name;
  }
  return { ...nothingMoved(), pouredMl: ml, solvent: name };
}

/** Takes a share of a bath to waste; a bath drained whole is empty of resin, too. */
function toWaste(bath: Bath, share: number, on: Moving): Pick<MoveOutcome, 'wasteMl' | 'waste'> {
  const wasteMl = bathVolume(bath, on.shop.resins) * share;
  const film: Film = emptyFilm();
  moveShare(bath, share, film);
  const waste = { resin: resinMass({ ...bath, resin: film.resin }), ipa: film.ipaG, water: film.waterG };
  on.tally.waste.resin += waste.resin;
  on.tally.waste.ipa += waste.ipa;
  on.tally.waste.water += waste.water;
  if (share === 1) leaveEmpty(bath);
  return { wasteMl, waste };
}

function startAfresh(bath: Bath, atMs: number): void {
  bath.washes = 0;
  bath.changedMs = atMs;
  bath.pouredMs = Number.NaN;
}

function older(one: number, other: number): number {
  if (Number.isNaN(one)) return other;
  return Number.isNaN(other) ? one : Math.min(one, other);
}

function nothingMoved(): MoveOutcome {
  return { pouredMl: 0, wasteMl: 0, waste: { resin: 0, ipa: 0, water: 0 } };
}

function tubOf(name: string, on: Moving): { bath: Bath; tub: Tub } {
  const place = on.shop.tubPlace.get(name)!;
  return { bath: on.baths[place]!, tub: on.shop.tubs[place]! };
}
