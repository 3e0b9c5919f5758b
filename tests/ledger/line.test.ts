import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { checkEvent } from '../../src/ledger/check-event.ts';
import { AGITATIONS, type LedgerEvent, MIDRINSES, PRERINSES } from '../../src/ledger/event.ts';
import { writeLine } from '../../src/ledger/line.ts';
import { scanEvent } from '../../src/ledger/scan.ts';

const text = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 20 }),
  fc.string({ unit: 'binary', maxLength: 20 }),
  fc.constantFrom('007', '1e5', 'null', 'a: b # c', '"', '\\', "it's", '\u2028', '\ufeff', '\ud800'),
);
const name = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,10}$/);
const positive = fc.oneof(
  fc.integer({ min: 1, max: 5000 }),
  fc.double({ min: 1e-9, max: 1e5, noNaN: true }),
  fc.constantFrom(1e-7, 0.1 + 0.2, 1e21, 123456789.125),
);
const time = fc
  .integer({ min: 1_700_000_000_000, max: 2_000_000_000_000 })
  .map((ms) => new Date(ms).toISOString());
const common = { id: fc.stringMatching(/^[a-z0-9]{1,6}$/), at: time };
const tail = { by: fc.option(text, { nil: undefined }), note: fc.option(text, { nil: undefined }) };
const maybe = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(arbitrary, { nil: undefined });

const event = fc.oneof(
  fc.record({ ...common, what: fc.constant('fill'), bath: name, solvent: name, ml: positive, ...tail }),
  fc.record({
    ...common,
    what: fc.constant('wash'),
    parts: fc.dictionary(name, fc.integer({ min: 1, max: 1000 }), { minKeys: 1, maxKeys: 4 }),
    resin: maybe(name),
    prerinse: maybe(fc.constantFrom(...PRERINSES)),
    midrinse: maybe(fc.constantFrom(...MIDRINSES)),
    agitation: maybe(fc.constantFrom(...AGITATIONS)),
    minutes: maybe(fc.array(positive, { maxLength: 3 })),
    cases: maybe(fc.array(text, { maxLength: 3 })),
    lot: maybe(text),
    hollow: maybe(fc.boolean()),
    estimated: maybe(fc.boolean()),
    ...tail,
  }),
  fc.record({ ...common, what: fc.constant('void'), of: text, why: text, ...tail }),
  fc.record({
    ...common,
    what: fc.constant('amend'),
    of: text,
    set: fc.record({
      ml: positive,
      note: text,
      at: time,
      parts: fc.dictionary(name, fc.nat(), { maxKeys: 2 }),
    }),
    why: text,
  }),
) as unknown as fc.Arbitrary<LedgerEvent>;

const bare = (value: LedgerEvent): unknown => JSON.parse(JSON.stringify(value));

describe('writing a line', () => {
  it('gives one line of plain signs that a YAML parser reads as the same event', () => {
    fc.assert(
      fc.property(event, (value) => {
        const line = writeLine(value);
        expect(line).toMatch(/^ {2}- \{[^\n\r\p{Cc}\u2028\u2029\ufeff]*\}$/u);
        expect(parse(line)).toEqual([bare(value)]);
      }),
      { numRuns: 2000 },
    );
  });

  it('gives a line that the scanner takes', () => {
    fc.assert(
      fc.property(event, (value) => {
        fc.pre(JSON.stringify(value).match(/e\+|constructor|valueOf|\d{16}/) === null);
        const line = writeLine(value);
        expect(scanEvent(line, 0, line.length), line).toEqual(bare(value));
      }),
      { numRuns: 2000 },
    );
  });

  it('puts the keys in the order of the format, whatever order they came in', () => {
    const wash = {
      by: 'NB',
      lot: '007',
      minutes: [5, 4.5],
      what: 'wash',
      parts: { model: 6 },
      note: 'x',
      at: '2026-11-02T16:05:00-04:00',
      id: 'k5q2',
      resin: 'grey',
    };
    expect(writeLine(wash as unknown as LedgerEvent)).toBe(
      '  - {id: "k5q2", at: 2026-11-02T16:05:00-04:00, what: wash, parts: {model: 6}, resin: grey, minutes: [5, 4.5], lot: "007", by: "NB", note: "x"}',
    );
  });

  it('leaves out what is undefined and keeps what is zero', () => {
    const reading = {
      id: 'a',
      at: '2026-11-02T16:05:00Z',
      what: 'reading',
      bath: 'clean',
      resin_wt_pct: 0,
      note: undefined,
    };
    expect(writeLine(reading as unknown as LedgerEvent)).toBe(
      '  - {id: "a", at: 2026-11-02T16:05:00Z, what: reading, bath: clean, resin_wt_pct: 0}',
    );
  });

  it('quotes names that YAML would read as something else', () => {
    const fill = {
      id: 'a',
      at: '2026-11-02T16:05:00Z',
      what: 'fill',
      bath: 'no',
      solvent: '99',
      ml: 5,
    } as LedgerEvent;
    expect(writeLine(fill)).toContain('bath: "no", solvent: "99"');
    expect(checkEvent(parse(writeLine(fill))[0], null)?.event).toEqual(fill);
  });
});
