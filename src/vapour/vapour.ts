/** Vapour of open tubs in a room, all told: rates, concentrations, headspace, limits. */
import { MOLAR_MASS } from '../bath/air.ts';
import { type Emission, emissionOf, type OpenTub, surfaceOf, UNSURE } from './emission.ts';
import { CAUTION_PPM, EXPOSURE_LIMITS, type ExposureLimit, FLAMMABLE } from './exposure-limits.ts';
import { type Headspace, headspaceOf, headspacePercent } from './headspace.ts';
import { type Range, type Reach, reachOf } from './reach.ts';
import { afterMgPerM3, MIXING, nearAirM3PerH, ppmOf, type Room, steadyMgPerM3 } from './room.ts';
import { type ModelRate, modelRates } from './spread.ts';

export interface VapourQuestion {
  /** At least one. */
  tubs: readonly OpenTub[];
  tempC: number;
  room: Room;
  /** Best mixing that is assumed, {@link MIXING}. */
  mixing: number;
  /** How long the lids are off, minutes. */
  openMin: number;
  /** A place this far from the tubs, m; null for the room's mean alone. */
  nearM: number | null;
  /** A key of the limits; null for none chosen. */
  jurisdiction: string | null;
}

export interface Vapour {
  question: VapourQuestion;
  tubs: (Emission & { tub: OpenTub; headspace: Headspace })[];
  /** All tubs; the ends of the band as if all were high or low at once. */
  together: Emission;
  models: ModelRate[];
  /** ppm. */
  short: Range;
  steady: Range;
  near: Range | null;
  limits: { limit: ExposureLimit; reach: Reach }[];
  /** The limit on {@link CAUTION_PPM}, held against the steady range. */
  trigger: { ppm: number; reach: Reach };
}

/** Air speed by a person at a bench, m/s; from memory, unverified, as the near field is. */
const NEAR_SPEED = 0.1;

/** Works a question out. Never fails: what cannot be is refused where it is typed. */
export function vapourOf(question: VapourQuestion): Vapour {
  const { tubs, tempC, jurisdiction } = question;
  const told = tubs.map((tub) => ({
    tub,
    ...emissionOf(tub, tempC),
    headspace: headspaceOf(tub.activity, tempC, FLAMMABLE),
  }));
  const together = sumOf(told);
  const ranges = rangesOf(question, together);
  const { steady, short } = ranges;
  return {
    question,
    tubs: told,
    together,
    models: modelRates(tubs.map((tub) => surfaceOf(tub, tempC))),
    ...ranges,
    limits: EXPOSURE_LIMITS.filter(
      ({ key, kind }) => jurisdiction === null || key === jurisdiction || kind === 'danger',
    ).map((limit) => ({ limit, reach: reachOf(limit.ppm, limit.kind === 'short' ? short : steady) })),
    trigger: { ppm: CAUTION_PPM, reach: reachOf(CAUTION_PPM, steady) },
  };
}

function sumOf(emissions: readonly Emission[]): Emission {
  const sum = (of: (one: Emission) => number) => emissions.reduce((total, one) => total + of(one), 0);
  return {
    best: {
      p05: sum(({ best }) => best.p05),
      p50: sum(({ best }) => best.p50),
      p95: sum(({ best }) => best.p95),
    },
    caution: sum(({ caution }) => caution),
  };
}

/**
 * From the best estimate at the best mixing to four times it at the worst; the caution value at both. No air holds more than
 * saturated vapour.
 */
function rangesOf(question: VapourQuestion, { best, caution }: Emission) {
  const { room, mixing, openMin, tempC, nearM } = question;
  const most = 1e4 * headspacePercent(1, tempC);
  const ppm = (mgPerM3: number) => Math.min(most, ppmOf(mgPerM3, MOLAR_MASS.ipa));
  const range = (at: (gPerH: number, mixing: number) => number): Range => ({
    low: ppm(at(best.p50, mixing)),
    high: ppm(at(UNSURE * best.p50, MIXING.worst)),
    cautionLow: ppm(at(caution, mixing)),
    cautionHigh: ppm(at(caution, MIXING.worst)),
  });
  const steady = (gPerH: number, m: number) => steadyMgPerM3({ gPerH, airM3PerH: room.airM3PerH, mixing: m });
  const short = (gPerH: number, m: number) => afterMgPerM3({ gPerH, room, mixing: m, minutes: openMin });
  const beyond = (gPerH: number) => (1000 * gPerH) / nearAirM3PerH(nearM!, NEAR_SPEED);
  return {
    steady: range(steady),
    short: range(short),
    near: nearM === null ? null : range((gPerH, m) => short(gPerH, m) + beyond(gPerH)),
  };
}
