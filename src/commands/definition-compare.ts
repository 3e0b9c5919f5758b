import type { CommandDefinition } from './definition.ts';

/** What other habits would cost. */
export const COMPARE_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'compare',
    group: 'looking ahead',
    summary: 'what a year would cost under other habits',
    args: '',
    writes: false,
    examples: [
      ['bathbook compare', 'other limits, baths, sizes, draining, rinsing, lids, side by side'],
      ['bathbook compare --risk 2% --disposal 3', 'the best limit for a smaller risk, waste paid for'],
    ],
    options: [
      { flags: '--risk PERCENT', about: 'most of the loads that may be washed past a limit (default: 5)' },
      { flags: '--disposal MONEY', about: 'for a litre of waste taken away (default: 0)' },
      { flags: '--per-change MONEY', about: 'for the work of one change (default: 0)' },
      { flags: '--per-day NUMBER', about: 'loads a day, on the weekdays the shop washes' },
      { flags: '--draws NUMBER', about: 'worlds to draw; more are slower and smoother (default: 200)' },
      { flags: '--seed NUMBER', about: 'another seed draws other worlds (default: 1)' },
    ],
    notes:
      'Every habit washes the same loads in the same drawn worlds, and differs from what the shop does now in one thing. Ctrl-C prints what is done. The same ledger and seed give the same figures.',
    load: () => import('./compare.ts'),
  },
];
