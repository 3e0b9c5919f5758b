import { MODELS, type Model, ROOM_SPEEDS } from './models.ts';
import type { OpenSurface } from './surface.ts';

/** One model's answer for all tubs together [g/h]: over the speeds of room air where it knows them. */
export interface ModelRate {
  model: Model;
  low: number;
  high: number;
}

/** Published models side by side, from the smallest high end to the largest; those that say nothing of one of the tubs are left out. */
export function modelRates(surfaces: readonly OpenSurface[]): ModelRate[] {
  const rates = MODELS.flatMap((model) => {
    const low = together(model, surfaces, ROOM_SPEEDS.low);
    const high = together(model, surfaces, ROOM_SPEEDS.high);
    return low === null || high === null ? [] : [{ model, low, high }];
  });
  return rates.sort((one, other) => one.high - other.high);
}

function together(model: Model, surfaces: readonly OpenSurface[], speedMPerS: number): number | null {
  const rates = surfaces.map((surface) => model.rate(surface, speedMPerS));
  return rates.includes(null) ? null : rates.reduce<number>((sum, rate) => sum + rate!, 0);
}
