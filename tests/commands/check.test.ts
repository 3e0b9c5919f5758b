import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());
const check = (...args: string[]) => run(['check', ...args, '--as-of', NOW]);

describe('check', () => {
  it('is silent and exits with 0 when all is well', () => {
    expect(check(ledgerOf())).toEqual({ code: 0, out: '', err: '' });
    expect(check(ledgerOf([]))).toEqual({ code: 0, out: '', err: '' });
  });

  it('tells every problem with its place, of each file', () => {
    const bad = ledgerOf([
      ...LINES,
      '  - {id: "k3f9x", at: 2026-02-30T08:00:00-04:00, what: wash, parts: {modle: 1}}',
    ]);
    const worse = ledgerOf([], HEAD.replace('baths:', 'bths:'));
    const { code, out } = check(bad, ledgerOf(), worse);
    expect(code).toBe(65);
    expect(out).toContain(`${bad}:14:`);
    expect(out).toContain(`${worse}:5:1`);
    expect(out).toContain('"model"');
  });

  it('finds what cannot have happened, which only a replay shows', () => {
    const early = '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}}';
    const path = ledgerOf([...LINES, early]);
    const { code, out } = check(path);
    expect(code).toBe(65);
    expect(out).toContain(`${path}:14:`);
    expect(out).toContain('empty');
  });

  it('asks for more with --strict', () => {
    const long =
      '  - {id: "soak6", at: 2026-11-19T18:00:00-04:00, what: wash, parts: {model: 1}, minutes: [20, 20]}';
    const path = ledgerOf([...LINES, long]);
    expect(check(path).code).toBe(0);
    const { code, out } = check(path, '--strict');
    expect(code).toBe(65);
    expect(out).toContain(`${path}:14:`);
  });

  it('exits with 66 for a file that is not there, and still looks at the others', () => {
    const bad = ledgerOf([], HEAD.replace('mark_ml: 4000', 'mark_ml: 4 L'));
    const { code, out } = check('nowhere.yaml', bad);
    expect(code).toBe(66);
    expect(out).toContain('"nowhere.yaml"');
    expect(out).toContain(`${bad}:6:`);
  });
});
