/** What is told of records, which move nothing: no advice about the baths, and of the baths nothing where none are shown. */
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, line } from './stock-bench.ts';

const bench = benchOf(bundled(), [
  ...FILLS,
  line('wash1', '2026-11-03T10:00', 'wash, parts: {model: 4}'),
  line('drn01', '2026-11-05T09:00', 'drain, bath: dirty, ml: 2000, into: "can-1"'),
  line('wash2', '2026-11-19T10:00', 'wash, parts: {model: 4}'),
]);
const BACK = ['--at', '2026-11-06T12:00', '--dry-run'];

describe.each([
  [['stock', 'received', 'ipa99', '10 L'], 'The stock entry', 'what is on hand is shown as it is now'],
  [['waste', 'emptied', 'can-1'], 'The waste entry', 'the container is shown as it is now'],
  [['reclaim', 'can-1', '1 L', '--method', 'settled', '--as', 'again'], 'The reclaim entry', 'on hand'],
  [['inspect', 'ok', '--wash', 'wash1'], 'The inspect entry', 'what they were at the wash'],
])('%j', (args, entry, shown) => {
  it('back-dated says what is shown, and nothing of baths that are not', () => {
    const { code, err } = bench.say(...args, ...BACK);
    expect(code).toBe(0);
    const note = err.split('\n').find((one) => one.includes('lies before others'))!;
    expect(note).toContain(`${entry} lies before others in the ledger`);
    expect(note).toContain(shown);
    expect(err).not.toContain('the baths are shown');
  });

  it('has no advice about the baths but in the document', () => {
    const { out } = bench.say(...args, '--dry-run');
    expect(out).toContain('would log');
    expect(out).not.toMatch(/^advice/m);
    expect(bench.data(...args, '--dry-run').advice.text).toBeTruthy();
  });
});

describe('a top-up', () => {
  it('shows the baths and the advice, back-dated or not', () => {
    const top = ['top-up', 'dirty', '100 mL', '--solvent', 'ipa99'];
    const { out, err } = bench.say(...top, ...BACK);
    expect(err).toContain('The top-up lies before others in the ledger; the baths are shown as they are now');
    expect(out).toMatch(/^dirty .*→/m);
    expect(bench.say(...top, '--dry-run').out).toMatch(/^advice/m);
  });
});
