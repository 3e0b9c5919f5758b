/**
 * The days that a shop's calendar should hold.
 */
import type { PeroxideTest } from './due.ts';
import type { Outlook } from './outlook.ts';
import type { Status } from './status.ts';
import type { Supply } from './supply.ts';

/** One day to come; `what`, `bath` and `item` stay the same from one export to the next. */
export interface DayToCome {
  what: 'change' | 'order' | 'age' | 'reading' | 'test';
  bath: string | null;
  /** Name of the solvent it is about. */
  item?: string;
  atMs: number;
  /** The early and the late end, where it is not sure. */
  fromMs?: number;
  toMs?: number;
}

const MS_PER_DAY = 86_400_000;

/**
 * The forecast change, the day to order, the age limits, the next reading of a shop that takes them, and peroxide tests. A day that is past
 * stands at the clock: it is due.
 */
export function daysToCome(
  { estimates, clockMs, belief }: Status,
  on: {
    outlook: Outlook | null;
    supply: Supply | null;
    readingDays: number;
    tests: readonly PeroxideTest[];
  },
): DayToCome[] {
  const { outlook, supply } = on;
  const at = (days: number) => clockMs + Math.max(0, days) * MS_PER_DAY;
  const lastReading = belief.lessons.all.latestMs;
  const ages = estimates.flatMap(({ bath, ageDays, limits }): DayToCome[] =>
    ageDays === null ? [] : [{ what: 'age', bath, atMs: at(limits.ageDays - ageDays) }],
  );
  return [
    ...(outlook?.days
      ? [
          {
            what: 'change' as const,
            bath: outlook.limit!.bath,
            atMs: at(outlook.days.p50),
            fromMs: at(outlook.days.p05 ?? outlook.days.p50),
            toMs: at(outlook.days.p95 ?? outlook.days.p50),
          },
        ]
      : []),
    ...(supply?.orderByDays != null
      ? [{ what: 'order' as const, bath: null, atMs: at(supply.orderByDays) }]
      : []),
    ...ages,
    ...(lastReading > 0
      ? [
          {
            what: 'reading' as const,
            bath: null,
            atMs: Math.max(clockMs, lastReading + on.readingDays * MS_PER_DAY),
          },
        ]
      : []),
    ...on.tests.map(
      ({ solvent, byMs }): DayToCome => ({
        what: 'test',
        bath: null,
        item: solvent,
        atMs: Math.max(clockMs, byMs),
      }),
    ),
  ];
}
