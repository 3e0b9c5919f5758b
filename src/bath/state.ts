/**
 * The state of a bath, README.md 1. Three masses, the resin kept apart by kind; everything else is derived.
 */
import { mixtureDensity, mixtureDensityUnchecked } from '../substance/mixture.ts';
import { resinDensity } from '../substance/resin.ts';
import type { Resin } from './shop.ts';

export interface Bath {
  /** Grams of each resin, in the order of `shop.resins`; those after the last that the bath ever held are left out. */
  resin: number[];
  ipaG: number;
  waterG: number;
  /** Washes since the last change of liquid. */
  washes: number;
  /** When the liquid now in the bath was last changed; NaN while the bath has never been filled. */
  changedMs: number;
  /** When its oldest solvent was poured from stock. It moves with the liquid; NaN when empty, but for a bath that dried out. */
  pouredMs: number;
  /** The solvent has evaporated and left the resin. */
  dry: boolean;
}

/** The least IPA, as a mass fraction of the solvent, for which the density of the mixture is known. */
export const LEAST_IPA = 0.4;

/** A bath that was never filled. */
export function emptyBath(): Bath {
  return {
    resin: [],
    ipaG: 0,
    waterG: 0,
    washes: 0,
    changedMs: Number.NaN,
    pouredMs: Number.NaN,
    dry: false,
  };
}

/** A bath of its own with the same contents. */
export function copyBath(bath: Bath): Bath {
  return { ...bath, resin: bath.resin.slice() };
}

/** Makes `bath` the same as `from`, without making anything new. */
export function copyInto(bath: Bath, from: Bath): void {
  if (bath.resin.length !== from.resin.length) bath.resin.length = from.resin.length;
  for (let place = 0; place < from.resin.length; place += 1) bath.resin[place] = from.resin[place]!;
  bath.ipaG = from.ipaG;
  bath.waterG = from.waterG;
  bath.washes = from.washes;
  bath.changedMs = from.changedMs;
  bath.pouredMs = from.pouredMs;
  bath.dry = from.dry;
}

/** Mass of resin [g], m_r. */
export function resinMass(bath: Bath): number {
  let sum = 0;
  for (const grams of bath.resin) sum += grams;
  return sum;
}

/** Mass of solvent [g], m_s = m_a + m_w. */
export function solventMass(bath: Bath): number {
  return bath.ipaG + bath.waterG;
}

/** True when the bath holds no solvent. */
export function isEmpty(bath: Bath): boolean {
  return solventMass(bath) <= 0;
}

/** IPA mass fraction of the solvent [–], w_s = m_a/m_s; NaN for an empty bath. */
export function ipaFraction(bath: Bath): number {
  return bath.ipaG / (bath.ipaG + bath.waterG);
}

/** True when the solvent is weaker than the density data reach, so that the estimate cannot be trusted. */
export function isBeyondModel(bath: Bath): boolean {
  return !isEmpty(bath) && ipaFraction(bath) < LEAST_IPA;
}

/** Resin mass fraction [–], w_r = m_r/(m_r + m_s); NaN when there is nothing at all. */
export function resinFraction(bath: Bath): number {
  const resinG = resinMass(bath);
  return resinG / (resinG + solventMass(bath));
}

/**
 * A property of the bath's resin: the arithmetic mean of `property` over its resins, weighted by mass.
 * The first resin's own where there is none to weigh.
 */
export function resinMean(
  bath: Bath,
  resins: Resin[],
  property: 'density' | 'viscosity25' | 'viscosityRoom' | 'index',
): number {
  let grams = 0;
  let sum = 0;
  for (let place = 0; place < bath.resin.length; place += 1) {
    const mass = bath.resin[place]!;
    if (mass !== 0) {
      grams += mass;
      sum += mass * resins[place]![property];
    }
  }
  return grams > 0 ? sum / grams : resins[0]![property];
}

/** Volume of the resin at 20 °C [mL], m_r/ρ_r with the mass-weighted mean density ρ_r. */
export function resinVolume(bath: Bath, resins: Resin[]): number {
  const grams = resinMass(bath);
  return grams > 0 ? grams / resinMean(bath, resins, 'density') : 0;
}

/**
 * Volume of the solvent at 20 °C [mL], m_s/ρ_s(w_s, 20 °C).
 *
 * Below {@link LEAST_IPA} the density is held at its value there, and {@link isBeyondModel} says so.
 */
export function solventVolume(ipaG: number, waterG: number): number {
  const grams = ipaG + waterG;
  if (grams <= 0) return 0;
  return grams / mixtureDensityUnchecked(Math.max(ipaG / grams, LEAST_IPA), 20);
}

/**
 * Volume of the bath at 20 °C [mL].
 *
 *     V = m_r/ρ_r + m_s/ρ_s(w_s, 20 °C)
 */
export function bathVolume(bath: Bath, resins: Resin[]): number {
  return resinVolume(bath, resins) + solventVolume(bath.ipaG, bath.waterG);
}

/**
 * Density of the bath at `tempC` [g/mL].
 *
 *     1/ρ(T) = w_r/ρ_r(T) + (1 − w_r)/ρ_s(w_s, T),   ρ_r(T) = ρ_r20 [1 − 7e-4 (T − 20)]
 *
 * 10–40 °C, solvent at least 40 wt% IPA; outside, `OutsideData` is thrown.
 */
export function bathDensity(bath: Bath, resins: Resin[], tempC: number): number {
  const fraction = resinFraction(bath);
  const resin = resinDensity(resinMean(bath, resins, 'density'), tempC);
  return 1 / (fraction / resin + (1 - fraction) / mixtureDensity(ipaFraction(bath), tempC));
}

/** Adds grams of one resin to a bath or a film. */
export function addResin(to: Pick<Bath, 'resin'>, place: number, grams: number): void {
  while (to.resin.length <= place) to.resin.push(0);
  to.resin[place]! += grams;
}

/** Adds `bath` × `share` of liquid to `into` and takes it out of `bath`; all three masses in proportion. */
export function moveShare(bath: Bath, share: number, into: Bath | Film): void {
  for (let place = 0; place < bath.resin.length; place += 1) {
    const grams = bath.resin[place]! * share;
    bath.resin[place]! -= grams;
    addResin(into, place, grams);
  }
  const ipa = bath.ipaG * share;
  const water = bath.waterG * share;
  bath.ipaG -= ipa;
  bath.waterG -= water;
  into.ipaG += ipa;
  into.waterG += water;
}

/** Marks a bath from which all liquid went: it has no age, and it did not dry out. */
export function leaveEmpty(bath: Bath): void {
  bath.pouredMs = Number.NaN;
  bath.dry = false;
}

/** Liquid on its way: the film on a load, or what goes to waste. */
export interface Film {
  resin: number[];
  ipaG: number;
  waterG: number;
}

/** No liquid at all. */
export function emptyFilm(): Film {
  return { resin: [], ipaG: 0, waterG: 0 };
}
