import { describe, expect, it } from 'vitest';
import { amendsOf, eventsById, takenBackOf } from '../../src/exchange/wash-history.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';

const HEAD = `format: bathbook/1
shop: {name: Bench}
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
events:
`;
const at = (hour: number) => `at: 2026-11-17T${String(hour).padStart(2, '0')}:00:00Z`;
const CLOCK = Date.parse('2026-11-18T00:00:00Z');

async function opened(...lines: string[]) {
  const file = await readLedger(
    new TextEncoder().encode(HEAD + lines.map((line) => `  - {${line}}\n`).join('')),
  );
  expect(file.problems).toEqual([]);
  const settled = await settle(file.events, CLOCK, file.header);
  return { settled, byId: eventsById(file.events) };
}

const WASH = `id: "w1", ${at(8)}, what: wash, parts: {model: 1}, drained_min: 10`;

describe('corrections of a wash', () => {
  it('are told one after the other, each with the value before it', async () => {
    const { settled, byId } = await opened(
      WASH,
      `id: "a1", ${at(9)}, what: amend, of: "w1", set: {drained_min: 20, lot: "R1"}, why: "one"`,
      `id: "a2", ${at(10)}, what: amend, of: "w1", set: {drained_min: 30}, why: "two"`,
    );
    expect(amendsOf(settled.entries[0]!, byId).map(({ amend, changes }) => [amend.id, changes])).toEqual([
      [
        'a1',
        [
          { key: 'drained_min', from: 10, to: 20 },
          { key: 'lot', from: undefined, to: 'R1' },
        ],
      ],
      ['a2', [{ key: 'drained_min', from: 20, to: 30 }]],
    ]);
  });

  it('that were corrected themselves tell the value that counts; those taken back are left out', async () => {
    const { settled, byId } = await opened(
      WASH,
      `id: "a1", ${at(9)}, what: amend, of: "w1", set: {drained_min: 20}, why: "one"`,
      `id: "a2", ${at(10)}, what: amend, of: "a1", set: {set: {drained_min: 25}}, why: "two"`,
      `id: "a3", ${at(11)}, what: amend, of: "w1", set: {lot: "R1"}, why: "three"`,
      `id: "v1", ${at(12)}, what: void, of: "a3", why: "four"`,
    );
    const told = amendsOf(settled.entries[0]!, byId);
    expect(told.map(({ changes }) => changes)).toEqual([[{ key: 'drained_min', from: 10, to: 25 }]]);
  });
});

describe('washes that were taken back', () => {
  it('are those that were asked for, unless that was taken back too', async () => {
    const { settled, byId } = await opened(
      WASH,
      `id: "w2", ${at(9)}, what: wash, parts: {model: 2}`,
      `id: "w3", ${at(10)}, what: wash, parts: {model: 3}`,
      `id: "v3", ${at(11)}, what: void, of: "w3", why: "x"`,
      `id: "v1", ${at(11)}, what: void, of: "w1", why: "x"`,
      `id: "v2", ${at(11)}, what: void, of: "w2", why: "x"`,
      `id: "v4", ${at(12)}, what: void, of: "v2", why: "x"`,
    );
    const ids = (wanted: () => boolean) =>
      takenBackOf(byId, settled.voided, wanted).map(({ wash, by }) => [wash.event.id, by.event.id]);
    expect(ids(() => true)).toEqual([
      ['w1', 'v1'],
      ['w3', 'v3'],
    ]);
    expect(ids(() => false)).toEqual([]);
  });
});
