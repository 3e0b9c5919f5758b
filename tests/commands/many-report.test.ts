/** `report` of several ledgers: the pages, what stands before them, where each goes on from, what is refused. */
import { linkSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, LINES, ledgerOf, NOW, type RunOptions, runner, tempFolder } from './bundle.ts';
import { broken, empty, heavy, lisbon, missing, quiet, zoneless } from './many-shops.ts';

const run = runner(bundled());
const TZ = { TZ: 'Asia/Tokyo' };
const report = (args: readonly string[], { env = {}, ...options }: RunOptions = {}) =>
  run(['report', ...args, '--as-of', NOW], { ...options, env: { ...TZ, ...env } });

describe('text', () => {
  const ledgers = [quiet, broken, heavy, missing, zoneless];
  const { code, out, err } = report(ledgers);
  const [head, ...pages] = out.split(/\n-{80}\n\n/);

  it('is the page of each as it is alone, in the order typed', () => {
    expect(pages.map((page) => page.trimEnd())).toEqual(
      [quiet, heavy, zoneless].map((ledger) => report([ledger]).out.trimEnd()),
    );
  });

  it('has both baths of each shop before them, with the verdict, and those that were not read', () => {
    const rows = head!.split('\n').filter((line) => /\b(keep|change|not read)\b/.test(line));
    expect(rows.slice(0, 8).map((row) => row.replace(/\d.*/, '').trim().split(/ {2,}/).slice(-2))).toEqual([
      ['dirty', 'keep'],
      ['clean', 'keep'],
      ['-', 'not read'],
      ['dirty', 'change (resin)'],
      ['clean', 'keep'],
      ['-', 'not read'],
      ['dirty', 'keep'],
      ['clean', 'keep'],
    ]);
    const flat = head!.replaceAll(/\s+/g, ' ');
    expect(flat).toContain('Reports of 5 ledgers');
    expect(flat).toContain('Quiet Lane, Fri 2026-11-20 17:00: ');
    // The zone of a shop in Kolkata, and of this computer in Tokyo.
    expect(flat).toContain('Heavy, Sat 2026-11-21 02:30: ');
    expect(flat).toContain('Attic, Sat 2026-11-21 06:00: ');
    expect(flat).toMatch(/Not read - \S+bathbook\.yaml, line 9: .* - \S+nowhere\.yaml: Cannot read/);
  });

  it('tells the problems beside it, and ends with the code of the worst', () => {
    expect(code).toBe(66);
    expect(err).toContain(`${broken}:9:`);
    expect(err).toContain('nowhere.yaml');
    expect(report([quiet, lisbon])).toMatchObject({ code: 0, err: '' });
    expect(report([broken, quiet]).code).toBe(65);
    expect(report([quiet, empty]).code).toBe(0);
    const early = '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}}';
    expect(report([ledgerOf([early, ...LINES]), quiet]).code).toBe(65);
  });

  it.each(['60', '80', '120'])('keeps to %s columns, but for paths', (COLUMNS) => {
    const { out: narrow } = report(ledgers, { env: { COLUMNS } });
    const wide = narrow.split('\n').filter((line) => line.length > Number(COLUMNS));
    expect(wide.filter((line) => !line.includes('/'))).toEqual([]);
    expect(narrow).not.toMatch(/[ \t]$/m);
  });
});

describe('markdown', () => {
  const md = report([quiet, broken, heavy, '--format', 'markdown']).out;

  it('has one title, a table of the baths, and the pages one level below', () => {
    expect(md.match(/^# .*$/gm)).toEqual(['# Reports of 3 ledgers']);
    expect(md.match(/^## .*$/gm)).toEqual([
      '## Due',
      '## Not read',
      '## Quiet Lane, report of Fri 2026-11-20 17:00',
      '## Heavy, report of Sat 2026-11-21 02:30',
    ]);
    const alone = report([heavy, '--format', 'markdown']).out;
    expect(md.trimEnd().endsWith(alone.trimEnd().replaceAll(/^#/gm, '##'))).toBe(true);
    const table = md.split('\n\n')[1]!.split('\n');
    expect(table).toHaveLength(2 + 2 + 1 + 2);
    expect(new Set(table.map((row) => row.split('|').length)).size).toBe(1);
    expect(table.at(-2)).toMatch(/^\| Heavy \| dirty \| change \(resin\) \| 1\d/);
  });
});

describe('the period', () => {
  it('goes on from the last report of each ledger by itself', () => {
    const env = { XDG_STATE_HOME: tempFolder() };
    const from = (...args: string[]) =>
      JSON.parse(report([...args, '--json'], { env }).out).data.ledgers.map(
        ({ data }: { data: { period: { from: string } } | null }) => data?.period.from,
      );
    run(['report', quiet, '--json', '--as-of', '2026-11-20T12:00:00-04:00'], { env });
    expect(from(lisbon, quiet, broken)).toEqual([
      '2026-11-19T21:00:00+00:00',
      '2026-11-20T12:00:00-04:00',
      undefined,
    ]);
    const later = ['--as-of', '2026-11-21T08:00:00-04:00'];
    const again = run(['report', quiet, heavy, lisbon, '--json', ...later], { env: { ...TZ, ...env } });
    expect(
      JSON.parse(again.out).data.ledgers.map(({ data }: { data: { period: unknown } }) => data.period),
    ).toMatchObject([
      { from: '2026-11-20T17:00:00-04:00', why: 'since-last-report' },
      { why: 'last-24-h' },
      { from: '2026-11-20T21:00:00+00:00', why: 'since-last-report' },
    ]);
  });

  it('takes a day as that of each shop', () => {
    const { out } = report([quiet, lisbon, '--from', '2026-11-18', '--json']);
    const froms = JSON.parse(out).data.ledgers.map(
      ({ data }: { data: { period: { from: string } } }) => data.period.from,
    );
    expect(froms).toEqual(['2026-11-18T00:00:00-04:00', '2026-11-18T00:00:00+00:00']);
  });

  it('that is none is refused before any ledger is looked at', () => {
    expect(report([quiet, lisbon, '--from', 'soonish'])).toMatchObject({ code: 64, out: '' });
  });
});

describe('--out', () => {
  it('writes what would be printed, whole, without colour', () => {
    const out = join(tempFolder(), 'shops.md');
    const { code, out: printed, err } = report([quiet, heavy, '--out', out, '--color', 'always']);
    expect({ code, printed, err }).toEqual({ code: 0, printed: '', err: `Written to ${out}\n` });
    expect(readFileSync(out, 'utf8')).toBe(report([quiet, heavy, '--format', 'markdown']).out);
  });

  it('never takes the place of a ledger, of one or of several, by another name neither', () => {
    const own = ledgerOf(LINES);
    const before = readFileSync(own, 'utf8');
    const link = join(tempFolder(), 'link.yaml');
    linkSync(own, link);
    for (const args of [
      [quiet, own, '--out', own],
      [quiet, own, '--out', link],
      [own, '--out', link],
      ['--ledger', own, '--out', own],
    ]) {
      const { code, out, err } = report(args);
      expect({ code, out }).toEqual({ code: 64, out: '' });
      expect(err).toContain('that is a ledger');
    }
    expect(readFileSync(own, 'utf8')).toBe(before);
  });
});
