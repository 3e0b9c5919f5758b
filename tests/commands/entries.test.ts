import { describe, expect, it } from 'vitest';
import { bundled, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());
const LEDGER = ledgerOf();
const entries = (...args: string[]) => run(['entries', ...args, '--ledger', LEDGER, '--as-of', NOW]);

describe('a filter that nothing matches', () => {
  it.each([
    [['--case', '26-0171'], 'No entry has the case "26-0171". Did you mean "26-0117"?'],
    [['--lot', 'R77'], 'No entry has the lot "R77". Did you mean "R7"?'],
    [['--by', 'ZZZZ'], 'No entry is by "ZZZZ"'],
    [['--from', '2026-11-20'], 'No entry matches'],
  ])('%j says so', (args, note) => {
    expect(entries(...args)).toMatchObject({ code: 0, err: `${note}\n` });
  });
});

describe('a wash', () => {
  it('is found by its case, its lot, who logged it and when, in one line', () => {
    for (const args of [
      ['--case', '26-0117'],
      ['--lot', 'R7'],
      ['--by', 'NB', '--from', '2026-11-17', '--to', '2026-11-18'],
    ]) {
      const rows = entries(...args)
        .out.trimEnd()
        .split('\n')
        .slice(1);
      expect(rows.map((row) => row.split('\t')[0])).toEqual(['k3f9x']);
    }
  });
});
