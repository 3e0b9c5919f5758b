/** The data of `bathbook/vapour/1`. */
import type { Range, Reach } from '../vapour/reach.ts';
import type { Vapour } from '../vapour/vapour.ts';
import type { VapourBasis } from './vapour.ts';
import { rough } from './vapour-words.ts';

/** Estimates carry two figures here as well: what reads this shows no more than it is given. */
export function vapourDocument(
  vapour: Vapour,
  on: {
    basis: VapourBasis;
    cautions: readonly string[];
    flammable: { lower: number; upper: number };
    flashPointC: number;
  },
): Record<string, unknown> {
  const { question, together, models, short, steady, near, trigger } = vapour;
  const { room } = question;
  return {
    cautions: on.cautions,
    tubs: vapour.tubs.map(tubDocument),
    left_out: on.basis.leftOut,
    factors: on.basis.factors,
    best_g_per_h: roughBand(together.best),
    caution_g_per_h: rough(together.caution),
    models: models.map(({ model, low, high }) => ({
      model: model.id,
      text: model.words,
      source: model.source,
      from_memory: model.fromMemory,
      low_g_per_h: rough(low),
      high_g_per_h: rough(high),
    })),
    room: {
      temp_c: question.tempC,
      volume_m3: room.volumeM3,
      air_m3_per_h: room.airM3PerH,
      mixing: question.mixing,
      mixing_worst: 0.1,
      assumed: on.basis.assumed,
    },
    open_min: question.openMin,
    near_m: question.nearM,
    air_ppm: {
      opening: rangeDocument(short),
      steady: rangeDocument(steady),
      near: near && rangeDocument(near),
    },
    flammable: {
      lower_vol_pct: on.flammable.lower,
      upper_vol_pct: on.flammable.upper,
      flash_point_c: on.flashPointC,
    },
    jurisdiction: question.jurisdiction,
    caution_trigger: { ppm: trigger.ppm, reached_by: reachWord(trigger.reach) },
    limits: vapour.limits.map(({ limit, reach }) => ({
      jurisdiction: limit.key,
      item: limit.item,
      kind: limit.kind,
      ppm: rough(limit.ppm),
      printed: limit.printed,
      citation: limit.citation,
      source: limit.source,
      status: limit.status,
      reached_by: reachWord(reach),
    })),
  };
}

function tubDocument({ tub, best, caution, headspace }: Vapour['tubs'][number]): Record<string, unknown> {
  return {
    tub: tub.name,
    surface_cm2: Number((tub.surfaceM2 * 1e4).toFixed(1)),
    freeboard_mm: Number((tub.freeboardM * 1000).toFixed(1)),
    ipa_activity: rough(tub.activity),
    factor: roughBand(tub.factor),
    best_g_per_h: roughBand(best),
    caution_g_per_h: rough(caution),
    headspace_vol_pct: rough(headspace.percent),
    headspace: headspace.place,
    inside_from_c: Math.round(headspace.fromC),
    inside_to_c: Math.round(headspace.toC),
  };
}

/** Null says that this estimate does not come to it, and nothing about the air. */
function reachWord(reach: Reach): string | null {
  return reach === 'none' ? null : reach;
}

function roughBand({ p05, p50, p95 }: { p05: number; p50: number; p95: number }) {
  return { p05: rough(p05), p50: rough(p50), p95: rough(p95) };
}

function rangeDocument({ low, high, cautionLow, cautionHigh }: Range) {
  return {
    low: rough(low),
    high: rough(high),
    caution_low: rough(cautionLow),
    caution_high: rough(cautionHigh),
  };
}
