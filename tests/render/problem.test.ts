import { describe, expect, it } from 'vitest';
import type { Problem } from '../../src/ledger/problem.ts';
import { renderProblem } from '../../src/render/problem.ts';

const problem: Problem = {
  code: 'x',
  message: 'Cannot take ml: 4 L',
  help: 'Write ml: 4000',
  line: 12,
  column: 5,
  length: 3,
  excerpt: 'ml: 4 L}',
  severity: 'error',
};

describe('a problem in print', () => {
  it('shows place, line, marks and help', () => {
    expect(renderProblem(problem, 'a.yaml').split('\n')).toEqual([
      'a.yaml:12:5: Cannot take ml: 4 L',
      '    ml: 4 L}',
      '        ^^^',
      '  help: Write ml: 4000',
    ]);
  });

  it('leaves out what is not known', () => {
    expect(renderProblem({ code: 'x', message: 'Cannot go on', severity: 'error' }, '')).toBe('Cannot go on');
    expect(renderProblem({ code: 'x', message: 'Cannot go on', severity: 'error' }, 'a.yaml')).toBe(
      'a.yaml: Cannot go on',
    );
  });

  it('says of a warning that it is a note', () => {
    expect(
      renderProblem({ code: 'x', message: 'Ignored line 3', line: 3, severity: 'warning' }, 'a.yaml'),
    ).toBe('a.yaml:3: note: Ignored line 3');
  });

  it.each([0, 30, 85, 95, 120, 290])('keeps the culprit in sight, at column %d of a long line', (at) => {
    const excerpt = `${'a'.repeat(at)}BAD${'b'.repeat(297 - at)}`;
    const [, shown = '', marks = ''] = renderProblem(
      { ...problem, excerpt, column: at + 1, length: 3 },
      'a.yaml',
    ).split('\n');
    expect(shown.length).toBeLessThanOrEqual(106);
    expect(shown.slice(marks.indexOf('^'), marks.lastIndexOf('^') + 1)).toBe('BAD');
  });

  it('lets no text from a file steer the terminal', () => {
    const evil = '\u001b]0;title\u0007\u001b[2J\u009b31m\r\u202e\t';
    const printed = renderProblem(
      { ...problem, message: evil, help: evil, excerpt: `x${evil}` },
      `a${evil}.yaml`,
    );
    expect(printed).toMatch(/^[^\p{Cc}\u202e]*(\n[^\p{Cc}\u202e]*)*$/u);
    expect(printed.split('\n')).toHaveLength(4);
  });

  it('breaks between words on a terminal, and keeps the culprit in sight there', () => {
    const long = {
      ...problem,
      message: `Cannot take ml: 4 L, ${'it is not a plain number, '.repeat(4)}and more`,
      help: `Write ml: 4000, ${'a number in millilitres, '.repeat(4)}and nothing else`,
      column: 91,
      excerpt: `${'a'.repeat(90)}BAD${'b'.repeat(100)}`,
    };
    for (const width of [60, 80, 200]) {
      const lines = renderProblem(long, 'a.yaml', width).split('\n');
      for (const line of lines) expect(line.length).toBeLessThanOrEqual(width);
      const marks = lines.findIndex((line) => /^ +\^+$/.test(line));
      const at = lines[marks]!.indexOf('^');
      expect(lines[marks - 1]!.slice(at, at + 3)).toBe('BAD');
      const words = (text: string) => text.split(/\s+/).filter((word) => !/^[a…]*BAD|^\^+$/.test(word));
      expect(words(lines.join('\n'))).toEqual(words(renderProblem(long, 'a.yaml')));
    }
  });

  it('keeps a command on one line of a terminal', () => {
    const help = 'Did you mean "hollow-model"? Type: bathbook wash 6 hollow-model 2 mask --drained overnight';
    const lines = renderProblem({ code: 'x', message: 'Cannot', help, severity: 'error' }, '', 70).split(
      '\n',
    );
    expect(lines.at(-1)).toBe('        bathbook wash 6 hollow-model 2 mask --drained overnight');
    expect(lines.join('')).not.toContain('\0');
  });
});
