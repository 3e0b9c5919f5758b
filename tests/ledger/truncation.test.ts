/**
 * Ledgers cut at every byte, as an interrupted write or a full disk leaves them. Of a cut there is no excuse: every event that is read is
 * one of the ledger's own, in its place, and what is missing is told, but for a cut at the end of a line, after which nothing is missing.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { append } from '../../src/ledger/append.ts';
import { checkLedger } from '../../src/ledger/check.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { tempFolder } from '../commands/bundle.ts';
import { CLOCK_MS, LEDGERS, otherwiseRead } from './damage-ledgers.ts';

const names = Object.keys(LEDGERS);
const bytesOf = (name: string) => new TextEncoder().encode(LEDGERS[name]);
const read = (bytes: Uint8Array) => checkLedger(bytes, { clockMs: CLOCK_MS, catalogue });

/** The first byte of the line after `events:`. */
function eventsFrom(name: string): number {
  const text = LEDGERS[name]!;
  const end = text.indexOf('\n', text.search(/^events:/m)) + 1;
  return new TextEncoder().encode(text.slice(0, end)).length;
}

/** What is whole of a cut ledger: its lines that have an end, and the last one where the other parser reads it as an event. */
function wholeOf(text: string): { kept: string; isCut: boolean } {
  const start = text.lastIndexOf('\n') + 1;
  const last = text.slice(start).trim();
  const isCut = last !== '' && !last.startsWith('#') && !isEvent(last);
  return { kept: isCut ? text.slice(0, start) : text, isCut };
}

function isEvent(line: string): boolean {
  try {
    const [event] = otherwiseRead(`events:\n  ${line}\n`).events;
    return typeof event === 'object' && event !== null;
  } catch {
    return false;
  }
}

describe.each(names)('the ledger %s', (name) => {
  const bytes = bytesOf(name);
  const whole = otherwiseRead(LEDGERS[name]!);
  const from = eventsFrom(name);

  it('cut in its head has no events, and says so', async () => {
    // The line `events:` is one without its end as well.
    const headEnd =
      from -
      (LEDGERS[name]!.includes('\r\n') ? 2 : 1) -
      LEDGERS[name]!.match(/^events:(.*?)\r?$/m)![1]!.length;
    for (let length = 0; length < headEnd; length++) {
      const { file, problems } = await read(bytes.subarray(0, length));
      expect(file.events).toEqual([]);
      expect(
        problems.map(({ severity }) => severity),
        `${length} bytes`,
      ).toContain('error');
      for (const { line } of problems) expect(line).toBeGreaterThan(0);
    }
  });

  it('cut among its events has those that are whole, as they were', async () => {
    for (let length = from; length <= bytes.length; length++) {
      const { file, problems } = await read(bytes.subarray(0, length));
      const text = new TextDecoder().decode(bytes.subarray(0, length));
      const { kept, isCut } = wholeOf(text);
      const { events } = otherwiseRead(kept);
      expect({ ...file.header }, `${length} bytes`).toEqual(whole.head);
      expect(events).toEqual(whole.events.slice(0, events.length));
      expect(
        file.events.map(({ event }) => event),
        `${length} bytes`,
      ).toEqual(events);
      const told = problems.map(({ line }) => line);
      // What is cut off is named by nothing before it in these ledgers.
      expect(told, `${length} bytes`).toEqual(isCut ? [text.split('\n').length] : []);
    }
  });
});

describe('a write after a cut', () => {
  /** Some lines, each of whose bytes is the last once; a write waits for the disk. */
  const LAST_BYTES = 200;
  const NEXT: LedgerEvent = {
    id: 'next1',
    at: '2026-12-01T08:00:00-04:00',
    what: 'inspect',
    result: 'ok',
  };

  it.each(['Windows line ends', 'no final newline', 'by hand', 'corrections', 'no events'])(
    'in the ledger %s adds its line and loses none that is whole',
    async (name) => {
      const path = join(tempFolder(), 'bathbook.yaml');
      const bytes = bytesOf(name);
      const first = Math.max(eventsFrom(name), bytes.length - LAST_BYTES);
      for (let length = first; length <= bytes.length; length++) {
        const cut = bytes.subarray(0, length);
        const before = await read(cut);
        writeFileSync(path, cut);
        const done = await append(path, async () => ({ events: [NEXT] }), { catalogue });
        expect(done.problems, `${length} bytes`).toEqual([]);
        const after = await readLedger(readFileSync(path), catalogue);
        expect(after.problems, `${length} bytes`).toEqual([]);
        const events = after.events.map(({ event }) => event);
        expect(events).toEqual([...before.file.events.map(({ event }) => event), NEXT]);
        expect(events).toEqual(otherwiseRead(readFileSync(path, 'utf8')).events);
      }
    },
    120_000,
  );
});
