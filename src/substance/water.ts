export function waterDensity(tempC: number): number {
  return 0.99997495 * (1 - ((tempC - 3.983035) ** 2 * (tempC + 301.797)) / (522528.9 * (tempC + 69.34881)));
}
export function waterVapourPressurePa(tempC: number): number {
  return 10 ** (10.19621 - 1730.63 / (tempC + 273.15 - 39.724));
}
export function waterDiffusivityInAir(tempC: number): number {
  return 2.5e-5 * ((tempC + 273.15) / 295.15) ** 1.75;
}
