import { ipaDensity } from './isopropanol.ts';
import { OutsideData } from './outside.ts';
import { waterDensity } from './water.ts';
export function mixtureDensity(w: number, tempC: number): number {
  if (!(w >= 0.4 && w <= 1)) throw new OutsideData('IPA strength', w * 100, 40, 100, 'wt%');
  if (!(tempC >= 10 && tempC <= 40)) throw new OutsideData('temperature', tempC, 10, 40, '°C');
  return mixtureDensityUnchecked(w, tempC);
}
export function mixtureDensityUnchecked(w: number, tempC: number): number {
  const z = 2 * w - 1;
  const excess = -0.135308 + 0.0223535 * z - 0.016736 * z * z - 0.0372521 * z * z * z + (0.00504722 * (tempC - 25)) / 10;
  return 1 / (w / ipaDensity(tempC) + (1 - w) / waterDensity(tempC) + w * (1 - w) * excess);
}
export function volumeFraction(w: number, tempC: number): number {
  return (w * mixtureDensity(w, tempC)) / ipaDensity(tempC);
}
export function fractionFromVolume(v: number, tempC: number): number {
  let low = 0.4;
  let high = 1;
  for (let i = 0; i < 60; i += 1) {
    const mid = (low + high) / 2;
    if (volumeFraction(mid, tempC) < v) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}
