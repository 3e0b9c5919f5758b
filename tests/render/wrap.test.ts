/** Lines broken between words: the width is what a person sees, and a figure is read in one piece. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fill, wrap } from '../../src/render/wrap.ts';

const ESC = String.fromCharCode(27);

describe('a text that is broken', () => {
  it('takes colours for nothing', () => {
    const red = `${ESC}[1m${ESC}[31mstop (empty)${ESC}[39m${ESC}[22m`;
    expect(wrap(`empty  ${red}`, 19)).toBe(`empty  ${red}`);
    expect(wrap(`empty  ${red}`, 18).split('\n')).toHaveLength(2);
  });

  it('keeps a number with its unit, its band, and the next number of a sum', () => {
    expect(wrap('drained 10 min, 5 + 5 min, still', 11)).toBe('drained\n10 min,\n5 + 5 min,\nstill');
    expect(wrap('until it reaches 2 wt% resin', 19)).toBe('until it reaches\n2 wt% resin');
    expect(wrap('carry-over 1.05 (0.71–1.60)', 22)).toBe('carry-over\n1.05 (0.71–1.60)');
    expect(wrap('gqb96 (9.7 sd), nsmht (21.5 sd);', 28)).toBe('gqb96 (9.7 sd), nsmht\n(21.5 sd);');
    expect(wrap('about 0.6 (0.2–1.4) g/L.', 21)).toBe('about\n0.6 (0.2–1.4) g/L.');
  });

  it('keeps what was with what it became', () => {
    expect(wrap('0.09 wt%; 4.00 → 3.99 L  keep', 20)).toBe('0.09 wt%;\n4.00 → 3.99 L  keep');
  });

  it('keeps what stands apart at the end with the figure before it', () => {
    expect(wrap('0.03 wt%, 0.02 vol%; 3.95 L  keep', 31)).toBe('0.03 wt%, 0.02 vol%;\n3.95 L  keep');
    expect(wrap('0.03 wt%; 3.95 → 0.00 L  stop (empty)', 30)).toBe('0.03 wt%;\n3.95 → 0.00 L  stop (empty)');
  });

  it('breaks even those where a line has no room for both', () => {
    expect(wrap('1 (0.5–2) → 3 (1–9) g', 10)).toBe('1 (0.5–2)\n→ 3 (1–9)\ng');
  });

  it('leaves counts of things and remarks in brackets where they fall', () => {
    expect(wrap('6 model + 2 mask', 8)).toBe('6 model\n+ 2 mask');
    expect(wrap('at 17:30 (UTC-04:00)', 10)).toBe('at 17:30\n(UTC-04:00)');
  });

  it('has every word, in its order, and no line too wide but of a single word', () => {
    const word = fc.constantFrom(
      '0.12',
      '→',
      '(1–2)',
      'wt%,',
      '5',
      '+',
      'min',
      'a',
      'solvent',
      'longer-than-a-line',
    );
    fc.assert(
      fc.property(
        fc.array(word, { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 8, max: 40 }),
        (words, width) => {
          const text = words.join(' ');
          const lines = wrap(text, width).split('\n');
          expect(lines.join(' ')).toBe(text);
          for (const line of lines) expect(line.length <= width || !line.includes(' ')).toBe(true);
        },
      ),
    );
  });
});

describe('what is made to be copied', () => {
  it.each([
    ['Fill it first: bathbook fill clean 4 L ipa99', ['bathbook fill clean 4 L ipa99']],
    [
      'To pour more in: bathbook top-up clean to mark; to change the liquid: bathbook refill clean',
      ['bathbook top-up clean to mark;', 'bathbook refill clean'],
    ],
    [
      'Type: bathbook top-up dirty to mark; or bathbook top-up dirty 250 mL',
      ['bathbook top-up dirty 250 mL'],
    ],
    [
      'bathbook undo k3f9x --ledger "/srv/a, b; c/x.yaml", then each one',
      ['--ledger "/srv/a, b; c/x.yaml",'],
    ],
    [
      'Or: bathbook amend k3f9x parts="{model: 4, mask: 2}" --why "it was late. Sorry" for all',
      ['bathbook amend k3f9x parts="{model: 4, mask: 2}" --why "it was late. Sorry"'],
    ],
    ['The entry (bathbook entries --last 3 --as-of 2100-01-01) is wrong', ['--last 3 --as-of 2100-01-01)']],
    ['For the day before: --at "yesterday 17:30", or so', ['--at "yesterday 17:30",']],
    ['In default; bathbook calibrate says what to measure', ['bathbook calibrate']],
  ])('is on one line, however narrow: %s', (text, commands) => {
    for (const width of [10, 24, 40, 60]) {
      const lines = wrap(text, width).split('\n');
      for (const command of commands) expect(lines.some((line) => line.includes(command))).toBe(true);
      expect(lines.join(' ')).toBe(text);
    }
  });

  it('has a line of its own where it is too wide for one', () => {
    const help = '  help: Log it: bathbook wash 6 hollow-model --drained overnight; then go on';
    expect(wrap(help, 30, '      ')).toBe(
      [
        '  help: Log it:',
        '        bathbook wash 6 hollow-model --drained overnight;',
        '        then go on',
      ].join('\n'),
    );
  });

  it('ends where the sentence goes on', () => {
    expect(wrap('See: bathbook baths; the rest of it is told there', 24)).toBe(
      'See: bathbook baths; the\nrest of it is told there',
    );
    expect(wrap('bathbook calibrate says which reading tells most', 30)).toBe(
      'bathbook calibrate says which\nreading tells most',
    );
    expect(wrap('Usage: bathbook waste [action] [container]', 30)).toBe(
      'Usage: bathbook waste [action]\n[container]',
    );
  });

  it('is broken in a column that must not grow', () => {
    expect(fill('note: bathbook wash 6 model 2 mask', 14).split('\n')).toEqual([
      'note: bathbook',
      'wash 6 model 2',
      'mask',
    ]);
  });
});
