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

  const nested = (depth: number, open: string, close: string): string =>
    `- {a: ${open.repeat(depth)}${close.repeat(depth)}}`;
  const ownForms = [
    `- {${'k'.repeat(200)}: 1}`,
    `- {"${'k'.repeat(200)}": 1}`,
    nested(8, '[', ']'),
    `- {a: ${'{b: '.repeat(7)}1${'}'.repeat(7)}}`,
    '- {a: 999999999999999}',
    '- {a: -999999999999999}',
    '- {a: 0.12345678901234567890123456789}',
    '- {a: 0, b: -0.5, c: 0.0, d: 10.50}',
    '- {a: [], b: [ ], c: {}, d: { }}',
    '-   {  a:   1  ,  b:   [  1  ,  2  ]  }   ',
    '- {a: [true, false, x, "y", 2026-11-02T07:40:00Z, -1, {b: c}]}',
    '- {a: "\\" \\\\ \\u00e9 é \\n"} # é …',
    '- {a: "", b: "#", c: "a: b, {c} [d]"}',
    '- {a: A.b_c/d-e, b-c_9: x}',
    '- {a: -0, b: [-0]}',
    '- {a: 1} ',
    '- {a: 1} #',
  ];
  // Not only is nothing taken for something else: what the program writes is not left to the slow parser either.
  it.each(ownForms)('takes %s as the parsers do', (line) => {
    expect(agrees(line)).toBe(true);
  });

  it.each([
    `- {${'k'.repeat(201)}: 1}`,
    `- {"${'k'.repeat(201)}": 1}`,
    nested(9, '[', ']'),
    `- {a: ${'{b: '.repeat(8)}1${'}'.repeat(8)}}`,
    '- {a: 9999999999999999}',
    '- {a: 1234567890123456}',
    '- {a: 0.1234567890123456789012345678901}',
    '- {a: 1.}',
    '- {a: .5}',
    '- {a: -}',
    '- {a: 1.2.3}',
    '- {a: -07}',
    '- {a: 00}',
    '- {a: [1 2]}',
    '- {a: [1, ]}',
    '- {a: [1}',
    '- {a: {b: 1]}',
    '- {a: 1, }',
    '- {a: 1 b: 2}',
    '- {a: 1} x',
    '- {a: 1} # \u0085',
    '- {a: "x}',
    '- {a: "\\q"}',
    '- {a: "\ufeff"}',
    '- {"a":1}',
    '- {"a" : 1}',
    '-{a: 1}',
    '-',
    '- ',
    '',
  ])('leaves %j to them', (line) => {
    expect(scan(line)).toBeNull();
  });

  it('reads from where it is told to where it is told, and not beyond', () => {
    const text = 'x\n- {a: 1}\n  - {b: 12} # y\n';
    expect(scanEvent(text, 2, 10)).toEqual({ a: 1 });
    expect(scanEvent(text, 11, 22)).toEqual({ b: 12 });
    expect(scanEvent('- {a: 1}   x', 0, 8)).toEqual({ a: 1 });
    for (let end = 11; end < 22; end += 1) expect(scanEvent(text, 11, end)).toBeNull();
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
