/** How deep a text is, held against values of known depth written by YAML's own grammar: one level a bracket, brace, dash, or key. */

import { describe, expect, it } from 'vitest';
import * as yaml from 'yaml';
import { tooDeep } from '../../src/ledger/nesting.ts';
import { parseYaml } from '../../src/ledger/parse-yaml.ts';

const LIMIT = 30;

/** Texts with a value within exactly so many lists and maps. */
const NESTED: Record<string, (depth: number) => string> = {
  'lists in brackets': (depth) => `${'['.repeat(depth)}1${']'.repeat(depth)}`,
  'maps in braces': (depth) => `${'{a: '.repeat(depth)}1${'}'.repeat(depth)}`,
  'dashes on a line': (depth) => `${'- '.repeat(depth)}1`,
  'keys marked by "?"': (depth) => `${'? '.repeat(depth)}1`,
  'dashes, each on a line of its own': (depth) =>
    Array.from({ length: depth }, (_, nth) => `${' '.repeat(nth)}-`)
      .join('\n')
      .concat(' 1\n'),
  'keys, each on a line of its own': (depth) =>
    Array.from({ length: depth }, (_, nth) => `${' '.repeat(nth)}a:`)
      .join('\n')
      .concat(' 1\n'),
  'a list and a map in turn': (depth) =>
    Array.from({ length: depth }, (_, nth) => (nth % 2 === 0 ? '- ' : 'a:\n'.concat(' '.repeat(2 * nth))))
      .join('')
      .concat('1'),
};

/** Of the value, by walking what the parser makes of it. */
function depthOf(value: unknown): number {
  if (value instanceof Map) return 1 + Math.max(0, ...[...value].flat().map(depthOf));
  return Array.isArray(value) ? 1 + Math.max(0, ...value.map(depthOf)) : 0;
}

describe('values within lists and maps', () => {
  for (const [how, write] of Object.entries(NESTED)) {
    it(`${how}: ${LIMIT} are read, one more is told`, () => {
      for (const depth of [LIMIT, LIMIT + 1]) {
        expect(depthOf(yaml.parse(write(depth), { mapAsMap: true }))).toBe(depth);
      }
      expect(tooDeep(yaml, write(LIMIT))).toBeUndefined();
      expect(tooDeep(yaml, write(LIMIT + 1))).toMatchObject({ code: 'too-deep' });
    });
  }

  it('is told at the mark that goes too deep', () => {
    const text = `a: {b: "${'['.repeat(99)}"}\nc: ${'['.repeat(LIMIT)}`;
    expect(tooDeep(yaml, text)?.start).toBe(text.length - 1);
  });

  it.each([
    ['marks in quotes', `- {note: "${': - ? [ {'.repeat(200)}"}`],
    ['marks in a plain text', `- {note: a${' -b?c:d'.repeat(200)}}`],
    ['marks in a remark', `a: 1 # ${'- [ {'.repeat(200)}`],
    [
      'many values beside one another',
      `- {${Array.from({ length: 300 }, (_, nth) => `k${nth}: {a: [1]}`).join(', ')}}`,
    ],
    ['many lines', '- {a: [1]}\n'.repeat(300)],
    ['many keys', Array.from({ length: 300 }, (_, nth) => `k${nth}:\n  a: -1`).join('\n')],
    ['brackets that are closed and not opened', ']'.repeat(300)],
  ])('%s are not deep', (_, text) => {
    expect(tooDeep(yaml, text)).toBeUndefined();
  });

  it.each([
    ['brackets never closed', '['.repeat(100_000)],
    ['braces never closed', '{a: '.repeat(100_000)],
    ['a map in each key', '{'.repeat(100_000)],
    ['dashes', '- '.repeat(100_000)],
    ['keys in keys', '? '.repeat(100_000)],
    ['keys one after the other', 'a: '.repeat(100_000)],
    ['both in turn', '- ? '.repeat(100_000)],
  ])('%s, a hundred thousand of them, are told and not read', { timeout: 20_000 }, async (_, text) => {
    const { told, value } = await parseYaml(text);
    expect(told.map(({ code }) => code)).toEqual(['too-deep']);
    expect(value).toBeUndefined();
  });

  it.each([
    ['anchors before dashes', '- &a '.repeat(20_000)],
    ['tags before dashes', '- !a '.repeat(20_000)],
    ['aliases', '*a '.repeat(20_000)],
    ['keys in brackets', `[${'? '.repeat(20_000)}`],
    ['dashes in brackets', `[${'- '.repeat(20_000)}`],
    ['commas', `[${','.repeat(20_000)}`],
    ['colons', ':'.repeat(20_000)],
    ['quotes', '"'.repeat(20_001)],
    ['brackets closed', ']'.repeat(20_000)],
    ['braces opened and closed the wrong way', '{]'.repeat(20_000)],
    ['documents', '---\n'.repeat(20_000)],
    ['directives', '%A\n'.repeat(20_000)],
  ])('%s, twenty thousand of them, are told soon', { timeout: 20_000 }, async (_, text) => {
    expect((await parseYaml(text)).told.length).toBeGreaterThan(0);
  });
});
