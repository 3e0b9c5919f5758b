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
    ],
    options: [
      { flags: '--per-day NUMBER', about: 'loads a day, on the weekdays the shop washes' },
      { flags: '--parts NUMBER', about: 'parts a load, of the same mix' },
    ],
    notes:
      'Repeats loads like the last 20 at the pace of the last 28 days, weekday by weekday, until a bath meets its change limit. The baths lose solvent to the air as they stand, and nothing is topped up.',
    load: () => import('./outlook.ts'),
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
