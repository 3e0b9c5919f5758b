import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import { scanHeader } from '../../src/ledger/scan-header.ts';
import { flowValue, mutated } from './arbitrary.ts';

const folder = new URL('../golden/', import.meta.url);
const goldenHeads = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => readFileSync(new URL(name, folder), 'utf8').split('events:\n')[0]!);

function agrees(text: string): boolean {
  const mine = scanHeader(text);
  if (mine === null) {
    return false;
  }
  const doc = parseDocument(text, { version: '1.2', schema: 'core', uniqueKeys: true, prettyErrors: false });
  expect(doc.errors, text).toEqual([]);
  expect(doc.toJS(), text).toStrictEqual(mine);
  expect(load(text, { schema: CORE_SCHEMA }), text).toStrictEqual(mine);
  return true;
}

const usualKeys = [
  'format',
  'shop',
  'name',
  'baths',
  'dirty',
  'clean',
  'limits',
  'ipa99',
  'room_c',
  'grey',
  'parts',
  'x-1',
];
const key = fc.oneof(
  { weight: 20, arbitrary: fc.constantFrom(...usualKeys) },
  { weight: 1, arbitrary: fc.constantFrom('true', 'null', 'é', '"q"', 'a b', '7', 'constructor') },
);
const indent = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom('', '', '  ') },
  { weight: 1, arbitrary: fc.constantFrom('    ', ' ', '\t') },
);
const words = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.constantFrom(
      '',
      ' Mill Race Models',
      ' America/Halifax',
      ' 22',
      ' {a: 1}',
      ' e.g. this',
      ' No 7 bench',
    ),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      ' a: b',
      ' a #b',
      ' # remark',
      ' 7 benches',
      ' - a',
      ' |',
      ' >',
      ' null',
      ' x y: z',
      ' yes no',
    ),
  },
);
const line = fc.oneof(
  fc
    .tuple(
      indent,
      key,
      fc.oneof(
        words,
        flowValue.map((value) => ` ${value}`),
      ),
      fc.constantFrom('', ' # why', '   '),
    )
    .map((parts) => `${parts[0]}${parts[1]}:${parts[2]}${parts[3]}`),
  fc.constantFrom('', '# remark', '   # deep', '---', '...', '- a'),
);

describe('the scanner of the head', () => {
  it.each(goldenHeads)('takes a golden head', (head) => {
    expect(agrees(head)).toBe(true);
  });

  it('agrees with two YAML parsers on whatever head it takes', () => {
    let taken = 0;
    const head = fc.array(line, { minLength: 1, maxLength: 6 }).map((lines) => `${lines.join('\n')}\n`);
    fc.assert(
      fc.property(head, (text) => {
        taken += Number(agrees(text));
      }),
      { numRuns: 4000 },
    );
    expect(taken).toBeGreaterThan(100);
  });

  it('agrees with them on golden heads with a few characters changed', () => {
    let taken = 0;
    fc.assert(
      fc.property(mutated(fc.constantFrom(...goldenHeads)), (text) => {
        taken += Number(agrees(text));
      }),
      { numRuns: 2000 },
    );
    expect(taken).toBeGreaterThan(100);
  });

  it('takes remarks behind keys and CRLF', () => {
    expect(scanHeader('shop: # ours\r\n  name: Old Ropewalk Lab # since 2019\r\n  room_c: 22\r\n')).toEqual({
      shop: { name: 'Old Ropewalk Lab', room_c: 22 },
    });
  });

  it.each([
    'shop:\n  name: a: b\n',
    'shop:\nbaths: {}\n',
    'a: 1\na: 2\n',
    'a: 1\n  b: 2\n',
    'a:\n  - b\n',
    'a: |\n  text\n',
    '"a": 1\n',
  ])('leaves %j to the full parser', (text) => {
    expect(scanHeader(text)).toBeNull();
  });
});
