import type { CommandDefinition } from './definition.ts';

/** Solvent on hand, waste, and the look of the parts. */
export const STOCK_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'inspect',
    group: 'each wash',
    summary: 'log the look of washed parts; without a result, looks against the baths',
    args: '[result] [wash]',
    writes: true,
    examples: [
      ['bathbook inspect ok', 'the parts of the last wash'],
      ['bathbook inspect sticky --parts 2 --at 16:50', 'two of them; likely causes are told'],
      ['bathbook inspect cloudy k3f9x', 'the wash with this id'],
      ['bathbook inspect ok --case 26-0117', 'the last wash that names this case'],
      ['bathbook inspect', 'all looks beside the baths of their washes, and the level at which half fail'],
    ],
    options: [
      { flags: '--wash ID', about: 'the wash, by its id; last: the last one (default); none: of no wash' },
      { flags: '--case NUMBER', about: 'the last wash that names this case' },
      { flags: '--parts COUNT', about: 'how many looked so: 2, or "2 mask" of several kinds' },
      { flags: '--last NUMBER', about: 'without a result: only so many of the latest looks' },
    ],
    notes:
      'Results: ok, sticky, cloudy, soft, cracked, residue. A look says nothing of what cannot be seen: whether a part is clean or fit for use is for the resin’s instructions for use and your own tests. Causes are ranked from what was logged, and are no diagnosis.',
    load: () => import('./inspect.ts'),
  },
  {
    name: 'stock',
    group: 'records',
    summary: 'solvent on hand by lot, and what a wash costs; log a delivery or a count',
    args: '[action] [words...]',
    writes: true,
    examples: [
      ['bathbook stock', 'received, used, on hand, price, how long it lasts'],
      ['bathbook stock received ipa99 10 L --lot K-2291 --price 74', 'a delivery'],
      ['bathbook stock counted ipa99 7.5 L', 'what stands on the shelf now'],
      ['bathbook stock counted reclaimed 2 L --tested', 'the peroxide test of what stands there, done'],
    ],
    options: [
      { flags: '--lot NUMBER', about: 'of a delivery, from its label' },
      { flags: '--price AMOUNT', about: 'of a delivery: all of it, 74; or a litre, 7.40/L' },
      { flags: '--supplier TEXT', about: 'of a delivery: a note on where it came from' },
      { flags: '--tested', about: 'of a count of reclaimed solvent: test strips found no peroxides in it' },
    ],
    notes:
      'A count sets what is on hand, of all lots together; deliveries and reclaimed solvent add, and what is poured into a bath is taken off. A bare amount is in mL. With --tested the note of the count begins with "peroxide test: none found", and the next test of reclaimed solvent is reminded of six months later; a strip that shows peroxides is nothing to log here: leave the bottle closed and ask those who collect your waste.',
    load: () => import('./stock.ts'),
  },
  {
    name: 'waste',
    group: 'records',
    summary: 'waste containers, this month’s kilograms, thresholds; log one, or print its label',
    args: '[action] [container] [amount...]',
    writes: true,
    examples: [
      ['bathbook waste', 'what stands where, for how long, and the thresholds of published rules'],
      ['bathbook waste opened can-2 10 L', 'a container is put in use, and how much it takes'],
      ['bathbook waste collected can-1', 'taken away; emptied: into another one, or handed in'],
      ['bathbook waste emptied can-1 3 L', 'a part of it'],
      ['bathbook waste label can-1', 'the text of a label'],
    ],
    options: [{ flags: '--all', about: 'without an action: closed containers of earlier months as well' }],
    notes:
      'Liquid goes into a container with --into of rotate, refill and drain. Spent solvent is ignitable waste: closed and labelled, never down the drain, never left to evaporate. Thresholds are those of US federal rules and of the state of Washington, as printed, and are no legal advice; local rules decide, ask your local authority.',
    load: () => import('./waste.ts'),
  },
  {
    name: 'reclaim',
    group: 'records',
    summary: 'spent solvent, settled or distilled, back as a solvent for the dirty bath',
    args: '<container> <amount...>',
    writes: true,
    examples: [
      [
        'bathbook reclaim can-1 3 L --method settled --as reclaimed',
        'the clear part of what stood and settled',
      ],
    ],
    options: [
      { flags: '--method HOW', about: 'how it was cleaned', choices: ['settled', 'distilled'] },
      { flags: '--as SOLVENT', about: 'the solvent it becomes, one of your own in the head of the ledger' },
    ],
    notes:
      'For the dirty bath only. Residue stays in it, about 0.5 wt% (0.1 to 2, a guess), and so does the water. Test for peroxides before distilling and after months on a shelf; never distil to dryness; no source of ignition. Whether you may reclaim is for local rules to say.',
    load: () => import('./reclaim.ts'),
  },
];
