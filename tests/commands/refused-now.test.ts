/** What is refused is told for the moment it was typed for, in the units one pours in, with something to type that works. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundled, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());

function at(ledger: string, ...words: string[]) {
  return run([...words, '--as-of', NOW], { env: { BATHBOOK_LEDGER: ledger } });
}

describe('a bath that cannot give or take', () => {
  it('is empty now where no time was given, and at that time where one was', () => {
    const ledger = ledgerOf(LINES.slice(0, 1));
    const now = at(ledger, 'wash', '6', 'model');
    expect(now.code).toBe(65);
    expect(now.err).toContain('uses the clean bath, which is empty now\n');
    expect(now.err).toContain('help: Log the fill first: bathbook fill clean 4 L ipa99\n');
    const then = at(ledger, 'wash', '6', 'model', '--at', 'yesterday 17:30');
    expect(then.err).toContain('which is empty at that time, Thu 2026-11-19 17:30\n');
    expect(then.err).toContain('bathbook fill clean 4 L ipa99 --at TIME\n');
  });

  it('is told in litres from one litre on', () => {
    const { err } = at(ledgerOf(), 'drain', 'dirty', '9', 'L');
    expect(err).toMatch(/takes 9\.00 L from the dirty bath, which holds 3\.\d\d L\n/);
    expect(err).not.toContain(' mL');
  });
});

describe('minutes for each bath', () => {
  it('are read in words of their own as with a comma', () => {
    const [apart, together] = [['5', '4'], ['5,4']].map((typed) => {
      const ledger = ledgerOf();
      expect(at(ledger, 'wash', '6', 'model', '--minutes', ...typed)).toMatchObject({ code: 0 });
      return readFileSync(ledger, 'utf8')
        .trimEnd()
        .split('\n')
        .at(-1)!
        .replace(/id: "?\w{5}"?/, '');
    });
    expect(apart).toBe(together);
    expect(apart).toContain('minutes: [5, 4]');
  });
});

describe('a time that has not been', () => {
  it.each([
    [['tomorrow'], 'yesterday 17:30'],
    [['tomorrow 9:15'], 'yesterday 9:15'],
    [['2026-12-01 10:00'], '2026-11-20 17:00'],
  ])('%s is refused with one that works', ([typed], time) => {
    const ledger = ledgerOf();
    const refused = at(ledger, 'wash', '6', 'model', '--at', typed!);
    expect(refused).toMatchObject({ code: 64, out: '' });
    const example = /like --at "([^"]+)"/.exec(refused.err)?.[1];
    expect(example).toBe(time);
    expect(at(ledger, 'wash', '6', 'model', '--at', example!).code).toBe(0);
  });
});

describe('a day without its time', () => {
  it('is refused with one that has been', () => {
    const ledger = ledgerOf();
    // Before the hour that is taken as an example elsewhere.
    const early = '2026-11-20T08:20:00-04:00';
    const today = run(['wash', '6', 'model', '--at', 'today', '--as-of', early], {
      env: { BATHBOOK_LEDGER: ledger },
    });
    expect(today.err).toContain('help: Add it: "today 8:00"\n');
    expect(at(ledger, 'wash', '6', 'model', '--at', 'yesterday').err).toContain(
      'help: Add it: "yesterday 17:30"\n',
    );
    // A clock may be set ahead.
    expect(run(['baths', '--as-of', 'tomorrow'], { env: { BATHBOOK_LEDGER: ledger } }).err).toContain(
      'help: Add it: "tomorrow 17:30"\n',
    );
  });
});

describe('the thresholds of waste', () => {
  it('are told to be those of the United States, and that local rules decide', () => {
    const drained =
      '  - {id: "drn06", at: 2026-11-20T08:00:00-04:00, what: drain, bath: dirty, ml: 500, into: "can-1"}';
    const out = at(ledgerOf([...LINES, drained]), 'waste').out.replaceAll(/\s+/g, ' ');
    expect(out).toContain('US federal rules (US-EPA) and of the state of Washington');
    expect(out).toContain('local rules decide');
  });
});
