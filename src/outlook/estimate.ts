/**
 * The state of each bath as people are told it: figures with their band, age, washes, verdict.
 */
import { type Figures, figuresOf } from '../bath/figures.ts';
import type { Replay } from '../bath/replay.ts';
import { brimOf, type Shop, type Tub } from '../bath/shop.ts';
import { type Bath, isBeyondModel, resinMass } from '../bath/state.ts';
import { bandOf } from '../belief/band.ts';
import type { Belief } from '../belief/belief.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Doubted } from '../belief/lessons.ts';
import type { Quantity } from './quantity.ts';
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
  /** Volume to the brim. */
  brimMl: number;
  /** Its last reading, where that was too far off to be chance and the liquid has not been changed since. */
  doubted?: { id: string; misfit: number };
  /** The IPA has evaporated and left the resin. */
  dry: boolean;
  /** The solvent holds less IPA than the data reach; figures are not to be trusted. */
  beyondModel: boolean;
}

const MS_PER_DAY = 86_400_000;
/** Step of the resin by which a figure's answer to its scatter is found. */
const STEP = 0.01;

/**
 * Estimates for all baths of the shop, in its order, at the clock.
 *
 * @param belief - brought to the clock
 */
export function estimateBaths(
  shop: Shop,
  replayed: Pick<Replay, 'baths'>,
  clockMs: number,
  { ensemble, lessons }: Pick<Belief, 'ensemble' | 'lessons'>,
): BathEstimate[] {
  return shop.tubs.map((tub, place) => {
    const bath = replayed.baths[place]!;
    const figures = bandsOf(shop, bath, place, ensemble);
    const { resinWtPct, waterWtPct } = figures;
    const ageDays = Number.isNaN(bath.pouredMs) ? null : Math.max(0, (clockMs - bath.pouredMs) / MS_PER_DAY);
    const judged =
      resinWtPct === null || waterWtPct === null
        ? ({ verdict: 'stop', because: 'none' } as const)
        : isBeyondModel(bath)
          ? ({ verdict: 'stop', because: 'water' } as const)
          : judgeBath({ resinWtPct, waterWtPct, ageDays: ageDays ?? 0 }, tub.limits);
    return {
      bath: tub.name,
      ...figures,
      washes: bath.washes,
      ageDays,
      limits: tub.limits,
      markMl: tub.markMl,
      brimMl: brimOf(tub),
      ...judged,
      // What is left without IPA is resin, and the water that the room's air keeps in it.
      dry: bath.dry || (bath.ipaG === 0 && bath.waterG > 0),
      beyondModel: isBeyondModel(bath),
      ...doubtOf(lessons.all.doubted, place, bath),
    };
  });
}

/** A reading taken before the liquid was changed says nothing of what is there now. */
function doubtOf(
  doubted: readonly Doubted[],
  place: number,
  { changedMs }: Bath,
): Pick<BathEstimate, 'doubted'> {
  const found = doubted.find(({ bath, atMs }) => bath === place && !(atMs < changedMs));
  return found ? { doubted: { id: found.id, misfit: found.misfit } } : {};
}

type Bands = { [Key in keyof Figures]: null extends Figures[Key] ? Quantity | null : Quantity };

/** Every figure of one bath with its band, from the same figure in every world. */
export function bandsOf(shop: Shop, bath: Bath, place: number, ensemble: Ensemble): Bands {
  const of = (held: Bath) => figuresOf(held, shop.resins, shop.roomC);
  const middle = ensemble.worlds[0]!.baths[place]!;
  const best = of(bath);
  const values = ensemble.worlds.map(({ baths }) => of(baths[place]!));
  const more = of({ ...middle, resin: middle.resin.map((grams) => grams * (1 + STEP)) });
  const grams = resinMass(middle);
  const scatter = grams > 0 ? Math.sqrt(ensemble.scatter[place]![place]!) / grams : 0;
  const band = (key: keyof Figures): Quantity | null => {
    if (best[key] === null) return null;
    const known = values.map((figures) => figures[key] ?? best[key]!);
    const answer = known[0]! > 0 ? Math.log((more[key] ?? known[0]!) / known[0]!) / Math.log1p(STEP) : 0;
    return bandOf(ensemble, { best: best[key], values: known, scatterSd: Math.abs(answer) * scatter });
  };
  return Object.fromEntries(Object.keys(best).map((key) => [key, band(key as keyof Figures)])) as Bands;
}
