const SHAPE = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})(\.\d{1,9})?(?:Z|([+-])(\d{2}):(\d{2}))$/;

/**
 * The instant of an RFC 3339 time with offset, in milliseconds since 1970-01-01T00:00Z; NaN when the text is not one.
 *
 * Narrower than RFC 3339 where a ledger wants one spelling: capital `T` and `Z`, years 2000–2199, offsets up to 14 h,
 * no leap second. Digits after the millisecond are dropped.
 *
 * Example: `parseTime('1985-04-12T23:20:50.52Z')` is out of the years allowed, `parseTime('2026-11-02T07:40:00-04:00')`
 * is 2026-11-02T11:40:00Z = 1793619600000 ms.
 *
 * Source: RFC 3339 section 5.6.
 */
export function parseTime(text: string): number {
  return text.length === 25 ? parseCommon(text) : parseAny(text);
}

/** `YYYY-MM-DDTHH:MM:SS±HH:MM`, the form the program writes, read digit by digit because every event has one. */
function parseCommon(text: string): number {
  const sign = text.charCodeAt(19);
  if (
    text.charCodeAt(4) !== 45 ||
    text.charCodeAt(7) !== 45 ||
    text.charCodeAt(10) !== 84 ||
    text.charCodeAt(13) !== 58 ||
    text.charCodeAt(16) !== 58 ||
    text.charCodeAt(22) !== 58 ||
    (sign !== 43 && sign !== 45)
  ) {
    return parseAny(text);
  }
  const offset = two(text, 20) * 60 + sixty(text, 23);
  const year = two(text, 0) * 100 + two(text, 2);
  const seconds = two(text, 11) * 3600 + sixty(text, 14) * 60 + sixty(text, 17);
  return instant(year, two(text, 5), two(text, 8), seconds * 1000, sign === 45 ? -offset : offset);
}

function parseAny(text: string): number {
  const m = SHAPE.exec(text);
  if (m === null) {
    return Number.NaN;
  }
  const part = (index: number): number => Number(m[index] ?? 0);
  if (part(5) > 59 || part(6) > 59 || part(10) > 59) {
    return Number.NaN;
  }
  const ms = (part(4) * 3600 + part(5) * 60 + part(6)) * 1000 + Math.floor(part(7) * 1000 + 1e-6);
  const offset = part(9) * 60 + part(10);
  return instant(part(1), part(2), part(3), ms, m[8] === '-' ? -offset : offset);
}

function instant(year: number, month: number, day: number, msOfDay: number, offsetMin: number): number {
  const ok =
    year >= 2000 &&
    year <= 2199 &&
    month >= 1 &&
    month <= 12 &&
    day >= 1 &&
    day <= daysInMonth(year, month) &&
    msOfDay < 86_400_000 &&
    Math.abs(offsetMin) <= 840;
  return ok ? Date.UTC(year, month - 1, day) + msOfDay - offsetMin * 60_000 : Number.NaN;
}

/** Days of a month in the Gregorian calendar. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) {
    return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  }
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function two(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

function sixty(text: string, at: number): number {
  const value = two(text, at);
  return value < 60 ? value : Number.NaN;
}
