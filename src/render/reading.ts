/** A reading in a few words: what was read, at which temperature, with what. */
import type { ReadingEvent, WeighedEvent } from '../ledger/event.ts';
import { TEMPERATURE_COUNTS } from '../ledger/reading-ranges.ts';
import { trim, volume } from './format.ts';

/**
 * What was read, without the bath.
 *
 * @param roomC - told where the reading depends on a temperature and gives none; left out when absent
 */
export function readingWords(event: ReadingEvent, roomC?: number): string {
  return [`${valueWords(event)}${temperatureWords(event, roomC)}`, ...conditionWords(event)].join(', ');
}

function valueWords(event: ReadingEvent): string {
  if (event.density_g_ml !== undefined) return `density ${decimals(event.density_g_ml, 4)} g/mL`;
  if (event.sg !== undefined) return `SG ${decimals(event.sg, 4)} ${event.sg_ref ?? '20/20'}`;
  if (event.brix !== undefined) return `${decimals(event.brix, 1)} °Brix`;
  if (event.refractive_index !== undefined) return `refractive index ${decimals(event.refractive_index, 4)}`;
  if (event.residue) return `residue ${event.residue.dry_g} g of ${trim(event.residue.sample_ml, 2)} mL`;
  if (event.resin_wt_pct !== undefined) return `${event.resin_wt_pct} wt% resin`;
  if (event.level_ml !== undefined) return `level ${volume(event.level_ml)}`;
  return `weight ${grams(event.weight_g ?? 0)}`;
}

function temperatureWords(event: ReadingEvent, roomC: number | undefined): string {
  if (event.temp_c !== undefined) return ` at ${event.temp_c.toFixed(1)} °C`;
  return roomC !== undefined && needsTemperature(event) ? ` at ${roomC.toFixed(1)} °C (room)` : '';
}

/** Whether a few degrees change what the instrument shows by more than its error. */
export function needsTemperature(event: Partial<ReadingEvent>): boolean {
  return TEMPERATURE_COUNTS.some((key) => event[key] !== undefined);
}

function conditionWords({ t_ref_c: glassC, sd }: ReadingEvent): string[] {
  return [
    ...(glassC === undefined ? [] : [`glass made for ${trim(glassC, 1)} °C`]),
    ...(sd === undefined ? [] : [`± ${sd}`]),
  ];
}

/** A weighed load, without its wash. */
export function weighedWords({ wet_g: wetG, clean_g: cleanG }: WeighedEvent): string {
  return `${grams(wetG)} wet, ${grams(cleanG)} clean, ${grams(wetG - cleanG)} came off`;
}

/** As the balance shows it, never rounded to kilograms. */
function grams(value: number): string {
  return `${trim(value, 4)} g`;
}

/** At least so many decimals, more when they were read. */
function decimals(value: number, least: number): string {
  const read = /\.(\d+)$/.exec(String(value))?.[1]?.length ?? 0;
  return value.toFixed(Math.max(least, read));
}
