/**
 * Numbers as people read them: no more digits than the estimate supports, units beside them.
 */

interface Estimate {
  p05?: number;
  p50: number;
  p95?: number;
}

/**
 * An estimate with its band in brackets, 4.3 (2.1–8.9), to the digits that the band supports: two figures of its half-width,
 * never more than `most` decimals.
 */
export function banded({ p05, p50, p95 }: Estimate, most = 2): string {
  if (p05 === undefined || p95 === undefined) return p50.toFixed(most);
  const halfWidth = (p95 - p05) / 2;
  const digits = decimals(halfWidth, most);
  // Tens say nothing of an end below them.
  const step = halfWidth >= 100 && p05 >= 10 ? 10 : 1;
  const [low, middle, high] = [p05, p50, p95].map((value) =>
    (step * Number((value / step).toFixed(digits))).toFixed(digits),
  );
  return low === high ? middle! : `${middle} (${low}–${high})`;
}

/** An estimate alone, to the digits that its band supports. */
export function withoutBand(estimate: Estimate, most = 2): string {
  return banded(estimate, most).split(' ')[0]!;
}

/** Grams with their band. */
export function bandedMass(grams: Estimate): string {
  return `${banded(grams, 1)} g`;
}

function decimals(halfWidth: number, most: number): number {
  if (!(halfWidth > 0)) return most;
  return Math.min(most, Math.max(0, 1 - Math.floor(Math.log10(halfWidth))));
}

/** A percentage: two decimals below 10, one below 100. */
export function percent(value: number): string {
  return Math.abs(value) < 9.995 ? value.toFixed(2) : value.toFixed(1);
}

/** Millilitres as litres with two decimals, or as mL below 100 mL. */
export function volume(ml: number): string {
  return Math.abs(ml) < 99.5 ? `${trim(ml, 1)} mL` : `${(ml / 1000).toFixed(2)} L`;
}

/** Grams with two figures, whole from 10 on; kilograms from 1000 g. */
export function mass(grams: number): string {
  const size = Math.abs(grams);
  if (size >= 999.5) return `${(grams / 1000).toFixed(2)} kg`;
  if (size === 0) return '0 g';
  return `${grams.toFixed(size < 0.995 ? 2 : size < 9.95 ? 1 : 0)} g`;
}

/** Minutes, or hours and minutes from 90. */
export function minutes(value: number): string {
  if (value < 90) return `${trim(value, 1)} min`;
  const hours = Math.floor(value / 60);
  const rest = Math.round(value - hours * 60);
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** At most `digits` decimals, without trailing noughts. */
export function trim(value: number, digits: number): string {
  return String(Number(value.toFixed(digits)));
}

/** A count with its noun in the right number: 1 load, 2 loads. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** As a sentence begins. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
