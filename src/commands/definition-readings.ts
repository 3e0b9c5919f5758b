import type { CommandDefinition } from './definition.ts';
import { GLASS, INSTRUMENTS } from './definition-bench.ts';

/** What is measured of a bath or of a load. */
export const READING_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'reading',
    group: 'each wash',
    summary: 'log what an instrument reads of a bath',
    args: '<bath>',
    writes: true,
    examples: [
      ['bathbook reading dirty --density 0.803 --temp 21', 'a hydrometer or density meter'],
      ['bathbook reading dirty --density 0.803 --brix 31 --temp 21', 'both of the same sample'],
      [
        'bathbook reading clean --sg 0.789 --ref 60/60F --temp 21',
        'an SG hydrometer, with the scale that is printed on it',
      ],
      ['bathbook reading dirty --dry "610 mg" --sample "10 mL"', 'what 10 mL leave when dry'],
      ['bathbook reading clean --level "3.9 L"', 'how much stands in the tub'],
    ],
    options: [
      ...INSTRUMENTS,
      { flags: '--brix VALUE', about: 'a sugar refractometer, °Brix' },
      { flags: '--dry AMOUNT', about: 'dry residue of a sample: "81 mg" (g); with --sample' },
      { flags: '--sample AMOUNT', about: 'the sample that was dried: 10 (mL)' },
      { flags: '--resin VALUE', about: 'wt% resin, known from elsewhere' },
      { flags: '--level AMOUNT', about: 'liquid in the tub: "3.9 L" (mL)' },
      { flags: '--weight AMOUNT', about: 'weight of the liquid alone, the tub taken off: "3100 g" (g)' },
      {
        flags: '--temp TEMPERATURE',
        about: 'of the liquid, 10 to 40 °C: 22, "72 F" (default: the room’s in the ledger)',
      },
      GLASS,
      {
        flags: '--sd VALUE',
        about: 'standard deviation of your instrument, in the unit of the reading; of a residue in wt%',
      },
    ],
    notes:
      'Several instruments in one command read the same sample; each becomes an entry. Stir first, and read at room temperature. Let a small sample dry under a fume hood, away from sparks and flames; what it leaves, and the dish, are waste like the bath.',
    load: () => import('./reading.ts'),
  },
  {
    name: 'weighed',
    group: 'each wash',
    summary: 'log a load weighed before its wash and again clean and dry',
    args: '[wash]',
    writes: true,
    examples: [
      ['bathbook weighed --wet 412.3 --clean 409.1', 'the load of the last wash'],
      ['bathbook weighed k3f9x --wet "412.3 g" --clean "409.1 g"', 'the wash with this id'],
    ],
    options: [
      { flags: '--wet AMOUNT', about: 'just before the first bath, after any pre-rinse (g)' },
      { flags: '--clean AMOUNT', about: 'washed and dry, before light-curing (g)' },
    ],
    notes: 'Weigh the same parts, on the same platform and with the same basket, both times.',
    load: () => import('./weighed.ts'),
  },
];
