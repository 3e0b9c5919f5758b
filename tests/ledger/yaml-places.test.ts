/** Where values stand, held against looking each of them up by the parser's own means, and against the text itself. */

import { describe, expect, it } from 'vitest';
import * as yaml from 'yaml';
import { Places } from '../../src/ledger/yaml-places.ts';

const TEXT = `a: {b: [1, {c: 2}], "d e": 3}
1: one
"x/": {"": 4, "\\"": 5, "y/z": 6}
constructor: {toString: 7}
list:
  - {b: 8}
`;

const doc = yaml.parseDocument(TEXT);
const places = new Places(yaml, doc);

describe('places', () => {
  it.each([
    [['a'], '{b:'],
    [['a', 'b', 0], '1'],
    [['a', 'b', 1, 'c'], '2'],
    [['a', 'd e'], '3'],
    [['x/', ''], '4'],
    [['x/', '"'], '5'],
    [['x/', 'y/z'], '6'],
    [['constructor', 'toString'], '7'],
    [['list', 0, 'b'], '8'],
  ] as [(string | number)[], string][])('of %j is where the text says so', (path, begins) => {
    const { value } = places.at(path)!;
    expect(TEXT.slice(value!.range![0]).startsWith(begins)).toBe(true);
    expect(value).toBe(doc.getIn(path, true));
  });

  it('of a key is before its value', () => {
    expect(TEXT.slice(places.at(['a', 'd e'])!.key!.range![0]).startsWith('"d e"')).toBe(true);
    expect(places.at(['a', 'b', 0])!.key).toBeUndefined();
  });

  it('of a key that is a number is found by either', () => {
    expect(places.at([1])).toBe(places.at(['1']));
    expect(TEXT.slice(places.at([1])!.value!.range![0]).startsWith('one')).toBe(true);
  });

  it.each([[['b']], [['a', 'b', 2]], [['toString']], [['x', '']], [['__proto__']]] as (
    | string
    | number
  )[][][])('of %j, which is not there, is none', (path) => {
    expect(places.at(path)).toBeUndefined();
  });

  it('of a key that is there twice is that of the first', () => {
    const text = '{a: 1, a: 2}';
    const twice = yaml.parseDocument(text, { uniqueKeys: false });
    expect(new Places(yaml, twice).at(['a'])!.value!.range![0]).toBe(text.indexOf('1'));
  });

  it('of a document that is empty is none', () => {
    expect(new Places(yaml, yaml.parseDocument('')).at(['a'])).toBeUndefined();
  });
});
