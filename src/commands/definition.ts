/**
 * Every command, once: names, arguments, options and examples. Help, the table in the README, completion and
 * the checks of the arguments all come from here.
 */
import type { Context } from './context.ts';

export interface OptionDefinition {
  /** As typed, with the value's name: `--drained TIME`. */
  flags: string;
  about: string;
  /** May be given several times. */
  repeat?: true;
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
  /** More to know, below the options. */
  notes?: string;
  load: () => Promise<CommandModule>;
}

/** Values of options by their camel-case names, as commander gives them. */
export type Options = Record<string, string | boolean | string[] | undefined>;

export interface CommandModule {
  /** @returns the exit code */
  run(args: string[], options: Options, context: Context): Promise<number>;
}

export const GROUPS = ['each wash', 'the baths', 'corrections', 'records', 'bench help', 'set-up'] as const;
export type Group = (typeof GROUPS)[number];

export const GLOBAL_OPTIONS: readonly OptionDefinition[] = [
  {
    flags: '--ledger FILE',
    about: 'the ledger (else BATHBOOK_LEDGER, else bathbook.yaml here or above, else your data folder)',
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

const INTO: OptionDefinition = { flags: '--into CONTAINER', about: 'the waste container it goes to' };
const SOLVENT: OptionDefinition = {
  flags: '--solvent NAME',
  about: 'the solvent poured (default: the one last poured)',
};
const WHY: OptionDefinition = { flags: '--why TEXT', about: 'the reason, kept with the correction' };

export const COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'wash',
    group: 'each wash',
    summary: 'log a wash through both baths',
    args: '[load...]',
    writes: true,
    examples: [
      ['bathbook wash 6 model 2 mask', 'six models and two masks, with the usual habits of the shop'],
      ['bathbook wash 4 hollow-model --drained overnight', 'prints that hung overnight'],
      ['bathbook wash 3 splint --prerinse spray --minutes 4,5 --at "yesterday 17:30"', 'a forgotten wash'],
      ['bathbook wash --area 340 --in clean --minutes 2', 'by area, in the clean bath alone'],
    ],
    options: [
      { flags: '--resin NAME', about: 'the resin of the prints' },
      { flags: '--drained TIME', about: 'how long they drained: 30, "1.5 h", overnight (minutes)' },
      {
        flags: '--prerinse HOW',
        about: 'before the first bath',
        choices: ['none', 'spray', 'brush', 'spin'],
      },
      { flags: '--midrinse HOW', about: 'between the baths', choices: ['none', 'spray', 'brush'] },
      { flags: '--minutes LIST', about: 'soak in each bath, like 5,5' },
      {
        flags: '--agitation HOW',
        about: 'how the bath moved',
        choices: ['still', 'hand', 'stirred', 'ultrasonic'],
      },
      { flags: '--in BATHS', about: 'the baths, in order, like dirty,clean' },
      { flags: '--volume AMOUNT', about: 'volume of all parts (mL), instead of naming them' },
      { flags: '--area AMOUNT', about: 'surface of all parts (cm2), instead of naming them' },
      { flags: '--carry AMOUNT', about: 'resin carried in, if weighed: "6 g" or "5 mL" (g)' },
      { flags: '--drag LIST', about: 'liquid carried out of each bath, if measured (mL), like 9,9' },
      { flags: '--trapped AMOUNT', about: 'resin shut inside parts (g)' },
      { flags: '--hollow', about: 'all parts are hollow or cup-like' },
      { flags: '--case ID', about: 'a case in this load', repeat: true },
      { flags: '--lot LOT', about: 'lot of the resin' },
    ],
    notes: 'What you leave out comes from shop.defaults in the ledger. Several cases: repeat --case.',
    load: () => import('./wash.ts'),
  },
  {
    name: 'fill',
    group: 'the baths',
    summary: 'fill an empty bath with fresh solvent',
    args: '<bath> <amount...>',
    writes: true,
    examples: [
      ['bathbook fill dirty 4 L ipa99', 'four litres of the solvent named ipa99'],
      ['bathbook fill clean 1 gal ipa91', 'a US gallon, logged as 3785 mL'],
    ],
    options: [],
    load: () => import('./fill.ts'),
  },
  {
    name: 'top-up',
    group: 'the baths',
    summary: 'add solvent to a bath',
    args: '<bath> <amount...>',
    writes: true,
    examples: [
      ['bathbook top-up clean to mark', 'up to the mark with the solvent last poured'],
      ['bathbook top-up dirty 250 mL --from clean', 'a quarter of a litre out of the clean bath'],
    ],
    options: [
      SOLVENT,
      { flags: '--from WHERE', about: 'where it comes from (default: stock)', choices: ['stock', 'clean'] },
    ],
    notes: 'A top-up lowers the percentage of resin, not the grams.',
    load: () => import('./top-up.ts'),
  },
  {
    name: 'drain',
    group: 'the baths',
    summary: 'take liquid out of a bath, to waste',
    args: '<bath> <amount...>',
    writes: true,
    examples: [
      ['bathbook drain dirty all --into can-1', 'empty it into the container can-1'],
      ['bathbook drain clean 200 mL', 'a sample, or a spill that was wiped up'],
      ['bathbook drain dirty to mark', 'what stands above the mark'],
    ],
    options: [INTO],
    load: () => import('./drain.ts'),
  },
  {
    name: 'rotate',
    group: 'the baths',
    summary: 'dirty to waste, clean becomes dirty, clean filled fresh',
    args: '',
    writes: true,
    examples: [
      ['bathbook rotate --into can-1', 'with the solvent last poured; shows the waste and asks'],
      ['bathbook rotate --solvent ipa99 --ml "3.8 L" --yes', 'another volume, without asking'],
    ],
    options: [
      SOLVENT,
      { flags: '--ml AMOUNT', about: 'fresh solvent for the clean bath (mL; default: to its mark)' },
      INTO,
      { flags: '--yes', about: 'do not ask' },
    ],
    load: () => import('./rotate.ts'),
  },
  {
    name: 'refill',
    group: 'the baths',
    summary: 'drain one bath and fill it fresh',
    args: '<bath>',
    writes: true,
    examples: [['bathbook refill clean --solvent ipa99 --into can-1', 'to its mark']],
    options: [
      SOLVENT,
      { flags: '--ml AMOUNT', about: 'fresh solvent (mL; default: to the mark)' },
      INTO,
      { flags: '--yes', about: 'do not ask' },
    ],
    load: () => import('./refill.ts'),
  },
  {
    name: 'baths',
    group: 'the baths',
    summary: 'what is in each bath, the verdict, what to do',
    args: '',
    writes: false,
    examples: [
      ['bathbook baths', 'the pair at a glance'],
      ['bathbook baths --exit-code --quiet', 'only the exit code: 0 keep, 1 soon, 2 change or stop'],
      ['bathbook baths --as-of "last friday 17:00" --json', 'as it was, for a program'],
    ],
    options: [{ flags: '--exit-code', about: 'exit with 1 when a bath says soon, 2 when change or stop' }],
    load: () => import('./baths.ts'),
  },
  {
    name: 'undo',
    group: 'corrections',
    summary: 'take back the last entry, or the one named',
    args: '[id]',
    writes: true,
    examples: [
      ['bathbook undo', 'the entry typed last'],
      ['bathbook undo k3f9x --why "entered twice"', 'an older one; the line stays, with a void after it'],
    ],
    options: [WHY],
    notes:
      'The very last line is cut off and kept in a file beside the ledger; any other entry is voided, its line stays.',
    load: () => import('./undo.ts'),
  },
  {
    name: 'amend',
    group: 'corrections',
    summary: 'correct values of an entry',
    args: '<id> <changes...>',
    writes: true,
    examples: [
      ['bathbook amend k3f9x drained_min=45 --why "an hour less"', 'one value'],
      ['bathbook amend k3f9x parts="{model: 4, mask: 2}" at="yesterday 11:15" --why "mistyped"', 'several'],
    ],
    options: [WHY],
    notes:
      'Each change replaces the whole value of a key of the ledger line. The line itself stays as it was typed.',
    load: () => import('./amend.ts'),
  },
  {
    name: 'void',
    group: 'corrections',
    summary: 'make an entry count no longer',
    args: '<id>',
    writes: true,
    examples: [['bathbook void k3f9x --why "entered twice"', 'the line stays, and says so']],
    options: [WHY],
    notes: 'Voiding a void brings the entry back.',
    load: () => import('./void.ts'),
  },
  {
    name: 'entries',
    group: 'records',
    summary: 'the entries that count, filtered',
    args: '',
    writes: false,
    examples: [
      ['bathbook entries --last 10', 'the latest ten'],
      ['bathbook entries --case 26-0117 --states', 'the washes of one case, with the baths after each'],
      ['bathbook entries --from 2026-11-01 --what rotate --json', 'rotations of the month, for a program'],
    ],
    options: [
      { flags: '--states', about: 'both baths right after each entry' },
      { flags: '--last N', about: 'only the last N that match' },
      { flags: '--from TIME', about: 'at or after' },
      { flags: '--to TIME', about: 'before' },
      { flags: '--bath NAME', about: 'entries that touch this bath' },
      { flags: '--what KIND', about: 'entries of this kind' },
      { flags: '--case ID', about: 'entries with this case' },
      { flags: '--lot LOT', about: 'entries with this lot' },
      { flags: '--by WHO', about: 'entries by this person' },
    ],
    load: () => import('./entries.ts'),
  },
  {
    name: 'tables',
    group: 'bench help',
    summary: 'published isopropanol and water tables, a value looked up',
    args: '',
    writes: false,
    examples: [
      ['bathbook tables --wt 91', 'density, SG and refractive index of 91 wt%'],
      ['bathbook tables --density 0.811 --temp 22', 'the strength of a density at 22 °C'],
    ],
    options: [
      { flags: '--density VALUE', about: 'g/mL at the temperature' },
      { flags: '--sg VALUE', about: 'specific gravity on the scale of --ref' },
      {
        flags: '--ref SCALE',
        about: 'reference of the SG scale (default: 20/20)',
        choices: ['20/20', '25/25', '60/60F'],
      },
      { flags: '--index VALUE', about: 'refractive index n_D' },
      { flags: '--wt VALUE', about: 'strength in wt% IPA' },
      { flags: '--vol VALUE', about: 'strength in vol% IPA at 20 °C' },
      { flags: '--temp TEMPERATURE', about: '10 to 40 °C: 22, "72 F" (default: 20)' },
      {
        flags: '--glass TEMPERATURE',
        about: 'a glass hydrometer made for this temperature: correct for the glass',
      },
    ],
    load: () => import('./tables.ts'),
  },
  {
    name: 'strength',
    group: 'bench help',
    summary: 'fresh solvent: strength and grade of a reading, against its label',
    args: '',
    writes: false,
    examples: [
      ['bathbook strength --sg 0.7866 --temp 20 --label 99', 'is this really 99 wt%?'],
      ['bathbook strength --density 0.813 --temp "77 F" --label "91 vol%"', 'a 91 % bottle on a warm day'],
    ],
    options: [
      { flags: '--density VALUE', about: 'g/mL at the temperature' },
      { flags: '--sg VALUE', about: 'specific gravity on the scale of --ref' },
      {
        flags: '--ref SCALE',
        about: 'reference of the SG scale (default: 20/20)',
        choices: ['20/20', '25/25', '60/60F'],
      },
      { flags: '--index VALUE', about: 'refractive index n_D' },
      { flags: '--temp TEMPERATURE', about: '10 to 40 °C: 22, "72 F" (default: 20)' },
      {
        flags: '--glass TEMPERATURE',
        about: 'a glass hydrometer made for this temperature: correct for the glass',
      },
      { flags: '--label STRENGTH', about: 'what the label says: 99, "91 vol%" (wt%)' },
    ],
    notes: 'For fresh solvent only: resin in the liquid reads like water.',
    load: () => import('./strength.ts'),
  },
  {
    name: 'setup',
    group: 'set-up',
    summary: 'make a ledger for this shop',
    args: '',
    writes: false,
    examples: [
      ['bathbook setup', 'asks, on a terminal'],
      ['bathbook setup --name "My bench" --mark "4 L" --tub 260x180x50', 'without questions'],
    ],
    options: [
      { flags: '--here', about: 'in this folder, for work in this folder only' },
      { flags: '--name TEXT', about: 'name of the shop' },
      { flags: '--timezone ZONE', about: 'like America/Halifax (default: this computer’s)' },
      { flags: '--currency CODE', about: 'like CAD' },
      { flags: '--room TEMPERATURE', about: 'room temperature, 10 to 40 °C (default: 22)' },
      { flags: '--humidity PERCENT', about: 'relative humidity (default: 50)' },
      {
        flags: '--use WHAT',
        about: 'what the parts are for: sets the limits of the clean bath',
        choices: ['models', 'body-contact'],
      },
      { flags: '--mark AMOUNT', about: 'volume of each bath at its mark (mL; default: 4000)' },
      { flags: '--tub SIZE', about: 'length x width x freeboard above the mark, mm (default: 260x180x50)' },
      { flags: '--lid-open HOURS', about: 'hours a day the lids are off (default: 1)' },
    ],
    load: () => import('./setup.ts'),
  },
  {
    name: 'check',
    group: 'set-up',
    summary: 'look a ledger over; silent when it is fine',
    args: '[file...]',
    writes: false,
    examples: [
      ['bathbook check', 'the ledger of this shop'],
      ['bathbook check old.yaml new.yaml --strict', 'two files, with the stricter rules'],
    ],
    options: [{ flags: '--strict', about: 'also what a careful shop would want to know' }],
    load: () => import('./check.ts'),
  },
  {
    name: 'schema',
    group: 'set-up',
    summary: 'the JSON Schema of the ledger or of a document',
    args: '[name]',
    writes: false,
    examples: [
      ['bathbook schema', 'the names there are'],
      ['bathbook schema ledger', 'for an editor that checks YAML'],
    ],
    options: [],
    load: () => import('./schema.ts'),
  },
  {
    name: 'demo',
    group: 'set-up',
    summary: 'a sample shop to look at and play with',
    args: '[folder]',
    writes: false,
    examples: [['bathbook demo', 'makes the sample in a new folder and shows its baths']],
    options: [],
    load: () => import('./demo.ts'),
  },
];
