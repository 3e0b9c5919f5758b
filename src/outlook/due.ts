/**
 * What a shop should be told of without asking.
 */
import type { Entry } from '../ledger/event.ts';
import type { Container } from '../records/waste.ts';
import { isOverfull } from './advice.ts';
import type { BathEstimate } from './estimate.ts';
import type { Outlook } from './outlook.ts';
import type { Days, Pace } from './pace.ts';
import type { Since } from './since.ts';
import type { Status } from './status.ts';
import type { Supply } from './supply.ts';
import { isAtLeast } from './verdict.ts';

const SEVERITIES = ['soon', 'change', 'stop'] as const;
export type Severity = (typeof SEVERITIES)[number];

/** One thing that is due. */
export interface Matter {
  /** `limit`: past it; `ahead`: met within the days asked for; `doubt`: may be past it already. */
  what: 'limit' | 'ahead' | 'doubt' | 'age' | 'level' | 'stale' | 'reading' | 'stock' | 'test' | 'waste';
  bath: string | null;
  /** Name of the solvent or the waste container it is about. */
  item?: string;
  because: 'resin' | 'water' | 'age' | 'level' | null;
  severity: Severity;
  /** Since when it is so, where that can be told. */
  sinceMs: number | null;
  /** Days: until the change limit, the order or the test, or of silence. */
  days: number | null;
  /** Share of a container that is full. */
  fullShare?: number;
}

export interface DueSettings {
  /** A limit met within so many days is due. */
  withinDays: number;
  /** So many working days without an entry make a ledger stale. */
  staleDays: number;
  /** A shop that takes readings is reminded after so many days without one. */
  readingDays: number;
}

/** When the oldest reclaimed solvent on hand is to be tested for peroxides. */
export interface PeroxideTest {
  solvent: string;
  byMs: number;
}

const MS_PER_DAY = 86_400_000;

/** All that is due, the worst first. */
export function dueOf(
  on: {
    status: Status;
    since: Since;
    outlook: Outlook | null;
    pace: Pace | null;
    entries: readonly Entry[];
    days: Days;
    supply: Supply | null;
    containers: readonly Container[];
    tests: readonly PeroxideTest[];
  },
  settings: DueSettings,
): Matter[] {
  const { status, since, outlook } = on;
  const matters = [
    ...withAhead(
      status.estimates.flatMap((bath, place) => bathMatters(bath, place, status, since)),
      aheadMatter(status, outlook, settings.withinDays),
    ),
    ...ageMatters(status, settings.withinDays),
    ...levelMatter(status),
    ...doubtMatters(status),
    ...staleMatter(on, settings.staleDays),
    ...readingMatter(on.entries, status.clockMs, settings.readingDays),
    ...stockMatter(on.supply, settings.withinDays),
    ...testMatters(on.tests, status.clockMs, settings.withinDays),
    ...wasteMatters(on.containers),
  ];
  return matters.sort((one, other) => SEVERITIES.indexOf(other.severity) - SEVERITIES.indexOf(one.severity));
}

/** The verdict of a bath, but for age: past a limit, or perhaps past it. */
function bathMatters(bath: BathEstimate, place: number, { clockMs }: Status, since: Since): Matter[] {
  if (bath.resinWtPct === null || bath.verdict === 'keep' || bath.because === 'age') return [];
  const { because, verdict } = bath;
  const matter = { bath: bath.bath, severity: verdict, days: null } as const;
  if (because === 'none') return [];
  const met = since.of(place, because, verdict === 'stop' ? 'never' : verdict);
  return met === null && verdict === 'soon'
    ? [{ ...matter, what: 'doubt', because, sinceMs: null }]
    : [{ ...matter, what: 'limit', because, sinceMs: met ?? clockMs }];
}

function aheadMatter({ estimates }: Status, outlook: Outlook | null, withinDays: number): Matter[] {
  if (!outlook?.limit || !outlook.days || outlook.days.p50 > withinDays) return [];
  const { bath, what } = outlook.limit;
  const now = estimates.find((one) => one.bath === bath);
  if (outlook.past || (now && isAtLeast(now.verdict, 'change'))) return [];
  return [{ what: 'ahead', bath, because: what, severity: 'soon', sinceMs: null, days: outlook.days.p50 }];
}

/** A bath that says soon and reaches its change limit soon is one matter. */
function withAhead(matters: Matter[], ahead: Matter[]): Matter[] {
  const [next] = ahead;
  const same = next && matters.find(({ bath, because }) => bath === next.bath && because === next.because);
  if (!same) return [...matters, ...ahead];
  return matters.map((one) => (one === same ? { ...one, days: next.days } : one));
}

function ageMatters({ estimates, clockMs }: Status, withinDays: number): Matter[] {
  return estimates.flatMap(({ bath, ageDays, limits }) => {
    if (ageDays === null || ageDays < limits.ageDays - withinDays) return [];
    const left = limits.ageDays - ageDays;
    return [
      {
        what: 'age' as const,
        bath,
        because: 'age' as const,
        severity: 'soon' as const,
        sinceMs: left <= 0 ? clockMs + left * MS_PER_DAY : null,
        days: Math.max(0, left),
      },
    ];
  });
}

function levelMatter({ advice }: Status): Matter[] {
  return advice.action === 'top-up' && advice.because === 'level'
    ? [{ what: 'level', bath: advice.bath, because: 'level', severity: 'soon', sinceMs: null, days: null }]
    : [];
}

/** Baths of which the ledger says what cannot be, or a reading what is hard to believe. */
function doubtMatters({ estimates }: Status): Matter[] {
  return estimates
    .filter((bath) => isOverfull(bath) || bath.doubted !== undefined)
    .map(({ bath }) => ({
      what: 'reading',
      bath,
      because: null,
      severity: 'soon',
      sinceMs: null,
      days: null,
    }));
}

/** Days on which the shop usually washes that went by without any entry. */
function staleMatter(
  {
    entries,
    pace,
    days,
    status,
  }: { entries: readonly Entry[]; pace: Pace | null; days: Days; status: Status },
  staleDays: number,
): Matter[] {
  const last = entries.at(-1);
  if (!last) return [];
  let silent = 0;
  const today = days.startOf(status.clockMs);
  for (let day = days.next(days.startOf(last.atMs)); day < today && silent <= 366; day = days.next(day)) {
    const weekday = days.weekday(day);
    if (pace ? pace.loads[weekday]! > 0 : weekday > 0 && weekday < 6) silent += 1;
  }
  if (silent < staleDays) return [];
  return [{ what: 'stale', bath: null, because: null, severity: 'soon', sinceMs: last.atMs, days: silent }];
}

/** A shop that never measures is not reminded of it each night. */
function readingMatter(entries: readonly Entry[], clockMs: number, readingDays: number): Matter[] {
  const last = entries.findLast(({ event }) => event.what === 'reading' || event.what === 'weighed');
  if (!last) return [];
  const silent = (clockMs - last.atMs) / MS_PER_DAY;
  if (silent < readingDays) return [];
  return [
    {
      what: 'reading',
      bath: null,
      because: null,
      severity: 'soon',
      sinceMs: last.atMs,
      days: Math.floor(silent),
    },
  ];
}

/** Too little for the next change, once it is time to order. */
function stockMatter(supply: Supply | null, withinDays: number): Matter[] {
  if (!supply || supply.orderByDays === null || supply.orderByDays > withinDays) return [];
  const { solvent, orderByDays } = supply;
  return [
    {
      what: 'stock',
      bath: null,
      item: solvent,
      because: null,
      severity: 'soon',
      sinceMs: null,
      days: Math.max(0, orderByDays),
    },
  ];
}

/** Reclaimed solvent on hand that is to be tested for peroxides soon, or should have been. */
function testMatters(tests: readonly PeroxideTest[], clockMs: number, withinDays: number): Matter[] {
  return tests
    .filter(({ byMs }) => byMs <= clockMs + withinDays * MS_PER_DAY)
    .map(({ solvent, byMs }) => ({
      what: 'test',
      bath: null,
      item: solvent,
      because: null,
      severity: 'soon',
      sinceMs: byMs <= clockMs ? byMs : null,
      days: Math.max(0, (byMs - clockMs) / MS_PER_DAY),
    }));
}

/** From this share on the next change may not fit. Common practice, no source. */
const NEARLY_FULL = 0.85;

/** Containers in use that are nearly full, or older than the longest time for which small generators may keep waste. */
function wasteMatters(containers: readonly Container[]): Matter[] {
  return containers.flatMap((one) => {
    const { container, closed, fullShare, ageDays } = one;
    const old = ageDays !== null && ageDays > KEPT_DAYS;
    if (container === null || closed !== null || ((fullShare ?? 0) < NEARLY_FULL && !old)) return [];
    return [
      {
        what: 'waste' as const,
        bath: null,
        item: container,
        because: old ? ('age' as const) : null,
        severity: (fullShare ?? 0) > 1 ? ('change' as const) : ('soon' as const),
        sinceMs: null,
        days: ageDays === null ? null : Math.floor(ageDays),
        ...(fullShare === null ? {} : { fullShare }),
      },
    ];
  });
}

/** Days for which a small quantity generator may keep waste under US federal rules, 40CFR262.16 in data/limits.csv. */
const KEPT_DAYS = 180;

/** What a matter is told by, so that it is not told twice. */
export function keyOf({ what, bath, item, because, severity }: Matter): string {
  return [what, bath, item, because, severity].filter(Boolean).join(' ');
}
