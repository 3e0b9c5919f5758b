import { describe, expect, it } from 'vitest';
import { TOPICS } from '../../src/explain/topics.ts';
import { calculated, halfOfLastDigit, shown } from '../explain/calculator.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());

const UTF8 = { LANG: 'C.UTF-8', COLUMNS: '200' };

function explained(args: string[], env: Record<string, string> = UTF8, ledger = ledgerOf()) {
  return run(['explain', ...args, '--ledger', ledger, '--as-of', NOW], { env });
}

/** Each formula on screen: what stands on the line with numbers, and on the one with the result. */
function sums(text: string): [numbers: string, result: string][] {
  return [...text.matchAll(/^ +\S+ = .+\n +(?:= (.+)\n +)?= (−?[\d.]+)(?: \S+)?$/gm)].map(
    ([, numbers, result]) => [numbers!, result!],
  );
}

describe('explain', () => {
  it.each(TOPICS.map(({ name }) => name))('%s shows sums that a calculator agrees with', (topic) => {
    const { code, out, err } = explained([topic]);
    expect([code, err]).toEqual([0, '']);
    for (const [numbers, result] of sums(out))
      expect(Math.abs(calculated(numbers) - shown(result)), numbers).toBeLessThanOrEqual(
        halfOfLastDigit(result),
      );
    if (topic !== 'limits') expect(sums(out).length).toBeGreaterThan(0);
  });

  it('ends at the number that baths shows', () => {
    const baths = JSON.parse(run(['baths', '--json', '--ledger', ledgerOf(), '--as-of', NOW]).out).data.baths;
    for (const { bath, resin_wt_pct, water_wt_pct } of baths) {
      const { out } = explained(['resin', bath, 'water', bath, '--json']);
      const [resin, water] = JSON.parse(out).data.explained;
      const figureOf = (one: typeof resin, symbol: string) =>
        one.equations.find((each: { symbol: string }) => each.symbol === symbol).value;
      expect(figureOf(resin, 'w')).toBe(resin_wt_pct.p50);
      expect(figureOf(water, 'w')).toBe(water_wt_pct.p50);
    }
  });

  it('takes the keys of the JSON documents, and several numbers at once', () => {
    const { out } = explained(['resin_wt_pct', 'clean', 'carry_g', 'k3f9x', 'loads_left', '--json']);
    const all = JSON.parse(out).data.explained;
    expect(all.map(({ topic, of }: { topic: string; of: string | null }) => [topic, of])).toEqual([
      ['resin', 'clean'],
      ['carry', 'k3f9x'],
      ['loads-left', null],
    ]);
    expect(all[1].at).toBe('2026-11-17T11:20:00-04:00');
  });

  it('fits into 60 columns, but for a formula without a blank to break at', () => {
    for (const { name } of TOPICS) {
      const { out } = explained([name], { LANG: 'C.UTF-8', COLUMNS: '60' });
      for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(60);
    }
  });

  it('shows ASCII alone where the terminal knows no more', () => {
    const texts = [[], ...TOPICS.map(({ name }) => [name])].map((args) => explained(args, { LANG: 'C' }).out);
    for (const text of texts) {
      expect(text.length).toBeGreaterThan(100);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: ASCII begins with them
      expect(text).toMatch(/^[\x00-\x7f]*$/);
    }
  });

  it('lists what can be explained, without a ledger too', () => {
    const { code, out } = run(['explain', '--ledger', '/nowhere/bathbook.yaml'], { env: UTF8 });
    expect(code).toBe(0);
    for (const { name } of TOPICS) expect(out).toContain(`  ${name} `);
  });

  it.each([
    [['resim'], 'Did you mean "resin"?'],
    [['carry', 'k3f9'], 'Did you mean "k3f9x"?'],
    [['resin', 'drity'], 'Did you mean "dirty"?'],
    [['strength', 'ipa98'], 'Did you mean "ipa99"?'],
    [['loads-left', 'dirty'], 'It is one of area'],
  ])('refuses %j, and says what was meant', (args, help) => {
    const { code, err } = explained(args);
    expect(code).toBe(64);
    expect(err).toContain(help);
  });

  it('says what to do first in an empty shop', () => {
    for (const [topic, next] of [
      ['resin', 'bathbook fill dirty'],
      ['carry', 'bathbook wash'],
      ['loads-left', 'bathbook wash'],
    ] as const) {
      const { code, err } = explained([topic], UTF8, ledgerOf([]));
      expect(code).toBe(64);
      expect(err).toContain(next);
    }
  });

  it('tells what was measured from what is a default', () => {
    const weighed =
      '  - {id: "wgh06", at: 2026-11-19T17:00:00-04:00, what: weighed, wash: "wash5", wet_g: 412.3, clean_g: 410.2}';
    const plain = explained(['carry']).out;
    expect(plain).toContain('carry-over factor, default, not calibrated');
    const { out } = explained(['carry'], UTF8, ledgerOf([...LINES, weighed]));
    expect(out).toContain('This load was weighed: 2.1 g came off it');
    expect(out).toContain('as they were known at that wash');
    expect(plain).not.toContain('as they were known at that wash');
    expect(out).toMatch(/Carry-over factor: .*moved by 1 reading; at first 1\.00 \(0\.48–2\.10\)/);
    const set = explained(
      ['carry'],
      UTF8,
      ledgerOf(LINES, HEAD.replace('baths:', 'factors: {carry: 1.3}\nbaths:')),
    );
    expect(set.out).toContain('carry-over factor, set in the ledger');
  });

  it('says of a wash from memory that it is one', () => {
    const lines = LINES.map((line) =>
      line.replace('parts: {splint: 3}', 'parts: {splint: 3}, estimated: true'),
    );
    expect(explained(['carry'], UTF8, ledgerOf(lines)).out).toContain('logged as an estimate');
    expect(explained(['carry', 'k3f9x'], UTF8, ledgerOf(lines)).out).not.toContain('logged as an estimate');
  });
});
