export function ipaDensity(tempC: number): number {
  const d = tempC - 20;
  return 0.785157 - 8.29933e-4 * d - 1.76229e-6 * d * d;
}
export function ipaVapourPressurePa(tempC: number): number {
  return 10 ** (10.24268 - 1580.92 / (tempC + 273.15 - 53.54));
}
export function ipaDiffusivityInAir(tempC: number): number {
  return 1.01e-5 * ((tempC + 273.15) / 295.15) ** 1.75;
}
