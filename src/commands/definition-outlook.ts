import type { CommandDefinition } from './definition.ts';

/** What comes, and what is known of it. */
export const OUTLOOK_COMMANDS: readonly CommandDefinition[] = [
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
