/** Help, made from the definitions of the commands: what to type first, then what there is. */

import type { CommandDefinition, OptionDefinition } from '../commands/definition.ts';
import { capital } from './format.ts';
import { wrap, wrapWhole } from './wrap.ts';

export interface Definitions {
  commands: readonly CommandDefinition[];
  groups: readonly string[];
  globalOptions: readonly OptionDefinition[];
  writeOptions: readonly OptionDefinition[];
}

const FIRST = [
  ['bathbook demo', 'a sample shop to look at and play with'],
  ['bathbook setup', 'make a ledger for your shop'],
  ['bathbook wash 6 model 2 mask', 'log a wash'],
  ['bathbook baths', 'both baths, the verdict, what to do'],
] as const;

/** What the program is for. */
export const ABOUT =
  'what is in the two isopropyl alcohol baths of a resin-printing bench, wash by wash, and when to change them';

/** Options that every command takes and that are no part of its own definition. */
export const STANDING: readonly OptionDefinition[] = [
  { flags: '--help', about: 'this help' },
  { flags: '--version', about: 'the version' },
];

/** What one types as it stands: in quotes, or after "like:", or a command. */
const TYPED = /"[^"]+"|(?<=like: )[^(]*[^( ]|(?<=: )bathbook [^;,]+/g;

/** How a line of notes begins that is to be copied. */
const COPIED = '  ';

/** Notes as they are read, and what stands between them to be copied, in their order. */
export function notesOf(text: string): { isCopied: boolean; text: string }[] {
  return text.split('\n').map((line) => ({ isCopied: line.startsWith(COPIED), text: line.trim() }));
}

/** The help of the program: first steps, then the commands by group. */
export function programHelp({ commands, groups, globalOptions }: Definitions, width: number): string {
  const sections = groups.flatMap((group) => {
    const rows = commands
      .filter((one) => one.group === group)
      .map(({ name, summary }) => [name, summary] as const);
    return rows.length > 0 ? [section(capital(group), rows, width)] : [];
  });
  return [
    wrap(`bathbook: ${ABOUT}`, width),
    section('First', FIRST, width),
    ...sections,
    section('Everywhere, before or after the command', rowsOf([...globalOptions, ...STANDING]), width),
    'More on a command, examples first: bathbook wash --help',
  ].join('\n\n');
}

/** The help of a command: examples first. */
export function commandHelp(command: CommandDefinition, all: Definitions, width: number): string {
  const options = rowsOf(command.options);
  const everywhere = rowsOf([...all.globalOptions, ...STANDING]);
  return [
    wrap(`bathbook ${command.name}: ${command.summary}`, width),
    examples(command, width),
    wrap(
      `Usage: bathbook ${[command.name, command.args].filter(Boolean).join(' ')} [options]`,
      width - 2,
      '  ',
    ),
    ...(options.length > 0 ? [section('Options', options, width)] : []),
    ...(command.writes ? [section('Of every entry', rowsOf(all.writeOptions), width)] : []),
    section('Everywhere', everywhere, width),
    ...(command.notes ? [notes(command.notes, width)] : []),
  ].join('\n\n');
}

function notes(text: string, width: number): string {
  return notesOf(text)
    .map((line) => (line.isCopied ? `${COPIED}${line.text}` : wrapWhole(line.text, TYPED, width)))
    .join('\n');
}

function examples({ examples: list }: CommandDefinition, width: number): string {
  return list
    .map(([typed, about]) => `  ${typed}\n${wrapWhole(about, TYPED, width - 6).replaceAll(/^/gm, '      ')}`)
    .join('\n');
}

type Row = readonly [string, string];

export function rowsOf(options: readonly OptionDefinition[]): Row[] {
  return options.map(({ flags, about, choices, repeat }) => [
    flags,
    `${about}${choices ? `: ${choices.join(', ')}` : ''}${repeat ? '; may be repeated' : ''}`,
  ]);
}

/** Two columns under a title; the second is wrapped in its own column. */
function section(title: string, rows: readonly Row[], width: number): string {
  const left = Math.max(...rows.map(([term]) => term.length)) + 4;
  const lines = rows.map(([term, about]) => {
    const [first = '', ...more] = wrapWhole(about, TYPED, width - left).split('\n');
    return [`  ${term.padEnd(left - 2)}${first}`, ...more.map((line) => ' '.repeat(left) + line)].join('\n');
  });
  return [title, ...lines].join('\n');
}
