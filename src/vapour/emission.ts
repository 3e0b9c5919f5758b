/** What one open tub gives off: the ledger's own estimate, and the value that cautions rest on. */
import { MOLAR_MASS, openFlux, rimTransfer, roomAir } from '../bath/air.ts';
import { ipaDiffusivityInAir } from '../substance/isopropanol.ts';
import { ROOM_SPEEDS } from './models.ts';
import { penetration } from './penetration.ts';
import { type OpenSurface, pressureOver } from './surface.ts';

/** A tub of the bench as it stands. */
export interface OpenTub {
  name: string;
  surfaceM2: number;
  /** The longer side, m. */
  lengthM: number;
  /** From the liquid, as it stands, up to the rim, m. */
  freeboardM: number;
  /** Of isopropanol in it, 0–1. */
  activity: number;
  /** Its evaporation factor, with the 5 and 95 % points where it is uncertain. */
  factor: { p05: number; p50: number; p95: number };
}

export interface Emission {
  /** Best estimate with its band, lid off, g/h. */
  best: { p05: number; p50: number; p95: number };
  /** For cautions, g/h. */
  caution: number;
}

/**
 * Without a calibration the best estimate is known to a factor of four either way (19 times in 20; a judgement, DEFAULTEVAP). A calibration
 * does not narrow it here: what a bath loses in a day does not tell the open tub from the leak of its lid.
 */
export const UNSURE = 4;

/** A tub as the published models take it. */
export function surfaceOf(tub: OpenTub, tempC: number): OpenSurface {
  return {
    areaM2: tub.surfaceM2,
    lengthM: tub.lengthM,
    freeboardM: tub.freeboardM,
    tempC,
    molarMass: MOLAR_MASS.ipa,
    pressurePa: pressureOver(tub.activity, tempC),
    diffusivity: ipaDiffusivityInAir(tempC),
  };
}

/**
 * Isopropanol that one tub gives off with its lid off [g/h].
 *
 *     best = f E_open,      caution = max( penetration model at 0.25 m/s, pure and full to the rim;  4 best )
 *
 * f: the tub's evaporation factor; E_open: `openFlux` of bath/air.ts at 0.15 m/s. Cautions rest on the upper model whatever the ledger has
 * learned, since cooling, draught and handling are in none of this.
 *
 * Example: the standard tub (0.0252 m², 18 cm long, 5 cm freeboard, pure, 22 °C, f 1) → best 4.5, caution 51 g/h. [DEFAULTEVAP, EPAOPPT]
 */
export function emissionOf(tub: OpenTub, tempC: number): Emission {
  const { ipa } = roomAir(tempC, 0);
  const open = openFlux({
    vapour: ipa,
    rim: rimTransfer(ipa.diffusivity, MOLAR_MASS.ipa, tub.surfaceM2),
    surfaceM2: tub.surfaceM2,
    freeboardM: tub.freeboardM,
    activity: tub.activity,
  });
  const { p05, p50, p95 } = tub.factor;
  const upper = penetration(surfaceOf({ ...tub, activity: 1 }, tempC), ROOM_SPEEDS.high);
  return {
    best: { p05: p05 * open, p50: p50 * open, p95: p95 * open },
    caution: Math.max(upper, UNSURE * p50 * open),
  };
}
