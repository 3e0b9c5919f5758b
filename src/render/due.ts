/**
 * What is due, one plain line each: it may be read in a mail.
 */
import { keyOf, type Matter } from '../outlook/due.ts';
import type { Status } from '../outlook/status.ts';
import { adviceText, measureAgain } from './advice.ts';
import { banded, count, trim, volume } from './format.ts';
import { DISTILLING, TEST_HOW, UNTESTED } from './peroxide-words.ts';

interface View {
  status: Status;
  day(ms: number): string;
}

const MS_PER_DAY = 86_400_000;

/** The line of one matter. */
export function dueText(matter: Matter, { status, day }: View): string {
  const bath = status.estimates.find((one) => one.bath === matter.bath);
  switch (matter.what) {
    case 'limit':
      return `${matter.severity === 'stop' ? 'stop washing' : `${matter.severity}`}: ${ofBath(matter, status)}${sinceText(matter, day)}${aheadText(matter, status, day)}`;
    case 'doubt':
      return `soon: ${ofBath(matter, status)}${aheadText(matter, status, day)}; it may be past its change limit, take a reading`;
    case 'ahead':
      return `soon: the ${matter.bath} bath ${matter.because === 'level' ? 'runs dry' : `reaches its change limit for ${matter.because}`} ${withinText(matter, status, day)}`;
    case 'age':
      return `soon: the solvent in the ${matter.bath} bath is ${count(Math.floor(bath!.ageDays ?? 0), 'day')} old (limit ${bath!.limits.ageDays})`;
    case 'level':
      return `soon: top up the ${matter.bath} bath, it holds ${volume(bath!.volumeMl.p50)} of ${volume(bath!.markMl)}`;
    case 'stale':
      return `soon: nothing was logged for ${count(matter.days ?? 0, 'working day')}; if loads were washed, the estimates are too low`;
    case 'reading':
      if (bath) return `soon: ${measureAgain(bath)}`;
      return `soon: the last reading is ${count(matter.days ?? 0, 'day')} old; bathbook calibrate says which to take`;
    case 'stock':
      return `soon: too little ${matter.item} for the next change; order it ${matter.days! <= 0 ? 'today' : `by ${day(status.clockMs + matter.days! * MS_PER_DAY)}`}`;
    case 'test':
      return `soon: peroxide test of ${matter.item} ${testText(matter, status, day)}`;
    case 'waste':
      return `${matter.severity === 'change' ? 'change' : 'soon'}: waste container ${matter.item} ${containerText(matter)}; local rules decide how much and how long`;
    default:
      return matter.what satisfies never;
  }
}

/** When a bath that is due already reaches its change limit. */
function aheadText(matter: Matter, status: Status, day: View['day']): string {
  return matter.days === null ? '' : `; reaches its change limit ${withinText(matter, status, day)}`;
}

function withinText({ days }: Matter, { clockMs }: Status, day: View['day']): string {
  const left = days ?? 0;
  return `within ${count(Math.max(1, Math.ceil(left)), 'day')}, about ${day(clockMs + left * MS_PER_DAY)}`;
}

/** With the cautions of `reclaim`. */
function testText({ item, sinceMs, days }: Matter, { clockMs }: Status, day: View['day']): string {
  return sinceMs === null
    ? `by ${day(clockMs + (days ?? 0) * MS_PER_DAY)} if some is left then (${TEST_HOW})${doneText(item)}`
    : `due since ${day(sinceMs)}, ${UNTESTED} (${TEST_HOW})${doneText(item)}. ${DISTILLING}`;
}

/** How to have done with the reminder. */
function doneText(item: Matter['item']): string {
  return `; once done: bathbook stock counted ${item} AMOUNT --tested`;
}

function containerText({ fullShare, because, days }: Matter): string {
  const full = fullShare === undefined ? [] : [`is ${Math.round(100 * fullShare)} % full`];
  const old = because === 'age' ? [`is ${count(days ?? 0, 'day')} old`] : [];
  return [...full, ...old].join(' and ');
}

function ofBath({ bath: name, because }: Matter, { estimates }: Status): string {
  const bath = estimates.find((one) => one.bath === name)!;
  const water = because === 'water';
  const quantity = water ? bath.waterWtPct! : bath.resinWtPct!;
  const limits = water ? bath.limits.water : bath.limits.resin;
  const [soon, change, never] = limits.map((limit) => trim(limit, 2));
  return `the ${name} bath is at ${banded(quantity)} wt% ${because} (soon ${soon}, change ${change}, never ${never})`;
}

function sinceText({ sinceMs }: Matter, day: View['day']): string {
  return sinceMs === null ? '' : `, since ${day(sinceMs)}`;
}

/** All lines, the advice last where a bath is due. */
export function dueLines(matters: readonly Matter[], view: View): string[] {
  const lines = matters.map((matter) => dueText(matter, view));
  const ofBaths = matters.some(({ what }) => what === 'limit' || what === 'doubt' || what === 'age');
  return ofBaths ? [...lines, `advice: ${adviceText(view.status.advice, view.status.estimates)}`] : lines;
}

/** The data of `bathbook/due/1`. */
export function dueDocument(
  matters: readonly Matter[],
  view: View,
  on: { ledger: string; time: (ms: number) => string; judged: boolean },
): Record<string, unknown> {
  return {
    ledger: on.ledger,
    judged: on.judged,
    due: dueItems(matters, view, on.time),
  };
}

/** Each matter as documents list it. */
export function dueItems(
  matters: readonly Matter[],
  view: View,
  time: (ms: number) => string,
): Record<string, unknown>[] {
  return matters.map((matter) => ({
    key: keyOf(matter),
    what: matter.what,
    bath: matter.bath,
    item: matter.item ?? null,
    because: matter.because,
    severity: matter.severity,
    since: matter.sinceMs === null ? null : time(matter.sinceMs),
    days: matter.days,
    text: dueText(matter, view),
  }));
}
