import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundled, tempFolder } from '../commands/bundle.ts';
import { rewritten, Shell, stepsOf } from './transcript.ts';

const main = bundled();
const PAGES = ['tests/transcripts/first-day.md', 'README.md'].filter((page) => existsSync(page));

describe.each(PAGES)('the console of %s', (path) => {
  const page = readFileSync(path, 'utf8');
  const steps = stepsOf(page);
  const shell = new Shell(main, tempFolder());
  const printed: string[] = [];

  it.each(steps.map((step) => [step.command, step] as const))('$ %s', (_, step) => {
    const text = shell.run(step);
    printed.push(text);
    expect(text).not.toMatch(/fault of its own/);
    if (!process.env.UPDATE) expect(text).toBe(step.expected);
  });

  it.runIf(process.env.UPDATE)('is written anew', () => {
    writeFileSync(path, rewritten(page, printed));
    expect(stepsOf(readFileSync(path, 'utf8')).map(({ expected }) => expected)).toEqual(printed);
  });
});

describe('the reader of transcripts', () => {
  const page = [
    '# Title',
    '<!-- clock: T -->',
    '```console',
    '$ one',
    'a',
    '',
    'b',
    '$ two',
    '```',
    '$ not this',
    '```sh',
    '$ nor this',
    '```',
  ].join('\n');

  it('takes commands and output from console blocks only', () => {
    expect(stepsOf(page)).toEqual([
      { line: 4, command: 'one', expected: 'a\n\nb\n', clock: 'T' },
      { line: 8, command: 'two', expected: '', clock: 'T' },
    ]);
  });

  it('writes output back where it was', () => {
    expect(rewritten(page, ['a\n\nb\n', ''])).toBe(page);
    expect(stepsOf(rewritten(page, ['x\n', 'y\n'])).map(({ expected }) => expected)).toEqual(['x\n', 'y\n']);
  });
});
