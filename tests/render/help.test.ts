/** Help in windows of every width: whole words, whole commands, and no line that a terminal would cut. */
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/definition.ts';
import { DEFINITIONS } from '../../src/commands/help.ts';
import { commandHelp, programHelp } from '../../src/render/help.ts';

const WIDTHS = [60, 72, 80, 200];
/** With its indent, what a window of 60 columns shows on one line. */
const LONGEST_EXAMPLE = 58;

/** Lines between the notes, which are to be copied. */
const TO_COPY = COMMANDS.flatMap(({ notes = '' }) =>
  notes.split('\n').filter((line) => /^ {2}\S/.test(line)),
);

const words = (text: string) => text.trim().split(/\s+/);

/** Every page of help, by what it is of. */
const PAGES: [string, (width: number) => string][] = [
  ['bathbook', (width) => programHelp(DEFINITIONS, width)],
  ...COMMANDS.map((command): [string, (width: number) => string] => [
    command.name,
    (width) => commandHelp(command, DEFINITIONS, width),
  ]),
];

describe.each(PAGES)('the help of %s', (_, page) => {
  it.each(WIDTHS)('has no line wider than a window of %d columns but one to be copied', (width) => {
    const wide = page(width)
      .split('\n')
      .filter((line) => line.length > width && !TO_COPY.includes(line));
    expect(wide).toEqual([]);
  });

  it.each(WIDTHS)('says in %d columns, word by word, what it says on one line', (width) => {
    expect(words(page(width))).toEqual(words(page(100_000)));
  });
});

describe.each(COMMANDS.map((command) => [command.name, command] as const))('the help of %s', (_, command) => {
  it('shows examples that can be copied in 60 columns', () => {
    const lines = commandHelp(command, DEFINITIONS, 60).split('\n');
    for (const [typed] of command.examples) {
      expect(lines).toContain(`  ${typed}`);
      expect(typed.length).toBeLessThanOrEqual(LONGEST_EXAMPLE);
    }
  });

  it('breaks no value in quotes', () => {
    const texts = [command.notes ?? '', ...command.options.map(({ about }) => about)];
    const quoted = texts.flatMap((text) => text.match(/"[^"]*"/g) ?? []);
    const lines = commandHelp(command, DEFINITIONS, 60).split('\n');
    for (const value of quoted) expect(lines.some((line) => line.includes(value))).toBe(true);
  });
});

it('goes on with a long usage line below itself', () => {
  const waste = COMMANDS.find(({ name }) => name === 'waste')!;
  expect(commandHelp(waste, DEFINITIONS, 60)).toContain(
    '\nUsage: bathbook waste [action] [container] [amount...]\n  [options]\n',
  );
});
