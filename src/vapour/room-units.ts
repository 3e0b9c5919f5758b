/** The size of a room and its fresh air as people type them. */
export type RoomParsed =
  | { value: number }
  | { message: string; help: string; unknownUnit?: { name: string; units: readonly string[] } };

const FOOT3 = 0.028316846592;

/** m³ in one of them; a litre a second, a cubic foot a minute, exact. */
const VOLUMES: Record<string, number> = { m3: 1, l: 0.001, ft3: FOOT3 };
/** m³/h in one of them. */
const FLOWS: Record<string, number> = {
  'm3/h': 1,
  'm3/min': 60,
  'm3/s': 3600,
  'l/s': 3.6,
  'l/min': 0.06,
  cfm: 60 * FOOT3,
  'ft3/min': 60 * FOOT3,
};
const LENGTHS: Record<string, number> = { m: 1, cm: 0.01, ft: 0.3048 };

/** The volume of a room in m³: `30 m3`, `1000 ft3`, `4 x 3 x 2.5 m`; a bare number is m³. */
export function readRoom(text: string): RoomParsed {
  const sides = /^(\S+)\s*[x×*]\s*(\S+)\s*[x×*]\s*([\d.,]+)\s*([a-z]*)$/i.exec(text.trim());
  if (!sides) return read(text, 'room', VOLUMES, 'like "30 m3", "1000 ft3" or "4 x 3 x 2.5 m"');
  const numbers = sides.slice(1, 4).map((side) => numberOf(side!));
  const unit = LENGTHS[(sides[4] || 'm').toLowerCase()];
  if (unit === undefined || numbers.some(Number.isNaN))
    return {
      message: `Cannot read "${text}" as the size of a room`,
      help: 'write the sides like "4 x 3 x 2.5 m"',
    };
  return { value: numbers.reduce((product, side) => product * side * unit, 1) };
}

/** Fresh air in m³/h: `60 m3/h`, `35 cfm`, `17 L/s`; a bare number is m³/h. */
export function readAir(text: string): RoomParsed {
  return read(text, 'flow of fresh air', FLOWS, 'like "60 m3/h", "35 cfm" or "17 L/s"');
}

function read(text: string, what: string, units: Record<string, number>, like: string): RoomParsed {
  const found = /^([\d.,]+)\s*(.*)$/.exec(text.trim());
  const number = numberOf(found?.[1] ?? '');
  if (!found || Number.isNaN(number))
    return { message: `Cannot read "${text}" as a ${what}`, help: `write it ${like}` };
  const name = found[2]!.toLowerCase().replaceAll('³', '3').replaceAll(/\s/g, '');
  const base = Object.keys(units)[0]!;
  const unit = Object.hasOwn(units, name || base) ? units[name || base] : undefined;
  if (unit !== undefined) return { value: number * unit };
  return {
    message: `Cannot read "${text}" as a ${what}, "${found[2]}" is no unit of it`,
    help: `Write it ${like}; a bare number is ${base}`,
    unknownUnit: { name, units: Object.keys(units) },
  };
}

/** A point or a comma for the decimals; a comma before three digits could part thousands, and is not guessed at. */
function numberOf(text: string): number {
  if (!/^(?:\d+(?:[.,]\d+)?|[.,]\d+)$/.test(text) || /^[1-9]\d{0,2},\d{3}$/.test(text)) return Number.NaN;
  return Number(text.replace(',', '.'));
}
