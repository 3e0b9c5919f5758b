/**
 * The law for a ledger with one byte changed: never is another event (or another head) read without a problem that names a
 * place, but for changes that no reader can know for a change. Which those are is judged from the data as another YAML
 * parser reads them, before and after: one value in the place of another of its kind, one name in the place of another,
 * a line that has become a remark or was one.
 */
import { isDeepStrictEqual } from 'node:util';
import { checkLedger } from '../../src/ledger/check.ts';
import type { Written } from '../../src/ledger/event.ts';
import type { Problem } from '../../src/ledger/problem.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { CLOCK_MS, otherwiseRead } from './damage-ledgers.ts';
import { replaced } from './damages.ts';
import { type Change, changeOf, type Data } from './data-change.ts';

/**
 * What became of a changed byte. `told`: a problem on the line touched or next to it; `told further on`: in the head, after it; `told
 * elsewhere`: in another line, because of a change that is none to a reader. `without effect`: in an amend that is void itself.
 */
export type Outcome = 'told' | 'told further on' | 'told elsewhere' | 'without effect' | Change;

export interface Original {
  name: string;
  bytes: Uint8Array;
  data: Data;
  /** The events as one text each. */
  events: ReadonlySet<string>;
  entries: unknown[];
  /** The line `events:`, and the byte after its end. */
  eventsLine: number;
  eventsEnd: number;
}

export interface Judged {
  outcome: Outcome;
  /** Why the law is broken. */
  broken: string[];
}

export async function originalOf(name: string, text: string): Promise<Original> {
  const bytes = new TextEncoder().encode(text);
  const { file, settled, problems } = await read(bytes);
  if (problems.length > 0) throw new Error(`${name} is not sound: ${JSON.stringify(problems)}`);
  const data = otherwiseRead(text);
  const before = text.slice(0, /^events:.*/m.exec(text)!.index);
  return {
    name,
    bytes,
    data,
    events: new Set(file.events.map(({ event }) => JSON.stringify(event))),
    entries: entriesOf(settled),
    eventsLine: before.split('\n').length,
    eventsEnd: bytes.indexOf(10, new TextEncoder().encode(before).length) + 1,
  };
}

function entriesOf({ entries }: Checked['settled']): unknown[] {
  return entries.map(({ event }) => event);
}

type Checked = Awaited<ReturnType<typeof checkLedger>>;

function read(bytes: Uint8Array): ReturnType<typeof checkLedger> {
  return checkLedger(bytes, { clockMs: CLOCK_MS, catalogue });
}

/** Reads the changed bytes and holds what was read against the law. `at` is the first byte that differs. */
export async function judge(original: Original, bytes: Uint8Array, at: number): Promise<Judged> {
  const checked = await read(bytes);
  const { file, problems } = checked;
  const strange = file.events.filter(({ event }) => !original.events.has(JSON.stringify(event)));
  const broken = problems.flatMap((problem) => misplaced(problem, bytes));
  const untold = strange.filter(({ line }) => !problems.some((problem) => problem.line === line));
  const head = file.header === null ? null : { ...file.header };
  const sameHead = isDeepStrictEqual(head ?? original.data.head, original.data.head);
  if (problems.length > 0 && untold.length === 0 && sameHead) {
    const where = whereTold(problems, bytes, at, original);
    if (where !== undefined) return { outcome: where, broken };
  }
  const other = otherData(bytes, at);
  const shown = () => JSON.stringify(strange.map(({ event }) => event)[0] ?? { ...head, events: '…' });
  if ('why' in other) {
    broken.push(
      `${problems.length} problems, read was ${shown()}, and another parser reads nothing: ${other.why}`,
    );
    return { outcome: 'otherwise', broken };
  }
  let change: Outcome = changeOf(original.data, other);
  if (change === 'otherwise' && isWithout(checked, strange, original)) change = 'without effect';
  if (change === 'otherwise') broken.push(`${problems.length} problems, and read was ${shown()}`);
  const asOther = { head: other.head, events: other.events };
  const asRead = { head, events: file.events.map(({ event }) => event) };
  if (problems.length === 0 && !isDeepStrictEqual(asOther, asRead)) {
    broken.push(`another parser reads something else than ${shown()}`);
  }
  return { outcome: problems.length > 0 ? 'told elsewhere' : change, broken };
}

/** On the line touched or next to it; of the head also further on, where a parser sees that lines do not hang together. */
function whereTold(
  problems: readonly Problem[],
  bytes: Uint8Array,
  at: number,
  { eventsLine }: Original,
): Outcome | undefined {
  const touched = lineOf(bytes, at);
  // A line that was broken in two has the place of the break in both.
  const last = bytes[at] === 10 ? touched + 1 : touched;
  const isThere = (from: number, to: number) => problems.some(({ line = -1 }) => line >= from && line <= to);
  if (isThere(touched - 1, last + 1)) return 'told';
  return isThere(touched, Math.min(touched + 20, eventsLine)) ? 'told further on' : undefined;
}

/** What an amend says that is void itself changes nothing. */
function isWithout({ settled }: Checked, strange: readonly Written[], original: Original): boolean {
  const isVoid = strange.every(({ event }) => event.what === 'amend' && settled.voided.has(event.id));
  return isVoid && isDeepStrictEqual(entriesOf(settled), original.entries);
}

function otherData(bytes: Uint8Array, at: number): Data | { why: string } {
  const text = new TextDecoder().decode(bytes);
  try {
    return otherwiseRead(text);
  } catch (error) {
    // YAML 1.2 allows a tab for a blank between the parts of a flow map (6.2), js-yaml does not.
    if (bytes[at] === 9) return otherData(replaced(bytes, at, 32), at);
    // YAML wants the bracket that closes one of several lines set in; the ledger takes it at the margin as well.
    const setIn = new TextEncoder().encode(text.replaceAll(/\n(?=[}\]])/g, '\n '));
    return setIn.length > bytes.length
      ? otherData(setIn, at)
      : { why: String((error as Error).message.split('\n')[0]) };
  }
}

/** A problem names a line of the file, a column in it, and shows the line as it is. */
function misplaced({ code, line, column, excerpt }: Problem, bytes: Uint8Array): string[] {
  const lines = new TextDecoder().decode(bytes).split('\n');
  const there = line === undefined ? undefined : lines[line - 1];
  if (there === undefined) return [`${code} names the line ${line} of ${lines.length}`];
  const bare = (text: string) => text.replace(/\r+$/, '');
  if (excerpt !== undefined && bare(excerpt) !== bare(there))
    return [`${code} shows "${excerpt}" for line ${line}`];
  return column === undefined || (column >= 1 && column <= there.length + 1)
    ? []
    : [`${code} names the column ${column} of ${there.length}`];
}

function lineOf(bytes: Uint8Array, at: number): number {
  return bytes.subarray(0, at).reduce((count, byte) => count + Number(byte === 10), 1);
}
