/** How many of the base unit one of each holds. Exact by definition: the US gallon is 231 cubic inches. */
const UNITS: Record<string, Record<string, number>> = {
  mL: { ml: 1, cl: 10, dl: 100, l: 1000, gal: 3785.411784 },
  L: { l: 1, ml: 0.001, gal: 3.785411784 },
  g: { g: 1, mg: 0.001, kg: 1000 },
  minutes: { min: 1, minutes: 1, minute: 1, m: 1, s: 1 / 60, h: 60, hour: 60, hours: 60 },
  'hours a day': { h: 1, min: 1 / 60 },
  mm: { mm: 1, cm: 10, m: 1000 },
  'cm²': { cm2: 1, mm2: 0.01, 'cm²': 1, 'mm²': 0.01 },
  '°C': { c: 1, '°c': 1 },
  '%': { '%': 1 },
  'wt%': { '%': 1, 'wt%': 1 },
  'vol%': { '%': 1, 'vol%': 1 },
};

/**
 * A quantity typed with its unit ("4 L") as the bare number a key wants (4000), or undefined when it cannot be told.
 * `allowed` is the range in words and ends in the key's unit.
 */
export function inKeyUnit(typed: string, allowed: string): string | undefined {
  const m = /^\s*(-?\d+(?:\.\d+)?)\s*(\S+)\s*$/.exec(typed);
  const base = Object.keys(UNITS)
    .filter((unit) => allowed.endsWith(` ${unit}`))
    .sort((a, b) => b.length - a.length)[0];
  const factor = m === null || base === undefined ? undefined : UNITS[base]![m[2]!.toLowerCase()];
  return factor === undefined ? undefined : String(Number((Number(m![1]) * factor).toPrecision(12)));
}
