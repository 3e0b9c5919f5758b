/**
 * The change that baths are due for, by the rules of the advice, and the top-ups between.
 */
import { figuresOf } from '../bath/figures.ts';
import { carryOut, type Move, type MoveOutcome, type MoveRefusal } from '../bath/moves.ts';
import { brimOf, type Shop } from '../bath/shop.ts';
import { bathVolume, isBeyondModel } from '../bath/state.ts';
import { adviseOn, LOW_LEVEL } from './advice.ts';
import { nearest } from './ahead.ts';
import type { BathEstimate } from './estimate.ts';
import { best } from './quantity.ts';
import type { Going } from './until-days.ts';
import { judgeBath } from './verdict.ts';

/** Baths on their way, and the solvent that is poured. */
export interface Kept extends Going {
  solvent: string;
}

/** What one change took, mL at 20 °C and g. */
export interface Change {
  action: 'rotate' | 'refill';
  /** Those that got fresh solvent. */
  baths: string[];
  fillMl: number;
  /** What a rotation poured into the dirty bath to reach its mark. */
  makeUpMl: number;
  wasteMl: number;
  wasteG: number;
}

/**
 * Changes what is at its change limit: the first thing that the advice says to do now, without doubt or age. Changes the baths.
 *
 * @param pressing - takes the bath nearest to its limit for one that has met it
 * @returns null when nothing is due
 */
export function changeIfDue(kept: Kept, atMs: number, pressing = false): Change | null {
  const { shop, baths } = kept;
  const near = nearest(baths, shop);
  if (!pressing && near.share < 1) return null;
  const estimates = baths.map((_, place) => estimateOf(kept, place));
  const pressed = estimates.map((one): BathEstimate => {
    const isNear = pressing && one.bath === near.bath && near.share < 1;
    return isNear ? { ...one, verdict: 'change', because: near.what } : one;
  });
  const { action, bath } = adviseOn(pressed, shop, null);
  const named = bath ?? near.bath;
  switch (action) {
    case 'rotate':
      return changed(kept, atMs, 'rotate', [{ id: '', at: '', what: 'rotate' }]);
    case 'refill-both':
      return changed(kept, atMs, 'refill', ['dirty', 'clean'].map(refill));
    case 'refill-clean':
      return changed(kept, atMs, 'refill', [refill('clean')]);
    case 'refill':
      return changed(kept, atMs, 'refill', [refill(named)]);
    case 'top-up':
    case 'take-reading':
    case 'nothing':
      return null;
    default:
      return action satisfies never;
  }
}

function refill(bath: string): Move {
  return { id: '', at: '', what: 'refill', bath };
}

function changed(kept: Kept, atMs: number, action: Change['action'], moves: readonly Move[]): Change {
  const change: Change = { action, baths: [], fillMl: 0, makeUpMl: 0, wasteMl: 0, wasteG: 0 };
  for (const move of moves) {
    const { pouredMl, makeUpMl = 0, wasteMl, waste } = moved(kept, move, atMs);
    change.baths.push(move.what === 'refill' ? move.bath : 'clean');
    change.fillMl += pouredMl - makeUpMl;
    change.makeUpMl += makeUpMl;
    change.wasteMl += wasteMl;
    change.wasteG += waste.resin + waste.ipa + waste.water;
  }
  return change;
}

/** Tops up to the mark each bath that has fallen below nine tenths of it. @returns what was poured, mL at 20 °C */
export function topUpLow(kept: Kept, atMs: number, below = LOW_LEVEL): number {
  return kept.shop.tubs.reduce((sum, tub, place) => {
    if (!(bathVolume(kept.baths[place]!, kept.shop.resins) < below * tub.markMl)) return sum;
    return sum + moved(kept, { id: '', at: '', what: 'top-up', bath: tub.name, to: 'mark' }, atMs).pouredMl;
  }, 0);
}

/** Carries out a move that cannot be refused, since the solvent is named and the baths exist. */
function moved(kept: Kept, move: Move, atMs: number): MoveOutcome {
  const outcome: MoveOutcome | MoveRefusal = carryOut(move, atMs, kept);
  if ('why' in outcome) throw new Error(`A change ahead was refused: ${outcome.why}`);
  return outcome;
}

/** A bath of the way ahead as the advice looks at it: no band, and no age, which changes nothing by itself. */
function estimateOf({ shop, baths }: { shop: Shop; baths: Kept['baths'] }, place: number): BathEstimate {
  const tub = shop.tubs[place]!;
  const bath = baths[place]!;
  const figures = figuresOf(bath, shop.resins, shop.roomC);
  const { resinWtPct, waterWtPct } = figures;
  const known = (value: number | null) => (value === null ? null : best(value));
  const judged =
    resinWtPct === null || waterWtPct === null
      ? ({ verdict: 'stop', because: 'none' } as const)
      : judgeBath(
          { resinWtPct: best(resinWtPct), waterWtPct: best(waterWtPct), ageDays: 0 },
          { ...tub.limits, ageDays: Number.POSITIVE_INFINITY },
        );
  return {
    bath: tub.name,
    volumeMl: best(figures.volumeMl),
    massG: best(figures.massG),
    resinG: best(figures.resinG),
    ipaG: best(figures.ipaG),
    waterG: best(figures.waterG),
    resinWtPct: known(resinWtPct),
    resinGPerL: known(figures.resinGPerL),
    resinVolPct: known(figures.resinVolPct),
    waterWtPct: known(waterWtPct),
    density20: known(figures.density20),
    densityRoom: known(figures.densityRoom),
    indexRoom: known(figures.indexRoom),
    washes: bath.washes,
    ageDays: null,
    limits: tub.limits,
    markMl: tub.markMl,
    brimMl: brimOf(tub),
    ...judged,
    dry: bath.dry,
    beyondModel: isBeyondModel(bath),
  };
}
