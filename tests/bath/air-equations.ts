/**
 * The exchange with the air written a second time, straight from the equations of src/bath/README.md and the sources named
 * there, sharing no code with the program: the right-hand side for an ODE solver.
 */
export interface Standing {
  roomC: number;
  humidity: number;
  surfaceM2: number;
  markMl: number;
  freeboardM: number;
  lidOpenH: number;
  evaporation: number;
  moisture: number;
  resinG: number;
  resinDensity: number;
}

/** d(IPA, water)/dt in g/h. */
export function airEquations(s: Standing): (hours: number, grams: number[]) => number[] {
  const kelvin = s.roomC + 273.15;
  const duty = (s.lidOpenH + (24 - s.lidOpenH) * 0.05) / 24;
  const radius = Math.sqrt(s.surfaceM2 / Math.PI);
  // Antoine, POLING and its water twin; diffusivities scale with T^1.75.
  const pIpa = 10 ** (10.24268 - 1580.92 / (kelvin - 53.54));
  const pWater = 10 ** (10.19621 - 1730.63 / (kelvin - 39.724));
  const dIpa = 1.01e-5 * (kelvin / 295.15) ** 1.75;
  const dWater = 2.5e-5 * (kelvin / 295.15) ** 1.75;
  const transfer = (molar: number, diffusivity: number, h: number) => {
    const air = Math.max(0.017565 * 0.15 ** 0.78 * molar ** (-1 / 3), (4 * diffusivity) / Math.PI / radius);
    return 1 / (1 / air + (0.3 * h) / diffusivity);
  };
  const flux = (p: number, molar: number, diffusivity: number, h: number, drive: number) =>
    3600 * s.surfaceM2 * transfer(molar, diffusivity, h) * ((p * molar) / 8.314462618 / kelvin) * drive;
  return (_, [ipaG, waterG]) => {
    const ipa = ipaG! / 60.095;
    const water = waterG! / 18.015;
    const all = ipa + water + s.resinG / 300;
    const [xi, xw] = [ipa / (ipa + water), water / (ipa + water)];
    const mixed = 1.042 * xi + 0.492 * xw;
    const gammaIpa = 10 ** (1.042 * ((0.492 * xw) / mixed) ** 2);
    const gammaWater = 10 ** (0.492 * ((1.042 * xi) / mixed) ** 2);
    const ml = s.resinG / s.resinDensity + solventMl(ipaG!, waterG!);
    const h = Math.max(0, s.freeboardM + (s.markMl - ml) / 1e6 / s.surfaceM2);
    return [
      -s.evaporation * duty * flux(pIpa, 60.095, dIpa, h, (gammaIpa * ipa) / all),
      -s.moisture * duty * flux(pWater, 18.015, dWater, h, (gammaWater * water) / all - s.humidity),
    ];
  };
}

/** Volume at 20 °C; excess volume of the mixture as src/bath/README.md gives it, and held below 40 wt% IPA. */
function solventMl(ipaG: number, waterG: number): number {
  const w = Math.max(0.4, ipaG / (ipaG + waterG));
  const z = 2 * w - 1;
  const water = 0.99997495 * (1 - ((20 - 3.983035) ** 2 * (20 + 301.797)) / (522528.9 * (20 + 69.34881)));
  const excess = -0.135308 + 0.0223535 * z - 0.016736 * z ** 2 - 0.0372521 * z ** 3 + 0.00504722 * -0.5;
  return (ipaG + waterG) * (w / 0.785157 + (1 - w) / water + w * (1 - w) * excess);
}
