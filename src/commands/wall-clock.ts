/** What the shop's clock on the wall shows, as moments: none where the clocks skip it, two where they are put back over it. */

/** Month from 1. */
export interface WallTime {
  year: number;
  month: number;
  day: number;
  hour: number;
  minute: number;
  second: number;
}

const DAY_MS = 86_400_000;

/**
 * The moments at which the clock shows this, earliest first; in the shop's zone, once that is set.
 *
 * @returns none as well where there is no such day or time of day
 */
export function momentsOf({ year, month, day, hour, minute, second }: WallTime): number[] {
  if (!(hour < 24 && minute < 60 && second < 60)) return [];
  const near = new Date(year, month - 1, day, hour, minute, second).getTime();
  const asUtc = Date.UTC(year, month - 1, day, hour, minute, second);
  const offsets = new Set([near - DAY_MS, near, near + DAY_MS].map((ms) => new Date(ms).getTimezoneOffset()));
  return [...offsets]
    .map((offset) => asUtc + offset * 60_000)
    .filter((ms) => {
      const at = new Date(ms);
      const isDay = at.getFullYear() === year && at.getMonth() === month - 1 && at.getDate() === day;
      return isDay && at.getHours() === hour && at.getMinutes() === minute;
    })
    .sort((one, other) => one - other);
}

/** What the clock shows at a moment. */
export function wallTimeAt(ms: number): WallTime {
  const at = new Date(ms);
  return {
    year: at.getFullYear(),
    month: at.getMonth() + 1,
    day: at.getDate(),
    hour: at.getHours(),
    minute: at.getMinutes(),
    second: at.getSeconds(),
  };
}

/** The moment at which the clocks have skipped what is asked for, told by what they showed instead; undefined where they have not. */
export function skipped(wall: WallTime): number | undefined {
  const { year, month, day, hour, minute, second } = wall;
  if (!(hour < 24 && minute < 60 && second < 60) || momentsOf(wall).length > 0) return undefined;
  const isDay = momentsOf({ ...wall, hour: 12, minute: 0, second: 0 }).length > 0;
  return isDay ? new Date(year, month - 1, day, hour, minute, second).getTime() : undefined;
}
