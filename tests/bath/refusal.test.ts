/** What a person reads of an event that cannot have happened. The full texts are reviewed in tests/faults. */
import { describe, expect, it } from 'vitest';
import { refusalProblem } from '../../src/bath/refusal.ts';
import type { Refused } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { COMMANDS } from '../../src/commands/definition.ts';
import { PROBLEMS } from '../../src/ledger/problems.ts';
import { entriesOf, PAIR } from './bench.ts';

const shop = openShop(PAIR);
const [entry] = entriesOf([{ what: 'rotate' }]);
const told = (refusal: Refused['refusal']) =>
  refusalProblem({ entry: { ...entry!, line: 7 }, refusal }, shop);

const EACH: [refusal: Refused['refusal'], code: string, says: RegExp, helps: RegExp][] = [
  [{ bath: 1, why: 'dry' }, 'bath-empty', /clean bath.*evaporated/, /refill clean$/],
  [{ bath: 0, why: 'empty' }, 'bath-empty', /dirty bath.*empty/, /fill dirty /],
  [{ bath: 'clean', why: 'empty' }, 'bath-empty', /clean bath.*empty/, /fill clean /],
  [{ bath: 0, why: 'weak' }, 'solvent-weak', /dirty bath.*below 40 wt%/, /refill dirty$/],
  [
    { bath: 1, why: 'runs-dry', dragMl: 251.4, holdsMl: 99.6 },
    'bath-runs-dry',
    / 251 mL out of the clean bath, which holds 100 mL/,
    /drag_ml.*top-up/,
  ],
  [
    { bath: 'dirty', why: 'not-empty', holdsMl: 3999.7 },
    'bath-not-empty',
    /dirty bath, which holds 4\.00 L at that time/,
    /top-up dirty;.*refill dirty$/,
  ],
  [
    { bath: 'dirty', why: 'holds-less', holdsMl: 1200, wantedMl: 1500 },
    'bath-holds-less',
    /1\.50 L from the dirty bath, which holds 1\.20 L/,
    /at most.*all/,
  ],
  [
    { bath: 'dirty', why: 'holds-less', holdsMl: 3999, wantedMl: 4002 },
    'bath-holds-less',
    /4002 mL from the dirty bath, which holds 3999 mL/,
    /at most.*all/,
  ],
  [{ bath: 'clean', why: 'no-solvent' }, 'no-solvent', /no solvent/, /--solvent ipa99$/],
  [{ bath: 'clean', why: 'no-pair' }, 'unknown-bath', /"dirty" and "clean"/, /refill BATH$/],
];

describe('an event that cannot be', () => {
  it.each(EACH)('because of %j is %s', (refusal, code, says, helps) => {
    const problem = told(refusal);
    expect(problem).toMatchObject({ code, line: 7, severity: 'error' });
    expect(problem.message).toMatch(/^Event "e0" \(rotate\) [a-z].*[^.]$/);
    expect(problem.message).toMatch(says);
    expect(problem.help).toMatch(/^[A-Z].*[^.]$/);
    expect(problem.help).toMatch(helps);
  });

  it('of this moment is told without a time', () => {
    const now = (refusal: Refused['refusal']) =>
      refusalProblem({ entry: { ...entry!, line: 7 }, refusal }, shop, true);
    const empty = now({ bath: 0, why: 'empty' });
    expect(empty.message).toMatch(/dirty bath, which is empty now$/);
    expect(empty.help).toBe('Log the fill first: bathbook fill dirty 4 L ipa99');
    expect(now({ bath: 0, why: 'dry' }).message).toMatch(/whose solvent has evaporated$/);
    expect(now({ bath: 'dirty', why: 'not-empty', holdsMl: 4000 }).message).toMatch(/holds 4\.00 L now$/);
  });

  it.each(EACH)(
    'because of %j has a code of the catalogue, and help that names commands there are',
    (refusal) => {
      const { code, help } = told(refusal);
      expect(Object.keys(PROBLEMS)).toContain(code);
      const verbs = [...help!.matchAll(/bathbook (\S+)/g)].map(([, verb]) => verb);
      for (const verb of verbs) expect(COMMANDS.map(({ name }) => name)).toContain(verb);
    },
  );
});
