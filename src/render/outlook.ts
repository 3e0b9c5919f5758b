/**
 * What comes, in a few lines: the first limit, loads and days to it, the date, the solvent it takes.
 */
import type { Outlook } from '../outlook/outlook.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Status } from '../outlook/status.ts';
import type { Supply } from '../outlook/supply.ts';
import type { Moment } from '../outlook/trail.ts';
import type { Line } from './echo.ts';
import { banded, count, trim, volume } from './format.ts';
import { heldText, unknownLines } from './held.ts';

const MS_PER_DAY = 86_400_000;

interface View {
  status: Status;
  outlook: Outlook;
  supply: Supply | null;
  /** A day in words. */
  day(ms: number): string;
}

/** The lines under the title. */
export function outlookLines(view: View): Line[] {
  const { outlook } = view;
  return [
    ['next change', limitText(view)],
    ...(outlook.loads ? leftLines(view, outlook.loads, outlook.days!) : []),
    ['pace', paceText(outlook)],
    ...ageLines(view),
    ...changeLines(view),
    ...supplyLines(view),
  ];
}

function limitText({ outlook, status }: View): string {
  const { limit, past } = outlook;
  if (!limit) return 'none within a year at this pace';
  const { limits } = status.shop.tubs[status.shop.tubPlace.get(limit.bath)!]!;
  const bath = `the ${limit.bath} bath`;
  if (limit.what === 'level') return `${bath} runs dry, as nothing is topped up in this count`;
  const percent = trim((limit.what === 'resin' ? limits.resin : limits.water)[1], 2);
  const text = `${percent} wt% ${limit.what}`;
  return past ? `${bath} is past ${text} already` : `${bath} reaches ${text}`;
}

function leftLines({ status, outlook, day }: View, loads: Quantity, days: Quantity): Line[] {
  const { parts } = outlook;
  const date = (quantity: number) => day(status.clockMs + quantity * MS_PER_DAY);
  const { p05 = days.p50, p50, p95 = days.p50 } = days;
  return [
    ['loads left', banded(loads, 0)],
    ...(parts && parts.p50 > 0 ? [['parts left', banded(parts, 0)] as const] : []),
    ['days left', banded(days, p50 < 10 ? 1 : 0)],
    ['date', `${date(p50)}, from ${date(p05)} to ${date(p95)}`],
  ];
}

function paceText({ pace, basis, load }: Outlook): string {
  const size = `loads like the last ${basis}${load.parts > 0 ? `, ${trim(load.parts, 1)} parts each` : ''}`;
  const week = `${trim(pace.perWeek, 1)} loads a week`;
  return pace.basisDays > 0
    ? `${week}, from ${count(pace.basisDays, 'day')} with washes of the last 28; ${size}`
    : `${week}, as given; ${size}`;
}

function ageLines({ status, outlook, day }: View): Line[] {
  const limitDays = outlook.days?.p50 ?? Number.POSITIVE_INFINITY;
  const ages = outlook.ageDays.flatMap((days, place) =>
    days === null ? [] : [{ days, name: status.shop.tubs[place]!.name }],
  );
  const texts = ages
    .sort((one, other) => one.days - other.days)
    .map(({ days, name }) => {
      if (days <= 0) return `${name} past it`;
      const first = outlook.days && days < limitDays ? ', before that change' : '';
      return `${name} on ${day(status.clockMs + days * MS_PER_DAY)}${first}`;
    });
  return texts.length === 0 ? [] : [['age limit', texts.join('; ')]];
}

/** Of a rotation both pours, where there are two. */
function changeLines({ outlook: { change }, status: { shop } }: View): Line[] {
  if (!change) return [];
  const { action, baths, solventMl, makeUpMl } = change;
  if (action === 'refill')
    return [['for it', `refill the ${baths[0]} bath: ${volume(solventMl)} of solvent`]];
  const cleanMl = shop.tubs[shop.tubPlace.get('clean')!]!.markMl;
  const pours =
    makeUpMl >= LEAST_POUR_ML
      ? `, ${volume(cleanMl)} into the clean bath and ${volume(makeUpMl)} to bring the dirty one to its mark`
      : '';
  return [['for it', `rotate: ${volume(solventMl)} of solvent${pours}`]];
}

/** Less is told nowhere. */
const LEAST_POUR_ML = 0.5;

/** What is on hand, and when to order. */
function supplyLines({ supply, status, day }: View): Line[] {
  if (!supply) return [];
  const { solvent, onHandMl, enough, orderByDays } = supply;
  if (onHandMl === null) return unknownLines(solvent);
  const held = heldText({ solvent, onHandMl });
  if (enough) return [['on hand', `${held}, enough for it`]];
  const order = orderByDays! <= 0 ? 'now' : `by ${day(status.clockMs + orderByDays! * MS_PER_DAY)}`;
  return [
    ['on hand', onHandMl < 0 ? held : `${held}, less than it takes`],
    ['order', `${order}, to have it before the early end of the date`],
  ];
}

/** The data of `bathbook/outlook/1`, but for `until`. */
export function outlookDocument(
  {
    status,
    outlook,
    supply,
    past,
    ahead,
  }: Omit<View, 'day'> & { past: readonly Moment[]; ahead: readonly Moment[] },
  time: (ms: number) => string,
): Record<string, unknown> {
  const { days } = outlook;
  const date = (value: number | undefined) => time(status.clockMs + (value ?? days!.p50) * MS_PER_DAY);
  return {
    loads_left: outlook.loads,
    parts_left: outlook.parts,
    days_left: days,
    date: days && { p05: date(days.p05), p50: date(days.p50), p95: date(days.p95) },
    first_limit: outlook.limit,
    past: outlook.past,
    age_days_left: Object.fromEntries(
      status.shop.tubs.map(({ name }, place) => [name, outlook.ageDays[place]!]),
    ),
    change: outlook.change && { action: outlook.change.action, baths: outlook.change.baths },
    solvent_ml: outlook.change ? { p50: outlook.change.solventMl } : null,
    stock: supply && {
      solvent: supply.solvent,
      on_hand_ml: supply.onHandMl,
      needed_ml: supply.neededMl,
      enough: supply.enough,
      order_by: supply.orderByDays === null ? null : date(supply.orderByDays),
    },
    basis: {
      loads_per_week: outlook.pace.perWeek,
      loads_by_weekday: outlook.pace.loads,
      days_with_washes: outlook.pace.basisDays,
      washes: outlook.basis,
      parts_per_load: outlook.load.parts,
    },
    trail: momentsDocument(past, status, time),
    ahead: momentsDocument(ahead, status, time),
  };
}

/** A bath at a time, where it held what it holds now. */
function momentsDocument(
  moments: readonly Moment[],
  { shop }: Status,
  time: (ms: number) => string,
): Record<string, unknown>[] {
  return shop.tubs.flatMap(({ name }, place) =>
    moments.flatMap(({ atMs, resinWtPct }) => {
      const value = resinWtPct[place];
      return value ? [{ bath: name, date: time(atMs), resin_wt_pct: value }] : [];
    }),
  );
}
