/**
 * The figures people read of a bath: volume, the three percents, water, density, refractive index.
 */

import { liquidIndex, liquidOf } from './liquid.ts';
import type { Resin } from './shop.ts';
import {
  type Bath,
  bathDensity,
  bathVolume,
  ipaFraction,
  isBeyondModel,
  isEmpty,
  resinFraction,
  resinMass,
  resinMean,
  solventMass,
} from './state.ts';

/** Masses and volume always; percentages are null when there is no solvent, densities also outside the data. */
export interface Figures {
  volumeMl: number;
  massG: number;
  resinG: number;
  ipaG: number;
  waterG: number;
  /** Resin in everything. */
  resinWtPct: number | null;
  resinGPerL: number | null;
  resinVolPct: number | null;
  /** Water in the solvent, resin left out. */
  waterWtPct: number | null;
  density20: number | null;
  densityRoom: number | null;
  indexRoom: number | null;
}

/** Works the figures out at a room temperature of 10–40 °C; never fails, since what the data do not reach is null. */
export function figuresOf(bath: Bath, resins: Resin[], roomC: number): Figures {
  const resinG = resinMass(bath);
  const volumeMl = bathVolume(bath, resins);
  const masses = {
    volumeMl,
    massG: resinG + solventMass(bath),
    resinG,
    ipaG: bath.ipaG,
    waterG: bath.waterG,
  };
  if (isEmpty(bath)) {
    const nothing = { resinWtPct: null, resinGPerL: null, resinVolPct: null, waterWtPct: null };
    return { ...masses, ...nothing, density20: null, densityRoom: null, indexRoom: null };
  }
  const known = !isBeyondModel(bath);
  return {
    ...masses,
    resinWtPct: 100 * resinFraction(bath),
    resinGPerL: (1000 * resinG) / volumeMl,
    resinVolPct: (100 * resinG) / resinMean(bath, resins, 'density') / volumeMl,
    waterWtPct: 100 * (1 - ipaFraction(bath)),
    density20: known ? bathDensity(bath, resins, 20) : null,
    densityRoom: known ? bathDensity(bath, resins, roomC) : null,
    indexRoom: known ? liquidIndex(liquidOf(bath, resins), roomC) : null,
  };
}
