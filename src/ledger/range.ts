/** A range of numbers, in data and in words. */
export interface Range {
  /** Unit as a person reads it; empty for a bare number. */
  unit: string;
  /** Least value allowed. */
  min?: number;
  /** The value must be above this. */
  above?: number;
  max: number;
}

/** The allowed range in words: "10 to 40 °C", "above 0, up to 1000 mL". */
export function rangeText({ unit, min, above, max }: Range): string {
  const low = above === undefined ? `${min} to ${max}` : `above ${above}, up to ${max}`;
  return unit === '' ? low : `${low} ${unit}`;
}

/** True when the value is a number in the range. */
export function isWithin(value: unknown, { min, above, max }: Range): boolean {
  if (typeof value !== 'number' || !(value <= max)) return false;
  return above === undefined ? value >= (min ?? 0) : value > above;
}
