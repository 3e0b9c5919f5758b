/** A long ledger gone through part by part comes to the same, to the last digit, as one that is read whole. */
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { aheadOf } from '../../src/commands/ahead.ts';
import { useZone } from '../../src/commands/clock.ts';
import { goThrough } from '../../src/commands/go-through.ts';
import type { Spans } from '../../src/ledger/append-span.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { makeLedger } from '../bench/make-ledger.mjs';

const EVENTS = 20_000;
const { text, lastAt } = makeLedger(EVENTS, 40);
const clockMs = Date.parse(lastAt);

function spansOf(bytes: Buffer): Spans {
  return {
    size: bytes.length,
    span: (from, to) => bytes.subarray(from, to),
    holds: (from, expected) => bytes.subarray(from, from + expected.length).equals(expected),
  };
}

/** The lines, one of them changed or others put behind it. */
function withLine(place: number, change: (line: string) => string): Buffer {
  const lines = text.split('\n');
  const at = lines.findIndex((line) => line.includes(`{id: "e${place}"`));
  lines[at] = change(lines[at]!);
  return Buffer.from(lines.join('\n'));
}

const through = (bytes: Buffer) => goThrough(spansOf(bytes), async () => clockMs);

describe('a long ledger', () => {
  it('comes to the same as one that is read whole', async () => {
    useZone('America/Halifax');
    const bytes = Buffer.from(text);
    const checkpoint = (await through(bytes))!;
    const { mark } = checkpoint;
    expect(mark.bytes).toBeGreaterThan(bytes.length - 1_000_000);
    expect(Buffer.concat([...checkpoint.begun()]).equals(bytes.subarray(0, mark.bytes))).toBe(true);

    const whole = await readLedger(bytes, catalogue);
    const shop = openShop(whole.header!);
    const all = await settle(whole.events, clockMs, whole.header, catalogue);
    const expected = aheadOf({ shop, settled: all, clockMs });

    const rest = Buffer.concat([bytes.subarray(0, mark.headBytes), bytes.subarray(mark.bytes)]);
    const file = await readLedger(rest, catalogue);
    const own = await settle(file.events, clockMs, file.header, catalogue);
    const late = checkpoint.lately();
    const ahead = aheadOf({
      shop,
      settled: { ...own, entries: [...late, ...own.entries] },
      clockMs,
      stages: { reached: checkpoint.reached(), done: late.length, records: checkpoint.records() },
    });
    for (const of of ['estimates', 'lastWash', 'left', 'plan', 'advice', 'factors'] as const)
      expect(JSON.stringify(ahead.status[of]), of).toBe(JSON.stringify(expected.status[of]));
    expect(ahead.status.replayed.baths).toEqual(expected.status.replayed.baths);
    expect(ahead.status.replayed.tally).toEqual(expected.status.replayed.tally);
    expect(ahead.status.belief.ensemble.worlds).toEqual(expected.status.belief.ensemble.worlds);
    expect(ahead.status.belief.lessons.all).toEqual(expected.status.belief.lessons.all);
    expect(ahead.movements.pours).toEqual(expected.movements.pours);
    expect(ahead.movements.wastes).toEqual(expected.movements.wastes);
    expect(ahead.since.met).toEqual(expected.since.met);
  }, 120_000);

  it('is read whole where something in it is odd, or reaches far back', async () => {
    const odd: Record<string, (line: string) => string> = {
      'an id that stands there twice': (line) => line.replace('"e12000"', '"e5"'),
      'a line that cannot be read': (line) => line.replace('what: ', 'wat: '),
      'an event of long ago': (line) => line.replace(/at: \d{4}/, 'at: 2014'),
      'a correction of long ago': (line) =>
        `${line}\n  - {id: "v1", at: ${lastAt}, what: void, of: "e77", why: "typed twice"}`,
      'what cannot have happened': (line) =>
        `${line}\n${line.replace('"e12000"', '"x1"').replace(/what: .*\}/, 'what: fill, bath: clean, solvent: ipa99, ml: 100}')}`,
    };
    for (const [name, change] of Object.entries(odd))
      expect(await through(withLine(12_000, change)), name).toBeUndefined();
  }, 120_000);

  it('is not kept where it was changed while it was gone through', async () => {
    const bytes = Buffer.from(text);
    const checkpoint = (await through(bytes))!;
    bytes[bytes.indexOf('model: 6') + 7] = 0x37;
    expect(() => [...checkpoint.begun()]).toThrow('changed');
  }, 120_000);
});
