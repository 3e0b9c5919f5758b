import type { CommandDefinition } from './definition.ts';

/** What comes, and what is known of it. */
export const OUTLOOK_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'outlook',
    group: 'looking ahead',
    summary: 'loads and days left, the date, the solvent it takes',
    args: '',
    writes: false,
    examples: [
      ['bathbook outlook', 'at the pace of the last 28 days'],
      ['bathbook outlook --per-day 6 --parts 10', 'if it gets busier'],
      ['bathbook outlook --until "end of year"', 'changes, solvent, waste and money up to then'],
      ['bathbook outlook --chart', 'with a chart of both baths, off a terminal, too'],
    ],
    options: [
      { flags: '--per-day NUMBER', about: 'loads a day, on the weekdays the shop washes' },
      { flags: '--parts NUMBER', about: 'parts a load, of the same mix' },
      { flags: '--lead DAYS', about: 'from an order of solvent to its delivery (default: 7d)' },
      {
        flags: '--until DAY',
        about: 'go on to the end of a day: 2026-12-31, "end of month", "6 weeks", "in 3 months"',
      },
      { flags: '--chart', about: 'draw the chart off a terminal, too' },
      { flags: '--no-chart', about: 'leave the chart out' },
    ],
    notes:
      'Repeats loads like the last 20 at the pace of the last 28 days, weekday by weekday, until a bath meets its change limit. The baths lose solvent to the air as they stand, and nothing is topped up. With --until the baths are changed as often as a limit is met: resin by rotating, water by refilling, age not at all. A bath below nine tenths of its mark in the morning is topped up to it.',
    load: () => import('./outlook.ts'),
  },
  {
    name: 'due',
    group: 'looking ahead',
    summary: 'for cron: prints only what is due',
    args: '[ledger...]',
    writes: false,
    examples: [
      ['bathbook due', 'a line for each thing that is due, nothing when none is'],
      ['bathbook due --within 5d --once-a-day', 'limits met within five days, each told once a day'],
      ['bathbook due north.yaml south.yaml', 'several shops in one list'],
    ],
    options: [
      { flags: '--within DAYS', about: 'how far to look ahead (default: 3d)' },
      { flags: '--stale DAYS', about: 'working days without an entry that are worth a word (default: 5d)' },
      { flags: '--reading DAYS', about: 'days after which a shop that measures should again (default: 28d)' },
      { flags: '--lead DAYS', about: 'from an order of solvent to its delivery (default: 7d)' },
      { flags: '--once-a-day', about: 'leave out what was told today already' },
    ],
    notes:
      'Exit status: 0 nothing is due, 1 soon, 2 change or stop, 3 could not judge. With --once-a-day the status stays what it is, told or not. Several ledgers: the highest of theirs; 3 when one could not be read or judged.',
    load: () => import('./due.ts'),
  },
  {
    name: 'calibrate',
    group: 'looking ahead',
    summary: 'what readings have taught, and what to measure next',
    args: '[instruments...]',
    writes: false,
    examples: [
      ['bathbook calibrate', 'each factor with its band, and what each measurement would tell'],
      ['bathbook calibrate balance hydrometer', 'what to do with these two, step by step'],
    ],
    options: [],
    notes:
      'Instruments are balance, refractometer, hydrometer and measure (marks on the tub or a ruler). The share by which a measurement would narrow the band is computed from what is known now, before it is made.',
    load: () => import('./calibrate.ts'),
  },
];
