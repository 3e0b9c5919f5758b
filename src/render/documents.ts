/**
 * Machine output: the `data` of the JSON documents, in base units, under the keys other programs read.
 */
import { figuresOf } from '../bath/figures.ts';
import type { Shop } from '../bath/shop.ts';
import type { Bath } from '../bath/state.ts';
import { held } from '../bath/tally.ts';
import type { BathEstimate } from '../outlook/estimate.ts';
import { best, type Quantity } from '../outlook/quantity.ts';
import type { Status } from '../outlook/status.ts';
import { adviceText } from './advice.ts';

/** The data of `bathbook/baths/1`. */
export function bathsDocument(status: Status): Record<string, unknown> {
  const { replayed, estimates, advice, factors, shop } = status;
  return {
    baths: estimates.map(bathDocument),
    last_wash: lastWashDocument(status),
    advice: {
      action: advice.action,
      text: adviceText(advice, estimates),
      loads_left: status.left ? best(status.left.loads) : null,
      date: null,
    },
    factors: {
      carry: best(factors.carry),
      drag: best(factors.drag),
      dissolution: best(factors.dissolution),
      evaporation: byBath(shop, (place) => best(factors.air[place]!.evaporation)),
      moisture: byBath(shop, (place) => best(factors.air[place]!.moisture)),
    },
    tally_g: { ...replayed.tally, held: held(replayed.baths) },
  };
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

function lastWashDocument({ replayed }: Status): Record<string, unknown> | null {
  const last = replayed.recent.at(-1);
  if (!last) return null;
  const { outcome, entry } = last;
  return {
    id: entry.event.id,
    carry_g: best(outcome.carryG),
    drag_ml: outcome.dragMl,
    residue_ug_per_cm2: best(outcome.residueUgPerCm2),
    area_cm2: outcome.areaCm2,
  };
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
