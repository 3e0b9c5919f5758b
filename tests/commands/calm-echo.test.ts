/** What is told after a command in a window of 60 columns: short, each thing once, and no caution lost. */
import { describe, expect, it } from 'vitest';
import { bundled, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());
const IN_A_CAN =
  '  - {id: "drn06", at: 2026-11-20T08:00:00-04:00, what: drain, bath: dirty, ml: 500, into: "can-1"}';
const FULL_AGAIN =
  '  - {id: "tpup7", at: 2026-11-20T08:05:00-04:00, what: top-up, bath: dirty, solvent: ipa99, to: mark}';

function told(...words: string[]): string {
  const ledger = ledgerOf([...LINES, IN_A_CAN, FULL_AGAIN]);
  const env = { COLUMNS: '60', BATHBOOK_LEDGER: ledger };
  const { code, out } = run([...words, '--as-of', NOW], { env });
  expect(code).toBe(0);
  return out;
}

const count = (text: string, word: RegExp) => [...text.replaceAll(/\s+/g, ' ').matchAll(word)].length;

describe('an echo in 60 columns', () => {
  it('of a wash is 13 lines at most, with the time to dry and who decides', () => {
    const out = told('wash', '6', 'model', '2', 'mask', '--drained', '30');
    expect(out.trimEnd().split('\n').length).toBeLessThanOrEqual(13);
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /drying at least 30 min in moving air before curing; blind holes longer; instructions for use decide/,
    );
  });

  it('of a drain says each caution once', () => {
    const out = told('drain', 'dirty', '200 mL', '--into', 'can-1');
    for (const word of [
      /ignitable/g,
      /closed/g,
      /labelled/g,
      /never down the drain/g,
      /never left to evaporate/g,
      /local rules/g,
      /safety data sheets/g,
    ])
      expect(count(out, word), String(word)).toBe(1);
  });

  it('of an emptied can says each caution once', () => {
    const out = told('waste', 'emptied', 'can-1', '0.2 L');
    for (const word of [/ignitable/g, /sparks/g, /never down the drain/g, /evaporate/g, /gloves/g])
      expect(count(out, word), String(word)).toBe(1);
  });

  it.each([
    [['drain', 'clean', '200 mL']],
    [['wash', '1', 'mask']],
    [['top-up', 'clean', 'to', 'mark']],
    [['reading', 'clean', '--level', '3.9 L', '--temp', '21']],
  ])('tells of a bath what did not change but once: %s', (words) => {
    const out = told(...words);
    expect(out).not.toMatch(/(?:^|[ (])(\d\S*(?: \([^)]*\))?) → \1(?=[ ,;]|$)/m);
    // Both baths, each with its litres and its verdict.
    expect(out).toMatch(/^dirty[\s\S]*\d\.\d\d L {2}keep\nclean[\s\S]*\d\.\d\d L {2}keep$/m);
  });

  it('tells before and after of what did change', () => {
    const out = told('drain', 'clean', '200 mL').replaceAll(/\s+/g, ' ');
    const [, was, is] = /clean .*?; (\d\.\d\d) → (\d\.\d\d) L keep/.exec(out)!;
    expect(Number(was) - Number(is)).toBeCloseTo(0.2, 2);
    expect(out).toMatch(/dirty \d\.\d\d \([^)]*\) wt%, \d\.\d g\/L, \d\.\d\d vol%; \d\.\d\d L keep/);
  });
});
