/** The manual as a man page, in the man(7) macros, which every formatter knows. */
import type { Definitions } from './help.ts';
import { ABOUT, notesOf, rowsOf, STANDING } from './help.ts';
import { CAUTIONS, ENVIRONMENT, EXITS, FILES } from './manual.ts';
import { wrap } from './wrap.ts';

type Command = Definitions['commands'][number];
type Row = readonly [string, string];

const LONGEST_LINE = 78;

export function manPage(all: Definitions, version: string): string {
  const { commands, groups } = all;
  const ofGroups = groups.flatMap((group) => commands.filter((one) => one.group === group));
  return [
    `.TH BATHBOOK 1 "" "bathbook ${version}" "User Commands"`,
    '.SH NAME',
    filled(`bathbook - ${ABOUT}`),
    '.SH SYNOPSIS',
    '.B bathbook',
    '.RI [ options ]',
    '.I command',
    '.RI [ arguments ]',
    '.SH COMMANDS',
    ...ofGroups.flatMap(commandOf),
    '.SH OPTIONS',
    'Everywhere, before or after the command:',
    ...rowsOf([...all.globalOptions, ...STANDING]).flatMap(item),
    '.PP',
    'Of every entry that is logged:',
    ...rowsOf(all.writeOptions).flatMap(item),
    '.SH EXIT STATUS',
    ...EXITS.flatMap(([code, about]) => item([String(code), about])),
    '.SH ENVIRONMENT',
    ...ENVIRONMENT.flatMap(item),
    '.SH FILES',
    ...FILES.flatMap(item),
    '.SH CAUTIONS',
    filled(CAUTIONS),
    '',
  ].join('\n');
}

function commandOf(command: Command): string[] {
  const { name, args, summary, examples, options, writes, notes } = command;
  return [
    `.SS ${text([name, args].filter(Boolean).join(' '))}`,
    filled(sentence(summary)),
    ...examples.flatMap(([typed, about]) => ['.PP', ...code(typed), '.RS 4', filled(sentence(about)), '.RE']),
    ...rowsOf(options).flatMap(item),
    ...(writes ? ['.PP', 'It also takes the options of every entry.'] : []),
    ...(notes
      ? notesOf(notes).flatMap((line) => ['.PP', ...(line.isCopied ? code(line.text) : [filled(line.text)])])
      : []),
  ];
}

/** A line as it is typed, never broken. */
function code(typed: string): string[] {
  return ['.nf', `\\fB${text(typed)}\\fR`, '.fi'];
}

function item([term, about]: Row): string[] {
  return ['.TP', `\\fB${text(term)}\\fR`, filled(about)];
}

function sentence(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

/** Signs that roff would take for its own, or typeset as others. */
const SIGNS: Readonly<Record<string, string>> = {
  '\\': '\\e',
  '-': '\\-',
  "'": '\\(aq',
  '"': '\\(dq',
  '`': '\\(ga',
  '^': '\\(ha',
  '~': '\\(ti',
};

function text(words: string): string {
  const signs = Array.from(words, (sign) => SIGNS[sign] ?? (sign > '~' ? beyond(sign) : sign));
  return signs.join('').replace(/^\./, '\\&.');
}

/** Text that fills paragraphs, in lines as short as formatters like to read them. */
function filled(words: string): string {
  return wrap(text(words), LONGEST_LINE).replaceAll(/^\./gm, '\\&.');
}

/** Beyond ASCII by number, so that the page reads the same whatever the locale. */
function beyond(sign: string): string {
  return `\\[u${sign.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`;
}
