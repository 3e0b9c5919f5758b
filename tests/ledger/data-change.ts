/** How the data of a ledger differ after a change of one byte, judged without the program. */
import { isDeepStrictEqual } from 'node:util';

export interface Data {
  head: Record<string, unknown>;
  events: unknown[];
}

/**
 * `same`: nothing differs. `value`: one value has become another of the same type. `name`: one key of a map has become
 * another. `words`: words of a list without quotes are one more or one less, a sign between them having come or gone. `line gone`, `line come`: one event, or one key of the head with all it holds, is missing or more than before.
 * `otherwise`: anything else.
 */
export type Change = 'same' | 'value' | 'name' | 'words' | 'line gone' | 'line come' | 'otherwise';

export function changeOf(before: Data, after: Data): Change {
  if (isDeepStrictEqual(before.events, after.events)) return mapChange(before.head, after.head, true);
  if (!isDeepStrictEqual(before.head, after.head)) return 'otherwise';
  if (before.events.length > after.events.length) return oneMore(after.events, before.events, 'line gone');
  if (before.events.length < after.events.length) return oneMore(before.events, after.events, 'line come');
  return listChange(before.events, after.events);
}

function oneMore(fewer: unknown[], more: unknown[], change: Change): Change {
  const at = more.findIndex((one, place) => !isDeepStrictEqual(one, fewer[place]));
  return isDeepStrictEqual(more.toSpliced(at, 1), fewer) ? change : 'otherwise';
}

function valueChange(before: unknown, after: unknown): Change {
  if (Array.isArray(before) && Array.isArray(after)) return listChange(before, after);
  if (isMap(before) && isMap(after)) return mapChange(before, after, false);
  const isScalar = before !== null && typeof before !== 'object';
  return isScalar && typeof before === typeof after ? 'value' : 'otherwise';
}

function listChange(before: unknown[], after: unknown[]): Change {
  if (before.length !== after.length) return isParted(before, after) ? 'words' : 'otherwise';
  const places = before.flatMap((one, place) => (isDeepStrictEqual(one, after[place]) ? [] : [place]));
  if (places.length !== 1) return places.length === 0 ? 'same' : 'otherwise';
  return valueChange(before[places[0]!], after[places[0]!]);
}

/** One more or one less, and the letters of all of them the same but for one. */
function isParted(before: unknown[], after: unknown[]): boolean {
  const isText = (one: unknown) => typeof one === 'string';
  if (Math.abs(before.length - after.length) !== 1 || ![...before, ...after].every(isText)) return false;
  const [fewer, more] = [lettersOf(before), lettersOf(after)].sort((a, b) => a.length - b.length);
  const at = [...more!].findIndex((letter, place) => letter !== fewer![place]);
  if (at < 0) return true;
  const rest = more!.slice(at + 1);
  return fewer!.slice(at) === rest || fewer!.slice(at + 1) === rest;
}

function lettersOf(list: unknown[]): string {
  return list.join('').replaceAll(/[^\p{L}\p{N}]/gu, '');
}

function mapChange(
  before: Record<string, unknown>,
  after: Record<string, unknown>,
  linesOfTheirOwn: boolean,
): Change {
  const gone = Object.keys(before).filter((key) => !Object.hasOwn(after, key));
  const come = Object.keys(after).filter((key) => !Object.hasOwn(before, key));
  const kept = Object.keys(before).filter((key) => Object.hasOwn(after, key));
  const other = kept.filter((key) => !isDeepStrictEqual(before[key], after[key]));
  if (gone.length + come.length === 0) {
    if (other.length !== 1) return other.length === 0 ? 'same' : 'otherwise';
    const [was, is] = [before[other[0]!], after[other[0]!]];
    return linesOfTheirOwn && isMap(was) && isMap(is) ? mapChange(was, is, true) : valueChange(was, is);
  }
  if (other.length > 0) return 'otherwise';
  if (gone.length === 1 && come.length === 1) {
    return isDeepStrictEqual(before[gone[0]!], after[come[0]!]) ? 'name' : 'otherwise';
  }
  if (!linesOfTheirOwn || gone.length + come.length > 1) return 'otherwise';
  return gone.length === 1 ? 'line gone' : 'line come';
}

function isMap(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
