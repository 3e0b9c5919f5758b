import type { CommandDefinition, OptionDefinition } from './definition.ts';

const INTO: OptionDefinition = { flags: '--into CONTAINER', about: 'the waste container it goes to' };
const SOLVENT: OptionDefinition = {
  flags: '--solvent NAME',
  about: 'the solvent poured (default: the one last poured)',
};

/** What is logged every day, and the state of the baths. */
export const BATH_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'wash',
    group: 'each wash',
    summary: 'log a wash through both baths',
    args: '[load...]',
    writes: true,
    examples: [
      ['bathbook wash 6 model 2 mask', 'six models and two masks, with the usual habits of the shop'],
      ['bathbook wash 4 hollow-model --drained overnight', 'prints that hung overnight'],
      ['bathbook wash 2 mask --minutes 4,5 --at "yesterday 17:30"', 'a forgotten wash'],
      ['bathbook wash --again', 'as the last wash; what you add is taken in its place'],
      ['bathbook wash --about 5 --since monday', 'about five that were not logged, as estimates'],
      ['bathbook wash --area 340 --in clean --minutes 2', 'by area, in the clean bath alone'],
      ['bathbook wash --mesh 6 arch.stl 2 die.3mf', 'measured from the files that were printed'],
      ['bathbook wash 6 model --timed --dry-run', 'the steps that --timed leads through, with timers'],
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
      {
        flags: '--mesh FILE...',
        about: 'measure STL or 3MF files instead of naming parts; a count goes before its file',
      },
      {
        flags: '--mesh-unit UNIT',
        about: 'unit of STL files (default: mm)',
        choices: ['mm', 'cm', 'm', 'inch', 'foot', 'micron'],
      },
      { flags: '--as-part NAME', about: 'with --mesh: also show the line that makes a named part of it' },
      { flags: '--carry AMOUNT', about: 'resin carried in, if weighed: "6 g" or "5 mL" (g)' },
      { flags: '--drag LIST', about: 'liquid carried out of each bath, if measured (mL), like 9,9' },
      { flags: '--trapped AMOUNT', about: 'resin shut inside parts (g)' },
      { flags: '--hollow', about: 'all parts are hollow or cup-like' },
      { flags: '--case ID', about: 'a case in this load', repeat: true },
      { flags: '--lot LOT', about: 'lot of the resin' },
      { flags: '--again', about: 'as the last wash: its load and habits, but for what you type' },
      {
        flags: '--lines FILE',
        about: 'one wash a line, like: 17:30 6 model 2 mask --case 26-0412 (- is standard input)',
      },
      { flags: '--about NUMBER', about: 'washes that were not logged, from memory; marked as estimated' },
      { flags: '--since TIME', about: 'with --about: since when' },
      { flags: '--until TIME', about: 'with --about: up to when (default: now)' },
      { flags: '--timed', about: 'run the timers of each bath and of drying, then log the minutes it took' },
      { flags: '--line-mode', about: 'with --timed: plain lines instead of a screen, as for screen readers' },
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
      ['bathbook fill clean 1 gal ipa99', 'a US gallon, logged as 3785 mL'],
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
      [
        'bathbook rotate --into can-1',
        'with the solvent last poured; on a terminal shows the waste and asks',
      ],
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
    args: '[ledger...]',
    writes: false,
    examples: [
      ['bathbook baths', 'the pair at a glance'],
      [
        'bathbook baths --exit-code --quiet',
        'only the exit code: 0 keep, 1 soon, 2 change or stop, 3 could not judge',
      ],
      ['bathbook baths --as-of "last friday 17:00" --json', 'as it was, for a program'],
      ['bathbook baths north.yaml south.yaml', 'several shops in one table'],
    ],
    options: [
      {
        flags: '--exit-code',
        about: 'exit with 1 when a bath says soon, 2 when change or stop, 3 when it could not be judged',
      },
    ],
    notes:
      'Several ledgers: each is shown in the time of its own shop, and one that cannot be read hides none of the others. With --exit-code the status is then the highest of theirs; 3 when one could not be read or judged.',
    load: () => import('./baths.ts'),
  },
];
