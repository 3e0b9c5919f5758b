import type { CommandDefinition, OptionDefinition } from './definition.ts';

const WHY: OptionDefinition = { flags: '--why TEXT', about: 'the reason, kept with the correction' };

/** Corrections and the list of entries. */
export const ENTRY_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'undo',
    group: 'corrections',
    summary: 'take back the last entry, or those named',
    args: '[id...]',
    writes: true,
    examples: [
      ['bathbook undo', 'the entry typed last'],
      ['bathbook undo k3f9x --why "entered twice"', 'an older one; the line stays, with a void after it'],
      ['bathbook undo k3f9x wash5', 'several, all of them or none'],
    ],
    options: [WHY],
    notes:
      'The very last line is cut off and kept in a file beside the ledger; what to type to put it back is told. Any other entry is voided, and so is one undone with a reason or a note: its line stays. Several are voided together, all or none.',
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
      ['bathbook amend last parts="{model: 5}" --why "miscounted"', 'of the last entry'],
      ['bathbook amend last lot=R8 at="yesterday 11:15" --why typo', 'several'],
    ],
    options: [WHY],
    notes:
      'Each change replaces the whole value of a key of the ledger line. The line itself stays as it was typed. last stands for the last entry that counts, corrections aside.',
    load: () => import('./amend.ts'),
  },
  {
    name: 'void',
    group: 'corrections',
    summary: 'make an entry count no longer',
    args: '<id...>',
    writes: true,
    examples: [['bathbook void k3f9x --why "entered twice"', 'the line stays, and says so']],
    options: [WHY],
    notes: 'Voiding a void brings the entry back. last stands for the last entry that counts.',
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
];
