/**
 * The state of each bath as people are told it: figures with their band, age, washes, verdict.
 */
import { figuresOf } from '../bath/figures.ts';
import type { Replay } from '../bath/replay.ts';
import type { Shop, Tub } from '../bath/shop.ts';
import { isBeyondModel } from '../bath/state.ts';
import { best, type Quantity } from './quantity.ts';
import { type Because, judgeBath, type Verdict } from './verdict.ts';

export interface BathEstimate {
  bath: string;
  volumeMl: Quantity;
  massG: Quantity;
  resinG: Quantity;
  ipaG: Quantity;
  waterG: Quantity;
  /** Null while the bath holds no solvent; the densities and the index also where the data do not reach. */
  resinWtPct: Quantity | null;
  resinGPerL: Quantity | null;
  resinVolPct: Quantity | null;
  waterWtPct: Quantity | null;
  density20: Quantity | null;
  densityRoom: Quantity | null;
  indexRoom: Quantity | null;
  /** Washes since the liquid was last changed. */
  washes: number;
  /** Days since the oldest solvent in it was poured from stock; it moves with the liquid. Null when empty. */
  ageDays: number | null;
  limits: Tub['limits'];
  /** Volume at the mark. */
  markMl: number;
  verdict: Verdict;
  because: Because;
  /** The IPA has evaporated and left the resin. */
  dry: boolean;
  /** The solvent holds less IPA than the data reach; figures are not to be trusted. */
  beyondModel: boolean;
}

const MS_PER_DAY = 86_400_000;

/** Estimates for all baths of the shop, in its order, at the clock. */
export function estimateBaths(shop: Shop, replayed: Replay, clockMs: number): BathEstimate[] {
  return shop.tubs.map((tub, place) => {
    const bath = replayed.baths[place]!;
    const figures = figuresOf(bath, shop.resins, shop.roomC);
    const known = (value: number | null) => (value === null ? null : best(value));
    const resinWtPct = known(figures.resinWtPct);
    const waterWtPct = known(figures.waterWtPct);
    const ageDays = Number.isNaN(bath.pouredMs) ? null : Math.max(0, (clockMs - bath.pouredMs) / MS_PER_DAY);
    const judged =
      resinWtPct === null || waterWtPct === null
        ? ({ verdict: 'stop', because: 'none' } as const)
        : isBeyondModel(bath)
          ? ({ verdict: 'stop', because: 'water' } as const)
          : judgeBath({ resinWtPct, waterWtPct, ageDays: ageDays ?? 0 }, tub.limits);
    return {
      bath: tub.name,
      volumeMl: best(figures.volumeMl),
      massG: best(figures.massG),
      resinG: best(figures.resinG),
      ipaG: best(figures.ipaG),
      waterG: best(figures.waterG),
      resinWtPct,
      resinGPerL: known(figures.resinGPerL),
      resinVolPct: known(figures.resinVolPct),
      waterWtPct,
      density20: known(figures.density20),
      densityRoom: known(figures.densityRoom),
      indexRoom: known(figures.indexRoom),
      washes: bath.washes,
      ageDays,
      limits: tub.limits,
      markMl: tub.markMl,
      ...judged,
      // What is left without IPA is resin, and the water that the room's air keeps in it.
      dry: bath.dry || (bath.ipaG === 0 && bath.waterG > 0),
      beyondModel: isBeyondModel(bath),
    };
  });
}
