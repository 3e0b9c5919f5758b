import type { Finding } from './finding.ts';
import { daysInMonth, parseTime } from './time.ts';

type Told = Pick<Finding, 'code' | 'message' | 'help'>;

const FORM = 'Write it like 2026-11-02T07:40:00-04:00: date, "T", time with seconds, offset from UTC';

/** Why `text` is not a time the ledger takes, told to a person. */
export function explainTime(key: string, text: string): Told {
  return noSuchDate(key, text) ?? noOffset(key, text) ?? nearlyRight(key, text);
}

function noSuchDate(key: string, text: string): Told | undefined {
  const m = /^(\d{4})-(\d{2})-(\d{2})(?!\d)/.exec(text);
  if (m === null) {
    return undefined;
  }
  const [year, month, day] = [Number(m[1]), Number(m[2]), Number(m[3])];
  const date = m[0];
  if (month < 1 || month > 12) {
    return {
      code: 'no-such-date',
      message: `Cannot take ${key}: ${date} has month ${m[2]}, allowed is 01 to 12`,
      help: FORM,
    };
  }
  const last = daysInMonth(year, month);
  if (day < 1 || day > last) {
    const message = `Cannot take ${key}: ${date} is no date, that month has ${last} days`;
    return { code: 'no-such-date', message, help: 'Write the day it happened' };
  }
  if (year < 2000 || year > 2199) {
    const message = `Cannot take ${key}: the year is ${m[1]}, allowed is 2000 to 2199`;
    return { code: 'no-such-date', message, help: 'Write the year it happened' };
  }
  return undefined;
}

function noOffset(key: string, text: string): Told | undefined {
  if (!/^\d{4}-\d{2}-\d{2}[Tt ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?$/.test(text)) {
    return undefined;
  }
  const whole = tidy(text);
  return {
    code: 'no-offset',
    message: `Cannot take ${key}: "${text}" has no offset from UTC, so the instant is not known`,
    help: `Add the offset that was in force there and then, like ${whole}-04:00, or Z for UTC`,
  };
}

function nearlyRight(key: string, text: string): Told {
  const fixed = tidy(text);
  const help = Number.isNaN(parseTime(fixed)) ? FORM : `Write ${key}: ${fixed}`;
  return {
    code: 'bad-time',
    message: `Cannot take ${key}: "${text}" is not a time the ledger can read`,
    help,
  };
}

/** Capital letters, a `T` for a blank, seconds where they were left out, a colon in the offset. */
function tidy(text: string): string {
  const m =
    /^(\d{4}-\d{2}-\d{2})[Tt ](\d{2}:\d{2})(:\d{2}(?:\.\d+)?)?\s*(?:([Zz])|([+-]\d{2}):?(\d{2})?)?$/.exec(
      text,
    );
  if (m === null) {
    return text;
  }
  const offset = m[4] !== undefined ? 'Z' : m[5] !== undefined ? `${m[5]}:${m[6] ?? '00'}` : '';
  return `${m[1]}T${m[2]}${m[3] ?? ':00'}${offset}`;
}
