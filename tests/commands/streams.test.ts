import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const main = bundled();
const run = runner(main);
const ledger = ledgerOf();
const given = ['--ledger', ledger, '--as-of', NOW];
// biome-ignore lint/suspicious/noControlCharactersInRegex: the escape that begins every colour
const COLOUR = /\u001b\[/;

describe('off a terminal', () => {
  it('prints one record a line, tab-separated, without rules or colour', () => {
    const { out } = run(['baths', ...given]);
    const [head, ...rows] = out
      .trimEnd()
      .split('\n')
      .map((line) => line.split('\t'));
    expect(head?.slice(0, 4)).toEqual(['bath', 'verdict', 'because', 'resin_wt_pct']);
    expect(rows.map(([bath]) => bath)).toEqual(['dirty', 'clean']);
    for (const row of rows) expect(row).toHaveLength(head!.length);
    expect(out).not.toMatch(COLOUR);
    expect(out).not.toMatch(/[─│┌—|]/);
  });

  it('keeps notes out of the answer', () => {
    const { out, err } = run(['baths', ...given]);
    expect(err).toContain('not calibrated');
    expect(out).not.toContain('not calibrated');
    expect(run(['baths', ...given, '--quiet'])).toEqual({ code: 0, out, err: '' });
  });

  it('never asks', () => {
    expect(run(['rotate', ...given, '--dry-run']).code).toBe(0);
    expect(run(['void', 'k3f9x', ...given]).code).toBe(64);
  });
});

describe('colour', () => {
  const coloured = (env: Record<string, string>, ...more: string[]) =>
    COLOUR.test(run(['wash', '1', 'model', '--dry-run', ...given, ...more], { env }).out);

  it.each([
    ['no sign of a terminal', {}, [], false],
    ['FORCE_COLOR', { FORCE_COLOR: '1' }, [], true],
    ['FORCE_COLOR of 0', { FORCE_COLOR: '0' }, [], false],
    ['NO_COLOR over FORCE_COLOR', { NO_COLOR: '1', FORCE_COLOR: '1' }, [], false],
    ['an empty NO_COLOR, which says nothing', { NO_COLOR: '', FORCE_COLOR: '1' }, [], true],
    ['--color always over NO_COLOR', { NO_COLOR: '1' }, ['--color', 'always'], true],
    ['--color never over FORCE_COLOR', { FORCE_COLOR: '1' }, ['--color', 'never'], false],
  ])('%s', (_, env, more, expected) => {
    expect(coloured(env, ...more)).toBe(expected);
  });

  it('carries no meaning of its own: without it the words are the same', () => {
    const plain = run(['wash', '1', 'model', '--dry-run', '--at', NOW, ...given]).out;
    const painted = run(['wash', '1', 'model', '--dry-run', '--at', NOW, ...given, '--color', 'always']).out;
    // biome-ignore lint/suspicious/noControlCharactersInRegex: colours are taken out
    const words = painted.replaceAll(/\u001b\[[\d;]*m/g, '');
    const withoutId = (text: string) => text.replaceAll(/(would log +)\w{5}/g, '$1ID');
    expect(withoutId(words)).toBe(withoutId(plain));
  });
});

describe('a reader that goes away', () => {
  it('ends the program quietly', () => {
    const many = Array.from(
      { length: 3000 },
      (_, i) =>
        `  - {id: "n${i}", at: 2026-11-19T17:00:00-04:00, what: stock, solvent: ipa99, counted_ml: 1000, note: "${'x'.repeat(60)}"}`,
    );
    const long = ledgerOf([...LINES, ...many]);
    const script = `"$0" "$1" entries --ledger "$2" --as-of "$3" | head -n 1; echo "exit \${PIPESTATUS[0]}"`;
    const ran = spawnSync('bash', ['--norc', '-c', script, process.execPath, main, long, NOW], {
      encoding: 'utf8',
    });
    expect(ran.stderr).toBe('');
    expect(ran.stdout).toMatch(/exit 0\n$/);
    expect(ran.stdout.split('\n')).toHaveLength(3);
  });
});

describe('an answer that cannot be written', () => {
  it.skipIf(!existsSync('/dev/full'))('is told in a sentence, exit 74', () => {
    const script = '"$0" "$1" baths --ledger "$2" --as-of "$3" > /dev/full';
    const ran = spawnSync('bash', ['--norc', '-c', script, process.execPath, main, ledger, NOW], {
      encoding: 'utf8',
    });
    expect(ran.stderr).toContain('Cannot write the answer: ENOSPC');
    expect(ran.stderr).not.toMatch(/\n\s+at /);
    expect(ran.status).toBe(74);
  });

  it('on a closed stdout changes nothing', () => {
    const script = '"$0" "$1" baths --ledger "$2" --as-of "$3" >&-';
    const ran = spawnSync('bash', ['--norc', '-c', script, process.execPath, main, ledger, NOW], {
      encoding: 'utf8',
    });
    expect(ran.stderr).not.toMatch(/\n\s+at /);
    expect(ran.status).toBe(0);
  });
});

describe("cron's bare environment", () => {
  it('finds the ledger in the data folder of HOME and keeps the zone of the shop', () => {
    const home = tempFolder();
    const path = join(home, '.local/share/bathbook/bathbook.yaml');
    const env = { HOME: home };
    const cwd = tempFolder();
    expect(
      run(['setup', '--timezone', 'Europe/Lisbon', '--name', 'Night shift'], { env, cwd }),
    ).toMatchObject({
      code: 0,
      out: `Made ${path}\n`,
    });
    const filled = run(['fill', 'dirty', '4 L', 'ipa99', '--json', '--at', '2026-07-01 08:00'], { env, cwd });
    // Lisbon is an hour ahead of UTC in July, and the machine's own zone is UTC here: TZ is not set.
    expect(JSON.parse(filled.out).data.event.at).toBe('2026-07-01T08:00:00+01:00');
    expect(run(['baths'], { env, cwd }).out).toMatch(/^dirty\t/m);
  });
});
