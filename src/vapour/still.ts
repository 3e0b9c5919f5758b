/** Evaporation into a room without a draught: what only diffusion carries. */
import { GAS_CONSTANT, kelvin, PRESSURE_PA } from './constants.ts';
import type { OpenSurface } from './surface.ts';
import { saturated } from './transfer.ts';

/**
 * Flux of a vapour through a still layer of air [mol/m²s], by Stefan.
 *
 *     N = D P/(R T z) ln((P − p2)/(P − p1))
 *
 * D: diffusivity, m²/s; P: 101 325 Pa unless given; z: layer, m; p1 at the liquid and p2 at its other side, Pa; T: K.
 * Straight walls and no draught in them. Example: water, D 0.25e-4, 17.54 mmHg, 293 K, 0.1524 m → 1.593e-4 mol/m²s. [STEFAN, GEANKOPLIS]
 */
export function stefanFlux(given: {
  diffusivity: number;
  layerM: number;
  tempC: number;
  atLiquidPa: number;
  beyondPa?: number;
  totalPa?: number;
}): number {
  const { diffusivity, layerM, tempC, atLiquidPa, beyondPa = 0, totalPa = PRESSURE_PA } = given;
  const drive = Math.log((totalPa - beyondPa) / (totalPa - atLiquidPa));
  return ((diffusivity * totalPa) / (GAS_CONSTANT * kelvin(tempC) * layerM)) * drive;
}

/** A thinner layer is no still column any more, m. */
const LEAST_FREEBOARD_M = 0.01;

/**
 * Evaporation through the still air between liquid and rim [g/h]; null below 1 cm, where there is no such layer.
 *
 *     E = 3600 A M N
 *
 * N: {@link stefanFlux} through the freeboard; A: surface, m²; M: g/mol.
 * A quiet room. Example: the standard tub (0.0252 m², 22 °C) with 5 cm of freeboard → 2.30 g/h. [STEFAN]
 */
export function stillFreeboard(surface: OpenSurface): number | null {
  const { areaM2, molarMass, freeboardM, diffusivity, tempC, pressurePa } = surface;
  if (freeboardM < LEAST_FREEBOARD_M) return null;
  const flux = stefanFlux({ diffusivity, layerM: freeboardM, tempC, atLiquidPa: pressurePa });
  return 3600 * areaM2 * molarMass * flux;
}

/**
 * Evaporation of a disc level with the rim into still air [g/h]: the floor for a full tub.
 *
 *     E = 3600 · 4 D R c,   R = sqrt(A/π)
 *
 * D: diffusivity, m²/s; c: saturated vapour, g/m³; A: surface, m². No convection at all.
 * Example: the standard tub (0.0252 m², 22 °C) → 1.60 g/h. [HULARSON]
 */
export function stillDisc(surface: OpenSurface): number {
  const radiusM = Math.sqrt(surface.areaM2 / Math.PI);
  return 3600 * 4 * surface.diffusivity * radiusM * saturated(surface);
}
