/**
 * Every command, once: names, arguments, options and examples. Help, the table in the README, completion and
 * the checks of the arguments all come from here.
 */
import type { Context } from './context.ts';
import { BATH_COMMANDS } from './definition-baths.ts';
import { BENCH_COMMANDS } from './definition-bench.ts';
import { COMPARE_COMMANDS } from './definition-compare.ts';
import { CRON_COMMANDS } from './definition-cron.ts';
import { ENTRY_COMMANDS } from './definition-entries.ts';
import { EXCHANGE_COMMANDS } from './definition-exchange.ts';
import { OUTLOOK_COMMANDS } from './definition-outlook.ts';
import { READING_COMMANDS } from './definition-readings.ts';
import { RECORD_COMMANDS } from './definition-records.ts';
import { SHELL_COMMANDS } from './definition-shell.ts';
import { STOCK_COMMANDS } from './definition-stock.ts';
import { VAPOUR_COMMANDS } from './definition-vapour.ts';

export interface OptionDefinition {
  /** As typed, with the value's name: `--drained TIME`. */
  flags: string;
  about: string;
  /** May be given several times. */
  repeat?: true;
  /** What to type instead of giving it twice; without it the last one counts. */
  once?: string;
  choices?: readonly string[];
}

export interface CommandDefinition {
  name: string;
  group: Group;
  summary: string;
  /** As commander writes them: `<bath> [amount...]`. */
  args: string;
  options: readonly OptionDefinition[];
  /** Shown first in the help: what to type, and what it does. */
  examples: readonly (readonly [string, string])[];
  /** Takes `--at`, `--by`, `--note` and `--dry-run`, and changes the ledger. */
  writes: boolean;
  /** More to know, below the options; a line that begins with two blanks is shown as it stands, to be copied. */
  notes?: string;
  load: () => Promise<CommandModule>;
}

/** Values of options by their camel-case names, as commander gives them. */
export type Options = Record<string, string | boolean | string[] | undefined>;

interface CommandModule {
  /** @returns the exit code */
  run(args: string[], options: Options, context: Context): Promise<number>;
}

export const GROUPS = [
  'each wash',
  'the baths',
  'looking ahead',
  'corrections',
  'records',
  'bench help',
  'set-up',
] as const;
type Group = (typeof GROUPS)[number];

export const GLOBAL_OPTIONS: readonly OptionDefinition[] = [
  {
    flags: '--ledger FILE',
    about: 'the ledger (else BATHBOOK_LEDGER, else bathbook.yaml here or above, else your data folder)',
    once: 'name one; baths, due and report take several as arguments: bathbook baths north.yaml south.yaml',
  },
  { flags: '--as-of TIME', about: 'work as if it were this time (default: now)' },
  { flags: '--json', about: 'print one JSON document' },
  { flags: '--quiet', about: 'print nothing but what was asked for: no notes, no echo' },
  { flags: '--color WHEN', about: 'colour (default: auto)', choices: ['auto', 'always', 'never'] },
  { flags: '--no-input', about: 'never ask' },
];

export const WRITE_OPTIONS: readonly OptionDefinition[] = [
  {
    flags: '--at TIME',
    about: 'when it happened: "17:30", "yesterday 17:30", 2026-11-20T17:30:00-04:00 (default: now)',
  },
  { flags: '--by WHO', about: 'initials of who did it (default: BATHBOOK_BY)' },
  { flags: '--note TEXT', about: 'a note kept with the entry' },
  { flags: '--dry-run', about: 'show what would be logged and write nothing' },
];

/** In the order of the help. */
export const COMMANDS: readonly CommandDefinition[] = [
  ...BATH_COMMANDS,
  ...READING_COMMANDS,
  ...OUTLOOK_COMMANDS,
  ...COMPARE_COMMANDS,
  ...RECORD_COMMANDS,
  ...STOCK_COMMANDS,
  ...ENTRY_COMMANDS,
  ...EXCHANGE_COMMANDS,
  ...BENCH_COMMANDS,
  ...VAPOUR_COMMANDS,
  ...CRON_COMMANDS,
  ...SHELL_COMMANDS,
];
