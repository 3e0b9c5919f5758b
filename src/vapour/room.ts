/** Vapour in a room with ventilation: one well-stirred box, with a factor for how well it is not. */

/** Molar volume of air at 25 °C and one atmosphere, L/mol, as exposure limits count. [NIOSH0359] */
const MOLAR_VOLUME = 24.45;

export interface Room {
  volumeM3: number;
  /** Fresh air, m³/h. */
  airM3PerH: number;
}

/** How well a room mixes: 0.5 is typical and 0.1 the worst (CROWL, EPAOPPT); 1 would be perfect and is never assumed. */
export const MIXING = { typical: 0.5, worst: 0.1 } as const;

/**
 * Concentration that a steady source comes to [mg/m³].
 *
 *     C = 1000 G/(m Q)
 *
 * G: source, g/h; m: mixing factor, 0.1–1; Q: fresh air, m³/h. Reached after hours, some τ = V/(m Q). Midpoint inputs come within an
 * order of magnitude of measurements (EPAOPPT).
 * Example: 9.02 g/h into 60 m³/h, m 1 → 150 mg/m³, 61 ppm. [CROWL]
 */
export function steadyMgPerM3(given: { gPerH: number; airM3PerH: number; mixing: number }): number {
  return (1000 * given.gPerH) / (given.mixing * given.airM3PerH);
}

/**
 * Concentration some time after a source began in clean air [mg/m³].
 *
 *     C(t) = C (1 − e^(−t/τ)),   τ = V/(m Q)
 *
 * C: {@link steadyMgPerM3}; V: room, m³; t and τ in hours. The mean of the room: nearer the tub it is higher.
 * Example: 9.02 g/h, 30 m³, 60 m³/h, m 1, 10 min → 42.6 mg/m³, 17 ppm. [CROWL]
 */
export function afterMgPerM3(given: { gPerH: number; room: Room; mixing: number; minutes: number }): number {
  const { gPerH, room, mixing, minutes } = given;
  const hours = room.volumeM3 / (mixing * room.airM3PerH);
  const steady = steadyMgPerM3({ gPerH, airM3PerH: room.airM3PerH, mixing });
  return steady * -Math.expm1(-minutes / 60 / hours);
}

/**
 * What a person close to the source breathes beyond the mean of the room [mg/m³]: from memory, unverified.
 *
 *     C_near − C = 1000 G/β,   β = S U/2,   S = 2 π r²
 *
 * G: g/h; β: air through the half sphere about the source, m³/h; r: its radius, m; U: air speed, m/h here. Means came to 0–1.6 times
 * those measured (PLISKO). Example: r 0.5 m, 0.1 m/s → β 283 m³/h.
 */
export function nearAirM3PerH(radiusM: number, speedMPerS: number): number {
  return ((2 * Math.PI * radiusM ** 2 * speedMPerS) / 2) * 3600;
}

/**
 * Parts per million of a concentration.
 *
 *     ppm = C · 24.45/M      (25 °C, 1 atm)
 *
 * C: mg/m³; M: molar mass, g/mol. Example: isopropanol, 2.46 mg/m³ → 1 ppm; ammonia, 17.03 g/mol, 69.65 mg/m³ → 100 ppm. [NIOSH0359, PPMPAGE]
 */
export function ppmOf(mgPerM3: number, molarMass: number, molarVolumeL: number = MOLAR_VOLUME): number {
  return (mgPerM3 * molarVolumeL) / molarMass;
}
