import type { CommandDefinition } from './definition.ts';

/** What the ledger has on record. */
export const RECORD_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'report',
    group: 'records',
    summary: 'the nightly page: the baths, what is due, what happened',
    args: '[ledger...]',
    writes: false,
    examples: [
      ['bathbook report', 'since the last report, or the last 24 hours'],
      ['bathbook report --from 2026-11-01 --out november.md', 'the month so far, as Markdown in a file'],
      ['bathbook report --out tonight.html', 'a page with charts, for a browser or the wall'],
      ['bathbook report north.yaml south.yaml', 'several shops, all of them in one table first'],
      ['bathbook report --from "last monday" --json', 'for a program'],
    ],
    options: [
      { flags: '--from TIME', about: 'after it (default: the last report that was printed or written)' },
      { flags: '--to TIME', about: 'up to it (default: now)' },
      {
        flags: '--format NAME',
        about:
          'how it is written (default: by the ending of the file, .md, .html or .json, else text); html is one page with charts',
        choices: ['text', 'markdown', 'html', 'json'],
      },
      { flags: '--out FILE', about: 'write to a file, whole or not at all (default: print)' },
    ],
    notes:
      'Without --from and --to it goes on from the last report that went to the same file, pipe or mail; a look on a terminal does not count as one. Entries logged afterwards, for an earlier time, are named and in no sum. Several ledgers: each goes on from its own last report, in the time of its shop; one that cannot be read hides none of the others, and the exit status is its own. Local rules decide about waste.',
    load: () => import('./report.ts'),
  },
];
