/** Isopropanol with water: density, and strength by mass, by volume and from density. Source ids: data/SOURCES.md. */
import { ipaDensity } from './isopropanol.ts';
import { OutsideData } from './outside.ts';
import { waterDensity } from './water.ts';

/** What a liquid at an end of the range may miss that end by, in the last bits. */
const ROUNDING = 1e-12;

/** What the mixture formula covers. */
export const MIXTURE_RANGE = { lowestFraction: 0.4, lowestC: 10, highestC: 40 } as const;

/** 40 wt% in vol% at 20 °C, up to the tenth that people are told, so that what they are told is taken. */
export const LOWEST_VOL_PCT = 47.4;

/**
 * Density of isopropanol with water, in g/mL.
 *
 *     1/ρ = w/ρ_ipa(T) + (1−w)/ρ_water(T) + w(1−w)[a0 + a1 z + a2 z² + a3 z³ + b0 (T−25)/10],   z = 2w − 1
 *     a0 −0.135308   a1 0.0223535   a2 −0.0167360   a3 −0.0372521   b0 0.00504722            mL/g
 *
 * Valid for w of 0.40–1 at 10–40 °C (fitted at 20–50 °C; below 20 °C it reaches beyond its data). Deviation about
 * 0.0005 g/mL at 25 °C and 0.001 g/mL over the whole range, which is worth 0.2 and 0.4 wt%.
 * Example: 90 wt% at 20 °C gives 0.811049 g/mL; 89.84 wt% at 25 °C gives 0.8072, CHU1962 measured 0.8069.
 *
 * @param ipaFraction w, mass of isopropanol/mass of isopropanol and water
 * @param tempC temperature T in °C
 * @throws OutsideData outside that range; it never extrapolates in silence
 * @see MODEL, CHU1962
 */
export function mixtureDensity(ipaFraction: number, tempC: number): number {
  requireFraction(ipaFraction);
  requireTemperature(tempC);
  return mixtureDensityUnchecked(ipaFraction, tempC);
}

/** {@link mixtureDensity} without the guard, for inner loops whose inputs are known to be within the data. */
export function mixtureDensityUnchecked(ipaFraction: number, tempC: number): number {
  if (tempC !== pure.tempC) pure = pureAt(tempC);
  const w = ipaFraction;
  const z = 2 * w - 1;
  const excess = -0.135308 + z * (0.0223535 + z * (-0.016736 - 0.0372521 * z)) + pure.excess;
  return 1 / (w / pure.ipa + (1 - w) / pure.water + w * (1 - w) * excess);
}

/** What of the formula depends on temperature alone. */
interface Pure {
  tempC: number;
  ipa: number;
  water: number;
  excess: number;
}

function pureAt(tempC: number): Pure {
  return {
    tempC,
    ipa: ipaDensity(tempC),
    water: waterDensity(tempC),
    excess: (0.00504722 * (tempC - 25)) / 10,
  };
}

/** At the temperature asked for last: volumes are at 20 °C, and a replay asks for millions of them. */
let pure = pureAt(20);

/**
 * Strength by volume of a strength by mass, as a fraction: the volume the isopropanol in it would fill alone at T.
 *
 *     v = w ρ(w, T)/ρ_ipa(T)
 *
 * The volumes contract when mixed, so this is not the share of the volumes that were poured together.
 * Example: 87.9 wt% at 20 °C is 91.4 vol%.
 *
 * @param ipaFraction w, by mass, 0.40–1
 * @param tempC temperature T in °C, 10–40; labels mean 20 °C
 * @throws OutsideData
 * @see MODEL
 */
export function volumeFraction(ipaFraction: number, tempC: number): number {
  return (ipaFraction * mixtureDensity(ipaFraction, tempC)) / ipaDensity(tempC);
}

/**
 * Strength by mass of a strength by volume, as a fraction; the inverse of {@link volumeFraction}.
 * Example: 91 vol% at 20 °C is 87.4 wt%.
 *
 * @param volFraction volume of isopropanol alone/volume of the liquid, from 0.473 (40 wt%) to 1
 * @param tempC temperature in °C, 10–40; labels mean 20 °C
 * @throws OutsideData
 */
export function fractionFromVolume(volFraction: number, tempC: number): number {
  requireTemperature(tempC);
  const low = volumeFraction(MIXTURE_RANGE.lowestFraction, tempC);
  if (!(volFraction >= low - ROUNDING && volFraction <= 1 + ROUNDING)) {
    throw new OutsideData('IPA strength', volFraction * 100, round(low * 100), 100, 'vol%');
  }
  return bisect((w) => (w * mixtureDensityUnchecked(w, tempC)) / ipaDensity(tempC) < volFraction);
}

/**
 * Strength by mass of a density, as a fraction: the inverse of {@link mixtureDensity}, which falls steadily with w.
 * Example: 0.8069 g/mL at 25 °C gives 89.96 wt%; CHU1962 measured it at 89.84.
 *
 * @param density g/mL at the temperature, between those of dry isopropanol and of 40 wt%
 * @param tempC temperature in °C, 10–40
 * @throws OutsideData
 * @see CHU1962
 */
export function fractionFromDensity(density: number, tempC: number): number {
  requireTemperature(tempC);
  const low = ipaDensity(tempC);
  const high = mixtureDensityUnchecked(MIXTURE_RANGE.lowestFraction, tempC);
  if (!(density >= low - ROUNDING && density <= high + ROUNDING)) {
    throw new OutsideData('density', density, round(low), round(high), 'g/mL');
  }
  return bisect((w) => mixtureDensityUnchecked(w, tempC) > density);
}

/** The fraction from 0.40 to 1 below which `isBelow` holds, to the last bit worth having. */
function bisect(isBelow: (fraction: number) => boolean): number {
  let low: number = MIXTURE_RANGE.lowestFraction;
  let high = 1;
  for (let step = 0; step < 52; step += 1) {
    const middle = (low + high) / 2;
    if (isBelow(middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function requireFraction(ipaFraction: number): void {
  if (ipaFraction >= MIXTURE_RANGE.lowestFraction && ipaFraction <= 1) return;
  throw new OutsideData('IPA strength', ipaFraction * 100, MIXTURE_RANGE.lowestFraction * 100, 100, 'wt%');
}

function requireTemperature(tempC: number): void {
  const { lowestC, highestC } = MIXTURE_RANGE;
  if (!(tempC >= lowestC && tempC <= highestC)) {
    throw new OutsideData('temperature', tempC, lowestC, highestC, '°C');
  }
}

function round(value: number): number {
  return Number(value.toFixed(4));
}
