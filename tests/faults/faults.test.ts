/**
 * One ledger for each problem of the file, and the text a person reads about it.
 *
 * The golden texts are reviewed wording. That the right line is told does not rest on them: most fixtures say "# here"
 * on the line at fault. `npm run faults` writes the golden texts and the page of errors anew.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PROBLEMS } from '../../src/ledger/problems.ts';
import { errorsPage } from './errors-page.ts';
import { codeOf, faultNames, readFault } from './fault.ts';

const update = process.env.UPDATE_FAULTS === '1';

function golden(path: string, text: string): string {
  const url = new URL(path, import.meta.url);
  if (update) {
    writeFileSync(url, text);
  }
  return existsSync(url) ? readFileSync(url, 'utf8') : '';
}

describe('each fault', () => {
  it.each(faultNames)('%s is told in full', async (name) => {
    const fault = await readFault(name);
    const marked = fault.bytes
      .toString()
      .split('\n')
      .flatMap((line, index) => (line.includes('# here') ? [index + 1] : []));
    expect(fault.problems.map((problem) => problem.code)).toEqual(fault.problems.map(() => fault.code));
    expect(fault.problems.length).toBeGreaterThan(0);
    if (marked.length > 0) {
      expect(fault.problems.map((problem) => problem.line)).toEqual(marked);
    }
    expect(fault.printed).toBe(golden(`${name}.golden.txt`, fault.printed));
  });

  it.each(faultNames)('%s is told in a sentence of the house', async (name) => {
    for (const { message, help } of (await readFault(name)).problems) {
      expect(message).toMatch(/^[A-Z].*[^.]$/s);
      expect(help).toBeTruthy();
      expect(help).not.toMatch(/\.$/);
    }
  });
});

describe('the catalogue', () => {
  it('has a fixture for every problem of a file', () => {
    const shown = new Set(faultNames.map(codeOf));
    const wanted = Object.keys(PROBLEMS).filter((code) => PROBLEMS[code]!.found !== 'disk');
    expect(wanted.filter((code) => !shown.has(code))).toEqual([]);
  });

  it('has every code that a fixture shows', () => {
    expect(faultNames.map(codeOf).filter((code) => !(code in PROBLEMS))).toEqual([]);
  });

  it('is what the page of errors says', async () => {
    const page = await errorsPage();
    expect(page).toBe(golden('../../src/ledger/ERRORS.md', page));
  });
});
