import type { CommandDefinition, OptionDefinition } from './definition.ts';

/** What an instrument says of a liquid, for tables, strength and readings alike. */
export const INSTRUMENTS: readonly OptionDefinition[] = [
  { flags: '--density VALUE', about: 'g/mL at the temperature' },
  { flags: '--sg VALUE', about: 'specific gravity on the scale of --ref' },
  {
    flags: '--ref SCALE',
    about: 'reference of the SG scale (default: 20/20)',
    choices: ['20/20', '25/25', '60/60F'],
  },
  { flags: '--index VALUE', about: 'refractive index n_D' },
];

export const GLASS: OptionDefinition = {
  flags: '--glass TEMPERATURE',
  about: 'a glass hydrometer made for this temperature: correct for the glass',
};

const CONDITIONS: readonly OptionDefinition[] = [
  { flags: '--temp TEMPERATURE', about: '10 to 40 °C: 22, "72 F" (default: 20; with --sg, the scale’s)' },
  GLASS,
];

/** Tables, strengths, and what sets a shop up. */
export const BENCH_COMMANDS: readonly CommandDefinition[] = [
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
      ...INSTRUMENTS,
      { flags: '--wt VALUE', about: 'strength in wt% IPA' },
      { flags: '--vol VALUE', about: 'strength in vol% IPA at 20 °C' },
      ...CONDITIONS,
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
      ['bathbook strength --density 0.813 --temp 25 --label 91vol%', 'a 91 % bottle on a warm day'],
    ],
    options: [
      ...INSTRUMENTS,
      ...CONDITIONS,
      { flags: '--label STRENGTH', about: 'what the label says: 99, "91 vol%" (wt%)' },
    ],
    notes: 'For fresh solvent only: resin in the liquid reads like water.',
    load: () => import('./strength.ts'),
  },
  {
    name: 'explain',
    group: 'bench help',
    summary: 'any number on screen: its formula with the values of this shop',
    args: '[number...]',
    writes: false,
    examples: [
      ['bathbook explain', 'the numbers there are'],
      ['bathbook explain resin dirty', 'how the resin in the dirty bath came about'],
      ['bathbook explain carry', 'of the last wash; of another: bathbook explain carry k3f9x'],
      ['bathbook explain limits band', 'the verdict of the first bath, and the numbers in brackets'],
    ],
    options: [],
    notes:
      'A number may be followed by what it is of: a bath, the id of a wash, a solvent. Each formula is shown with names and then with numbers, to the digits that its result needs; below it what is default, set in the ledger, or moved by readings.',
    load: () => import('./explain.ts'),
  },
  {
    name: 'setup',
    group: 'set-up',
    summary: 'make a ledger for this shop',
    args: '',
    writes: false,
    examples: [
      ['bathbook setup', 'asks, on a terminal'],
      ['bathbook setup --name "My bench" --tub 260x180x50', 'without questions'],
      ['bathbook setup --baths 3', 'three baths in turn, usual values for the rest'],
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
      {
        flags: '--baths NUMBER',
        about: 'that a load goes through in turn (default: 2, dirty and clean)',
        choices: ['1', '2', '3'],
      },
      { flags: '--mark AMOUNT', about: 'volume of each bath at its mark (mL; default: 4000)' },
      { flags: '--tub SIZE', about: 'length x width x freeboard above the mark, mm (default: 260x180x50)' },
      { flags: '--lid-open HOURS', about: 'hours a day the lids are off (default: 1)' },
    ],
    notes:
      'An option given, or --no-input, and nothing is asked. A file that exists is never written over; leaving the questions with Ctrl-C makes none. One bath is named single, three are first, second and third.',
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
    name: 'doctor',
    group: 'set-up',
    summary: 'this installation and its ledger, for a report of a fault',
    args: '',
    writes: false,
    examples: [
      ['bathbook doctor', 'versions, which ledger and why, cache, lock, clock, terminal'],
      [
        'bathbook doctor --json',
        'for a program; exits with 65 when the ledger holds errors, 66 when there is none',
      ],
    ],
    options: [],
    notes:
      'It reads and never writes. It tells counts, dates and places, and nothing that was written into the ledger: no names, notes, cases or lots.',
    load: () => import('./doctor.ts'),
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
