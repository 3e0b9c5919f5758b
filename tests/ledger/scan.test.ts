import fc from 'fast-check';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import { scanEvent } from '../../src/ledger/scan.ts';
import { eventLine, mutated } from './arbitrary.ts';

const scan = (line: string): Record<string, unknown> | null => scanEvent(line, 0, line.length);

/** Whatever the scanner takes, two full parsers must read as the same data without complaint. */
function agrees(line: string): boolean {
  const mine = scan(line);
  if (mine === null) {
    return false;
  }
  const doc = parseDocument(line, { version: '1.2', schema: 'core', uniqueKeys: true, prettyErrors: false });
  expect(doc.errors, line).toEqual([]);
  expect(doc.toJS(), line).toStrictEqual([mine]);
  expect(load(line, { schema: CORE_SCHEMA }), line).toStrictEqual([mine]);
  return true;
}

describe('the line scanner', () => {
  it('agrees with two YAML parsers on whatever line it takes', () => {
    let taken = 0;
    fc.assert(
      fc.property(eventLine, (line) => {
        taken += Number(agrees(line));
      }),
      { numRuns: 3000 },
    );
    expect(taken).toBeGreaterThan(100);
  });

  it('agrees with them on lines with a few characters changed', () => {
    let taken = 0;
    const usual = fc.constantFrom(
      '  - {id: "k3f9", at: 2026-11-02T07:40:00-04:00, what: wash, parts: {model: 6, mask: 2}, minutes: [5, 4.5], by: "NB"}  # two trays',
      '  - {id: "7", at: 2026-11-02T07:40:00Z, what: amend, of: "k3f9", set: {parts: {model: 4}, hollow: true}, why: "a \\"joke\\""}',
    );
    fc.assert(
      fc.property(mutated(fc.oneof(usual, eventLine)), (line) => {
        taken += Number(agrees(line));
      }),
      { numRuns: 5000 },
    );
    expect(taken).toBeGreaterThan(100);
  });

  it.each([
    ['- {a: 1}', { a: 1 }],
    [
      '  - {a: -1.5, b: "x, y", c: [1, two], d: {e: true}}',
      { a: -1.5, b: 'x, y', c: [1, 'two'], d: { e: true } },
    ],
    ['  - {at: 2026-11-02T07:40:00.250+05:30} # why', { at: '2026-11-02T07:40:00.250+05:30' }],
    ['  - {}', {}],
    ['  - {"2nd tray": 0.30000000000000004}', { '2nd tray': 0.30000000000000004 }],
  ])('takes %s', (line, value) => {
    expect(scan(line)).toEqual(value);
  });

  it.each([
    'a: 1',
    '  - {a: 1',
    '  - {a: 1}}',
    '  - {a: 1}# stuck',
    '  - {a: 1, a: 2}',
    '  - {a: 007}',
    '  - {a: 1e5}',
    '  - {a: 0x10}',
    '  - {a: yes}',
    '  - {a: null}',
    '  - {a: ~}',
    '  - {a: &x 1}',
    '  - {a: !!str 1}',
    "  - {a: 'x'}",
    '  - {a: x y}',
    '  - {a:1}',
    '  - {__proto__: 1}',
    '  - {constructor: 1}',
    '  - {"__proto__": 1}',
    '  - {"a": 1, a: 2}',
    '  - {a: 2026-02-30T00:00:00Z}',
    '  - {a: "\u0007"}',
    '  - [a]',
    '\t- {a: 1}',
  ])('leaves %s to the full parser', (line) => {
    expect(scan(line)).toBeNull();
  });

  it('puts nothing on the prototype of other objects', () => {
    scan('  - {__proto__: {polluted: true}, constructor: {prototype: {polluted: true}}}');
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});
