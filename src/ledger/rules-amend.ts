import type { AmendEvent } from './event.ts';
import type { Finding } from './finding.ts';
import { EVENT_KEYS } from './line.ts';
import { didYouMean } from './near.ts';

const FIXED = ['id', 'what', 'of'];

const NONE: readonly Finding[] = [];

/**
 * What an amend sets must be keys of events with values. Whether they suit the event it names is seen when it is applied, which one
 * that is void itself never is.
 */
export function checkAmend(event: AmendEvent): readonly Finding[] {
  const keys = Object.keys(event.set);
  if (keys.length === 0) {
    return [
      {
        code: 'empty',
        message: 'Cannot take set: {}, it changes nothing',
        help: 'Write the key and its new value, like set: {ml: 3000}',
        path: ['set'],
      },
    ];
  }
  const wrong = keys.flatMap((key) => checkKey(key, event));
  return wrong.length === 0 ? NONE : wrong;
}

function checkKey(key: string, { of, set }: AmendEvent): readonly Finding[] {
  const path = ['set', key];
  if (FIXED.includes(key)) {
    return [
      {
        code: 'amend-fixed-key',
        message: `Cannot change "${key}" by an amend`,
        help: `Void the event instead, like {what: void, of: "${of}", why: "entered wrong"}, and log it anew`,
        path,
        atKey: true,
      },
    ];
  }
  if (!EVENT_KEYS.has(key)) {
    const help = didYouMean(key, EVENT_KEYS) ?? 'Use the keys of the event it amends';
    return [
      { code: 'unknown-key', message: `Cannot use the key "${key}" under "set"`, help, path, atKey: true },
    ];
  }
  if (set[key] === null) {
    const message = `Cannot take ${key}: nothing under "set"`;
    return [
      { code: 'wrong-type', message, help: 'Write the new value; void the event to take it back', path },
    ];
  }
  return NONE;
}
