/** What an event says, whatever its id: by it, events without an id are known again. */
import type { LedgerEvent } from '../ledger/event.ts';

const LETTERS = '23456789abcdefghjkmnpqrstuvwxyz';
const LENGTH = 8;
/** Where it stands in the file, and when it was typed, is not what it says; the time is compared as an instant. */
const LEFT_OUT = new Set(['id', 'at', 'logged']);

/** Two events with the same text happened at the same moment and say the same. */
export function contentOf(event: LedgerEvent, atMs: number): string {
  const values = event as unknown as Record<string, unknown>;
  const said = Object.fromEntries(Object.entries(values).filter(([key]) => !LEFT_OUT.has(key)));
  return `${atMs} ${stable(said)}`;
}

/** Whether two events have the same content, without making a text of it. */
export function saySame(one: { event: LedgerEvent; atMs: number }, other: typeof one): boolean {
  return one.atMs === other.atMs && sameValues(one.event, other.event, LEFT_OUT);
}

const NONE: ReadonlySet<string> = new Set();

function sameValues(one: unknown, other: unknown, leftOut = NONE): boolean {
  if (typeof one === 'string' && typeof other === 'string')
    return one === other || whole(one) === whole(other);
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return one === other;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const [values, others] = [one as Record<string, unknown>, other as Record<string, unknown>];
  for (const key in values) if (!leftOut.has(key) && !sameValues(values[key], others[key])) return false;
  for (const key in others)
    if (!leftOut.has(key) && values[key] === undefined && others[key] !== undefined) return false;
  return true;
}

/** Half surrogate pairs, which no file in UTF-8 can hold, count as the replacement character. */
function whole(text: string): string {
  return text.replaceAll(/\p{Surrogate}/gu, '\ufffd');
}

/** JSON with sorted keys. */
function stable(value: unknown): string {
  if (typeof value === 'string') return JSON.stringify(whole(value));
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  if (Array.isArray(value)) return `[${value.map(stable).join(',')}]`;
  const map = value as Record<string, unknown>;
  const keys = Object.keys(map).filter((key) => map[key] !== undefined);
  return `{${keys
    .sort()
    .map((key) => `${JSON.stringify(key)}:${stable(map[key])}`)
    .join(',')}}`;
}

/**
 * An id from what an event says: who imports the same file twice, or on two computers, gets the same ids.
 *
 * @param nth - which of several events that say the same, from 0
 */
export function contentId(content: string, nth: number, taken: (id: string) => boolean): string {
  for (let salt = 0; ; salt += 1) {
    const id = letters(`${content}#${nth}#${salt}`);
    if (!taken(id)) return id;
  }
}

/** Two 32-bit FNV-1a hashes with different offsets, mixed at the end, as letters without those that look alike. */
function letters(text: string): string {
  let [one, other] = [0x811c9dc5, 0x2f0b4a27];
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    one = Math.imul(one ^ code, 0x01000193);
    other = Math.imul(other ^ (code + at), 0x01000193);
  }
  let rest = (BigInt(mixed(one)) << 32n) | BigInt(mixed(other));
  let id = '';
  while (id.length < LENGTH) {
    id += LETTERS[Number(rest % BigInt(LETTERS.length))];
    rest /= BigInt(LETTERS.length);
  }
  return id;
}

function mixed(hash: number): number {
  const half = Math.imul(hash ^ (hash >>> 16), 0x45d9f3b);
  return (half ^ (half >>> 15)) >>> 0;
}
