/** Several ledgers in one call: exit codes and text. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundled, NOW, runner, tempFolder } from './bundle.ts';
import { broken, empty, heavy, lisbon, missing, quiet, soon } from './many-shops.ts';

const run = runner(bundled());
const TZ = { TZ: 'Asia/Tokyo' };
const at = (...args: string[]) => run([...args, '--as-of', NOW], { env: TZ });

describe('the exit code', () => {
  it.each([
    [[quiet, lisbon], 0],
    [[quiet, soon], 1],
    [[quiet, heavy, soon], 2],
    [[quiet, empty], 3],
    [[quiet, missing], 3],
    [[soon, broken], 3],
    [[heavy, broken], 3],
    [[empty, heavy], 3],
  ])('is the worst and hides neither a change nor a ledger that could not be judged', (ledgers, code) => {
    // The quiet shops have a word about their stale reading neither way: only what is due counts.
    expect(at('due', ...ledgers, '--stale', '300d', '--reading', '300d').code).toBe(code);
    const judged = at('baths', ...ledgers, '--exit-code', '--quiet');
    expect({ code: judged.code, out: judged.out }).toEqual({ code, out: '' });
  });

  it('of baths without --exit-code is 0, or that of the ledger that could not be read', () => {
    expect(at('baths', quiet, heavy).code).toBe(0);
    expect(at('baths', quiet, missing, heavy).code).toBe(66);
    expect(at('baths', broken, heavy).code).toBe(65);
  });
});

describe('text off a terminal', () => {
  it('of baths is one table: a line a bath, the file first, the same columns everywhere', () => {
    const { out } = at('baths', quiet, broken, heavy);
    const [head, ...rows] = out
      .trimEnd()
      .split('\n')
      .map((line) => line.split('\t'));
    expect(rows.map(([ledger, bath]) => [ledger, bath])).toEqual([
      [quiet, 'dirty'],
      [quiet, 'clean'],
      [broken, ''],
      [heavy, 'dirty'],
      [heavy, 'clean'],
    ]);
    expect(head!.slice(0, 3)).toEqual(['ledger', 'bath', 'verdict']);
    expect(new Set([head, ...rows].map((row) => row!.length)).size).toBe(1);
    expect(rows.map(([, , verdict]) => verdict)).toEqual(['keep', 'keep', 'unread', 'change', 'keep']);
  });

  it('of due is a list with the file before each line, the most urgent ledger first, and silent where nothing is due', () => {
    const stale = ['--stale', '300d', '--reading', '300d'];
    const { out } = at('due', quiet, soon, heavy, ...stale);
    const lines = out.trimEnd().split('\n');
    expect(lines[0]).toMatch(new RegExp(`^${heavy}: change: the dirty bath`));
    expect(lines.at(-1)!.startsWith(`${soon}: `)).toBe(true);
    expect(lines.every((line) => line.startsWith(`${heavy}: `) || line.startsWith(`${soon}: `))).toBe(true);
    expect(at('due', quiet, lisbon, ...stale)).toEqual({ code: 0, out: '', err: '' });
  });

  it('of due is told once a day for each ledger of its own', () => {
    const env = { ...TZ, XDG_STATE_HOME: tempFolder() };
    const due = (...ledgers: string[]) => run(['due', ...ledgers, '--once-a-day', '--as-of', NOW], { env });
    expect(due(heavy, quiet).out).toContain(heavy);
    const again = due(heavy, soon);
    expect(again.out).not.toContain(`${heavy}: change`);
    expect(again.out).toContain(`${soon}: soon`);
    expect(again.code).toBe(2);
  });
});

describe('--ledger', () => {
  it.each([[['baths']], [['wash', '2', 'model']], [['due']]])(
    'twice is refused by %j, and writes nothing',
    (args) => {
      const before = readFileSync(quiet, 'utf8');
      const { code, out, err } = run(['--ledger', quiet, ...args, '--ledger', lisbon]);
      expect({ code, out }).toEqual({ code: 64, out: '' });
      expect(err).toMatch(/Cannot use --ledger twice[\s\S]*bathbook baths north\.yaml south\.yaml/);
      expect(readFileSync(quiet, 'utf8')).toBe(before);
    },
  );
});
