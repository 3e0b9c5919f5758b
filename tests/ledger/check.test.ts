import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../src/ledger/check.ts';
import { bytesOf, FILL, ledger } from './sample.ts';

const clockMs = Date.parse('2027-01-01T00:00:00Z');
const catalogue = JSON.parse(readFileSync(new URL('../../data/catalogue.json', import.meta.url), 'utf8'));
const folder = new URL('../golden/', import.meta.url);
const goldens = readdirSync(folder).filter((name) => name.endsWith('.yaml'));

describe('checking a ledger', () => {
  it.each(goldens)('finds nothing wrong with the golden ledger %s, names included', async (name) => {
    const { problems, moreProblems } = await checkLedger(readFileSync(new URL(name, folder)), {
      clockMs,
      catalogue,
    });
    expect({ problems, moreProblems }).toEqual({ problems: [], moreProblems: 0 });
  });

  it('gathers problems of the file and of its corrections in the order of the file', async () => {
    const text = ledger(
      FILL,
      'id: "v", at: 2026-11-03T08:00:00Z, what: void, of: "gone", why: "x"',
      '  - oops\n',
    );
    const { problems } = await checkLedger(bytesOf(text), { clockMs });
    expect(problems.map(({ code, line }) => [code, line])).toEqual([
      ['unknown-id', 11],
      ['event-not-a-map', 12],
    ]);
    const { excerpt = '', column = 0, length = 0 } = problems[0]!;
    expect(excerpt.slice(column - 1, column - 1 + length)).toBe('"gone"');
  });

  it.each(['constructor', '"toString"', '__proto__', 'hasOwnProperty', '[fill]', '7', 'null', '{fill: 1}'])(
    'knows no event of the kind %s, whatever objects of the language have by that name',
    async (what) => {
      const text = ledger(FILL, `id: "x", at: 2026-11-03T08:00:00Z, what: ${what}, bath: dirty`);
      const { problems } = await checkLedger(bytesOf(text), { clockMs });
      expect(problems.map(({ code, line }) => [code, line])).toEqual([['unknown-event', 11]]);
    },
  );

  it.each(['  -\n', '  - \n', '  - null\n', '  - ~ # nothing\n', '  - []\n', '  - [1]\n', '  - 7\n'])(
    'takes %j for no event, and says so',
    async (line) => {
      const { problems } = await checkLedger(bytesOf(ledger(FILL, line)), { clockMs });
      expect(problems.map((problem) => [problem.code, problem.line])).toEqual([['event-not-a-map', 11]]);
    },
  );

  it('tells a merge once that was not finished, if its first side begins in the head', async () => {
    const [head, rest] = ledger(FILL).split('events:\n') as [string, string];
    const sides = (text: string) => checkLedger(bytesOf(text), { clockMs });
    const whole = `${head}<<<<<<< ours\nevents:\n${rest}=======\n${rest.replace('k3f9', 'k3fa')}>>>>>>> theirs\n`;
    const merges = (await sides(whole)).problems.filter(({ code }) => code === 'conflict-marker');
    expect(merges.map(({ line }) => line)).toEqual([head.split('\n').length]);
    const below = `${head}events:\n<<<<<<< ours\n${rest}=======\n>>>>>>> theirs\n`;
    const { problems } = await sides(below);
    expect(problems.map(({ code, line }) => [code, line])).toEqual([
      ['conflict-marker', head.split('\n').length + 1],
    ]);
  });

  it('tells twenty problems and counts the rest', async () => {
    const voids = Array.from(
      { length: 30 },
      (_, n) => `id: "v${n}", at: 2026-11-03T08:00:00Z, what: void, of: "gone", why: "x"`,
    );
    const { problems, moreProblems } = await checkLedger(bytesOf(ledger(FILL, ...voids)), { clockMs });
    expect([problems.length, moreProblems]).toEqual([20, 10]);
  });

  it('asks for more only when told to be strict, and is silent about a careful ledger', async () => {
    const by = 'by: "NB"';
    const careless = ledger(FILL.replace(`, ${by}`, ''));
    expect((await checkLedger(bytesOf(careless), { clockMs })).problems).toEqual([]);
    expect((await checkLedger(bytesOf(careless), { clockMs, strict: true })).problems).toMatchObject([
      { code: 'no-initials' },
    ]);
    const careful = ledger(
      FILL,
      `id: "w", at: 2026-11-03T08:00:00Z, what: wash, parts: {model: 2}, minutes: [10, 5], ${by}`,
      `id: "b", at: 2026-11-02T18:00:00Z, what: wash, parts: {model: 2}, logged: 2026-11-03T09:00:00Z, ${by}`,
      `id: "s", at: 2026-11-04T08:00:00Z, what: stock, solvent: ipa99, received_ml: 5000, lot: "7", ${by}`,
      `id: "d", at: 2026-11-05T08:00:00Z, what: rotate, into: "drum 1", ${by}`,
    );
    expect((await checkLedger(bytesOf(careful), { clockMs, strict: true, catalogue })).problems).toEqual([]);
  });

  it('does not ask of voided events what it asks of others', async () => {
    const text = ledger(
      FILL,
      'id: "w", at: 2026-11-03T08:00:00Z, what: wash, parts: {model: 2}, minutes: [50, 50], by: "NB"',
      'id: "v", at: 2026-11-03T09:00:00Z, what: void, of: "w", why: "typed wrong", by: "NB"',
    );
    expect((await checkLedger(bytesOf(text), { clockMs, strict: true })).problems).toEqual([]);
  });
});
