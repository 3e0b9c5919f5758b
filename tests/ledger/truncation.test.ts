/** Ledgers cut at every byte, as an interrupted write or a full disk leaves them, against the law in cut.ts. Of a cut there is no excuse. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { append } from '../../src/ledger/append.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { tempFolder } from '../commands/bundle.ts';
import { judgeCut } from './cut.ts';
import { originalOf } from './damage.ts';
import { LEDGERS, otherwiseRead } from './damage-ledgers.ts';

describe('every cut', () => {
  it.each(Object.keys(LEDGERS))(
    'of the ledger %s leaves what is whole, and tells',
    async (name) => {
      const original = await originalOf(name, LEDGERS[name]!);
      const broken: string[] = [];
      for (let length = 0; length <= original.bytes.length; length++) {
        const why = await judgeCut(original, length);
        broken.push(...why.map((one) => `${length} bytes: ${one}`));
      }
      expect(broken).toEqual([]);
    },
    60_000,
  );

  it('that left another event would be seen', async () => {
    const original = await originalOf('books', LEDGERS.books!);
    const text = new TextDecoder().decode(original.bytes).replace('received_ml: 20000', 'received_ml: 2000');
    const changed = { ...original, bytes: new TextEncoder().encode(text) };
    expect(await judgeCut(changed, changed.bytes.length)).not.toEqual([]);
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
      const { bytes, eventsEnd } = await originalOf(name, LEDGERS[name]!);
      const first = Math.max(eventsEnd, bytes.length - LAST_BYTES);
      for (let length = first; length <= bytes.length; length++) {
        const cut = bytes.subarray(0, length);
        const before = await readLedger(cut, catalogue);
        writeFileSync(path, cut);
        const done = await append(path, async () => ({ events: [NEXT] }), { catalogue });
        expect(done.problems, `${length} bytes`).toEqual([]);
        const after = await readLedger(readFileSync(path), catalogue);
        expect(after.problems, `${length} bytes`).toEqual([]);
        const events = after.events.map(({ event }) => event);
        expect(events).toEqual([...before.events.map(({ event }) => event), NEXT]);
        expect(events).toEqual(otherwiseRead(readFileSync(path, 'utf8')).events);
      }
    },
    120_000,
  );
});
