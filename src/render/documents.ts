/**
 * Machine output: the `data` of the JSON documents, in base units, under the keys other programs read.
 */
import { figuresOf } from '../bath/figures.ts';
import type { Shop } from '../bath/shop.ts';
import type { Bath } from '../bath/state.ts';
import { held } from '../bath/tally.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { FactorName } from '../belief/factors.ts';
import { type BathEstimate, bandsOf } from '../outlook/estimate.ts';
import { factorBand } from '../outlook/factors-band.ts';
import type { LoadsLeft } from '../outlook/loads-left.ts';
import type { Outlook } from '../outlook/outlook.ts';
import { best, type Quantity } from '../outlook/quantity.ts';
import type { Status } from '../outlook/status.ts';
import { adviceText } from './advice.ts';

const MS_PER_DAY = 86_400_000;

/** The data of `bathbook/baths/1`. */
export function bathsDocument(
  status: Status,
  on: { outlook: Outlook | null; time: (ms: number) => string },
): Record<string, unknown> {
  const { replayed, estimates, advice, factors, belief, shop } = status;
  const band = (name: FactorName, tub?: number) =>
    factorBand(factors, belief, tub === undefined ? { name } : { name, tub });
  return {
    baths: estimates.map(bathDocument),
    last_wash: lastWashDocument(status),
    advice: {
      action: advice.action,
      text: adviceText(advice, estimates),
      loads_left: loadsDocument(status.left),
      date: dateDocument(status, on),
    },
    factors: {
      carry: band('carry'),
      drag: band('drag'),
      dissolution: band('dissolution'),
      evaporation: byBath(shop, (place) => band('evaporation', place)),
      moisture: byBath(shop, (place) => band('moisture', place)),
    },
    tally_g: { ...replayed.tally, held: held(replayed.baths) },
  };
}

/** When the first limit is met at the shop's own pace. */
function dateDocument(
  { clockMs }: Status,
  { outlook, time }: { outlook: Outlook | null; time: (ms: number) => string },
): Record<string, string> | null {
  if (!outlook?.days) return null;
  const { p50, p05 = p50, p95 = p50 } = outlook.days;
  const date = (days: number) => time(clockMs + days * MS_PER_DAY);
  return { p05: date(p05), p50: date(p50), p95: date(p95) };
}

function byBath(shop: Shop, of: (place: number) => Quantity): Record<string, Quantity> {
  return Object.fromEntries(shop.tubs.map((tub, place) => [tub.name, of(place)]));
}

/** One bath of it. */
export function bathDocument(bath: BathEstimate): Record<string, unknown> {
  return {
    bath: bath.bath,
    volume_ml: bath.volumeMl,
    mass_g: bath.massG,
    resin_g: bath.resinG,
    ipa_g: bath.ipaG,
    water_g: bath.waterG,
    resin_wt_pct: bath.resinWtPct,
    resin_g_per_l: bath.resinGPerL,
    resin_vol_pct: bath.resinVolPct,
    water_wt_pct: bath.waterWtPct,
    density_20c_g_ml: bath.density20,
    density_room_g_ml: bath.densityRoom,
    refractive_index_room: bath.indexRoom,
    washes: bath.washes,
    age_days: bath.ageDays,
    limits: {
      resin_wt_pct: bath.limits.resin,
      water_wt_pct: bath.limits.water,
      age_days: bath.limits.ageDays,
    },
    verdict: bath.verdict,
    because: bath.because,
    dry: bath.dry,
    beyond_model: bath.beyondModel,
  };
}

function lastWashDocument({ lastWash }: Status): Record<string, unknown> | null {
  if (!lastWash) return null;
  return {
    id: lastWash.id,
    carry_g: lastWash.carryG,
    drag_ml: lastWash.dragMl.map(({ p50 }) => p50),
    residue_ug_per_cm2: lastWash.residueUgPerCm2,
    area_cm2: lastWash.areaCm2,
  };
}

/** Loads left with their band; null when they cannot be counted. */
export function loadsDocument(left: LoadsLeft | null): Quantity | null {
  if (!left) return null;
  const { p05, p95 } = left;
  return p05 === undefined || p95 === undefined ? best(left.loads) : { p05, p50: left.loads, p95 };
}

/** The baths at best estimate, by name, as `entries --states` gives them after each event. */
export function statesDocument(baths: readonly Bath[], shop: Shop): Record<string, unknown> {
  return Object.fromEntries(
    shop.tubs.map((tub, place) => {
      const figures = figuresOf(baths[place]!, shop.resins, shop.roomC);
      return [
        tub.name,
        {
          resin_g: figures.resinG,
          ipa_g: figures.ipaG,
          water_g: figures.waterG,
          volume_ml: figures.volumeMl,
          resin_wt_pct: figures.resinWtPct,
          resin_vol_pct: figures.resinVolPct,
          water_wt_pct: figures.waterWtPct,
        },
      ];
    }),
  );
}

/** The bands about them, by name. */
export function bandsDocument(
  baths: readonly Bath[],
  shop: Shop,
  ensemble: Ensemble,
): Record<string, StateBand> {
  return Object.fromEntries(
    shop.tubs.map((tub, place) => {
      const { resinWtPct, waterWtPct, volumeMl } = bandsOf(shop, baths[place]!, place, ensemble);
      return [tub.name, { resin_wt_pct: resinWtPct, water_wt_pct: waterWtPct, volume_ml: volumeMl }];
    }),
  );
}

export interface StateBand {
  resin_wt_pct: Quantity | null;
  water_wt_pct: Quantity | null;
  volume_ml: Quantity;
}
