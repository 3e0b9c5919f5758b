import type { CommandDefinition } from './definition.ts';

/** Vapour and fire at the bench. */
export const VAPOUR_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'vapour',
    group: 'bench help',
    summary: 'solvent vapour at the bench: fire, and what people may breathe',
    args: '',
    writes: false,
    examples: [
      [
        'bathbook vapour --room "4 x 3 x 2.5 m" --ach 2 --open 20',
        'the baths of the ledger in this room, lids off 20 minutes',
      ],
      [
        'bathbook vapour --air 35cfm --jurisdiction us-osha',
        'a fan of 35 cfm, and the limits of one authority',
      ],
      ['bathbook vapour --surface "252 cm2" --temp 22C --tubs 2', 'two tubs, without a ledger'],
    ],
    options: [
      { flags: '--room SIZE', about: 'volume: "30 m3", "1000 ft3", "4 x 3 x 2.5 m" (m3; default: 30)' },
      { flags: '--ach NUMBER', about: 'changes of the room’s air an hour (default: 2)' },
      { flags: '--air FLOW', about: 'fresh air instead: "60 m3/h", "35 cfm", "17 L/s" (m3/h)' },
      { flags: '--open TIME', about: 'how long the lids are off at a time (minutes; default: 10)' },
      { flags: '--mixing NUMBER', about: 'how well the air mixes at best, 0.1 to 0.5 (default: 0.5)' },
      { flags: '--near DISTANCE', about: 'also this far from the tubs, 0.2 to 3 m: "50 cm" (mm)' },
      {
        flags: '--jurisdiction NAME',
        about:
          'whose limits: us-osha, us-acgih, us-niosh, us-washington, canada-ontario, uk, germany, eu (default: all)',
      },
      { flags: '--temp TEMPERATURE', about: 'of the room, 10 to 40 °C (default: the ledger’s, else 22)' },
      { flags: '--surface AREA', about: 'without a ledger: open surface of one tub (cm2)' },
      { flags: '--freeboard LENGTH', about: 'with --surface: from the liquid to the rim (mm; default: 50)' },
      { flags: '--tubs NUMBER', about: 'with --surface: how many such tubs (default: 1)' },
    ],
    notes:
      'An estimate that can raise an alarm and never lift one: a badge or pump sample settles what people breathe. Local codes, the safety data sheet and licensed practice decide.',
    load: () => import('./vapour.ts'),
  },
];
