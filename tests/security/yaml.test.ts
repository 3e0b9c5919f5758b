/** Files that were made to hurt a reader of YAML: bombs, tags, members of objects, numbers beyond all. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../src/ledger/check.ts';
import { bundled, HEAD, LINES, tempFolder } from '../commands/bundle.ts';

const main = bundled();
const folder = tempFolder();
const clockMs = Date.parse('2026-11-20T09:00:00-04:00');
const event = (set: string): string => `  - {id: "h1", at: 2026-11-19T18:00:00-04:00, ${set}}`;
const LAUGHS = Array.from(
  { length: 9 },
  (_, nth) => `l${nth + 1}: &l${nth + 1} [${Array(9).fill(`*l${nth}`).join(', ')}]`,
);

/** After the head and some events, or in place of all; with the code of what is told. */
const HURTFUL: Record<string, { text: string; code: RegExp }> = {
  'a billion laughs in the head': {
    text: HEAD.replace('baths:', `l0: &l0 ha\n${LAUGHS.join('\n')}\nbaths:`),
    code: /alias|anchor|unknown-key|bad-yaml/,
  },
  'a billion laughs in an event': {
    text: HEAD + event(`what: wash, parts: {model: &a [1]}, cases: [${'*a, '.repeat(5000)}*a]`),
    code: /alias|anchor/,
  },
  'an anchor that holds itself': {
    text: HEAD + event('what: wash, parts: &a {model: *a}'),
    code: /alias|anchor/,
  },
  'a merge of maps': {
    text: HEAD + event('what: wash, <<: {parts: {model: 1}}'),
    code: /unknown-key|missing-key|bad-yaml/,
  },
  'a tag of another language': {
    text: HEAD + event('what: wash, parts: !!js/function "() => 1"'),
    code: /tag|bad-yaml/,
  },
  'a tag of Python': {
    text: HEAD + event('what: wash, note: !!python/object/apply:os.system ["id"]'),
    code: /tag|bad-yaml/,
  },
  'a binary tag': { text: HEAD + event('what: wash, parts: {model: 1}, note: !!binary aGk='), code: /tag/ },
  'a hundred thousand levels': {
    text: HEAD + event(`what: wash, parts: ${'['.repeat(100_000)}`),
    code: /too-deep/,
  },
  'a hundred thousand levels in the head': {
    text: HEAD.replace('shop:', `x: ${'{a: '.repeat(100_000)}\nshop:`),
    code: /too-deep/,
  },
  'a thousand levels, a line each': {
    text: HEAD.replace(
      'shop:',
      `x:\n${Array.from({ length: 1000 }, (_, nth) => `${' '.repeat(nth + 1)}a:`).join('\n')}\nshop:`,
    ),
    code: /too-deep/,
  },
  'a number with an exponent': {
    text: HEAD + event('what: top-up, bath: clean, solvent: ipa99, ml: 1e309'),
    code: /out-of-range|wrong-type|odd-number/,
  },
  'a number of a million digits': {
    text: HEAD + event(`what: top-up, bath: clean, solvent: ipa99, ml: ${'9'.repeat(1_000_000)}`),
    code: /out-of-range|wrong-type|odd-number/,
  },
  'no number': {
    text: HEAD + event('what: top-up, bath: clean, solvent: ipa99, ml: .nan'),
    code: /out-of-range|wrong-type|odd-number/,
  },
  'a number without end': {
    text: HEAD + event('what: top-up, bath: clean, solvent: ipa99, ml: -.inf'),
    code: /out-of-range|wrong-type|odd-number/,
  },
  'two thousand keys': {
    text: HEAD + event(`what: wash, ${Array.from({ length: 2000 }, (_, nth) => `k${nth}: 1`).join(', ')}`),
    code: /unknown-key/,
  },
  'one key two thousand times': {
    text: HEAD + event(`what: wash${', parts: {model: 1}'.repeat(2000)}`),
    code: /duplicate-key/,
  },
  'a member of objects as a key': {
    text: HEAD + event('what: wash, parts: {model: 1}, __proto__: {polluted: 1}'),
    code: /bad-name/,
  },
  'a member of objects as a part': {
    text: HEAD + event('what: wash, parts: {__proto__: 1}'),
    code: /bad-name/,
  },
  'the maker of objects as a part': {
    text: HEAD + event('what: wash, parts: {constructor: 1}'),
    code: /bad-name|unknown-part/,
  },
  'a member of objects as a bath': {
    text: HEAD + event('what: refill, bath: __proto__'),
    code: /bad-text|bad-name|unknown-bath/,
  },
  'a member of objects in the head': {
    text: HEAD.replace('baths:', 'resins:\n  __proto__: {density_g_ml: 1.1}\nbaths:'),
    code: /bad-name/,
  },
  'the maker of objects in the head': {
    text: HEAD.replace('baths:', 'parts:\n  constructor: {shape: solid, volume_ml: 1}\nbaths:'),
    code: /bad-name/,
  },
  'a member of objects in an amend': {
    text: HEAD + event('what: amend, of: "fill2", set: {__proto__: {polluted: 1}}, why: "x"'),
    code: /bad-name/,
  },
  'the maker of objects in an amend': {
    text: HEAD + event('what: amend, of: "fill2", set: {constructor: {prototype: {polluted: 1}}}, why: "x"'),
    code: /./,
  },
  'a member of objects as an id': {
    text:
      HEAD +
      [
        LINES[0],
        '  - {id: "__proto__", at: 2026-11-19T18:00:00-04:00, what: void, of: "constructor", why: "x"}',
      ].join('\n'),
    code: /./,
  },
};

describe.each(Object.entries(HURTFUL))('%s', (_, { text, code }) => {
  it('is told with its place, and changes nothing of objects', { timeout: 20_000 }, async () => {
    const bytes = Buffer.from(`${text}\n`);
    const { problems } = await checkLedger(bytes, { clockMs });
    expect(problems.length).toBeGreaterThan(0);
    expect(problems.length).toBeLessThanOrEqual(20);
    expect(problems[0]!.code).toMatch(code);
    for (const { line } of problems) expect(line).toBeGreaterThan(0);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    expect(Object.keys(Object.prototype)).toEqual([]);
  });
});

describe('the shipped program', () => {
  it('tells a few of them and exits with 65, within a small memory', { timeout: 60_000 }, () => {
    const ledger = join(folder, 'bathbook.yaml');
    for (const name of [
      'a billion laughs in an event',
      'a hundred thousand levels',
      'a member of objects as a key',
    ]) {
      writeFileSync(ledger, `${HURTFUL[name]!.text}\n`);
      const ran = spawnSync(
        process.execPath,
        ['--max-old-space-size=64', main, 'baths', '--ledger', ledger],
        {
          encoding: 'utf8',
          env: {},
        },
      );
      expect(ran.stderr, name).toMatch(/bathbook\.yaml:\d+/);
      expect(ran.status, name).toBe(65);
    }
  });

  it('takes words of objects where any word may stand, as what they are', () => {
    const ledger = join(folder, 'words.yaml');
    const notes = ['__proto__', 'constructor', 'toString', 'hasOwnProperty'];
    const lines = notes.map(
      (note, nth) =>
        `  - {id: ${JSON.stringify(note)}, at: 2026-11-19T18:0${nth}:00-04:00, what: wash, parts: {model: 1}, lot: "${note}", by: "${note}", cases: ["${note}"], note: "${note}"}`,
    );
    writeFileSync(ledger, `${HEAD}${[...LINES.slice(0, 2), ...lines].join('\n')}\n`);
    const run = (...args: string[]) =>
      spawnSync(
        process.execPath,
        [main, ...args, '--ledger', ledger, '--as-of', '2026-11-20T09:00:00-04:00'],
        {
          encoding: 'utf8',
          env: {},
        },
      );
    const entries = JSON.parse(run('entries', '--json').stdout) as { data: { entries: { id: string }[] } };
    expect(entries.data.entries.map(({ id }) => id)).toEqual(expect.arrayContaining(notes));
    for (const words of [
      ['baths'],
      ['report'],
      ['inspect'],
      ['stock'],
      ['export', 'html'],
      ['void', '__proto__', '--why', 'x'],
    ]) {
      expect(run(...words).status, words.join(' ')).toBe(0);
    }
  });
});
