import type { CommandDefinition } from './definition.ts';

/** The ledger for other programs, and back. */
export const EXCHANGE_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'export',
    group: 'records',
    summary: 'events, states, washes, days to come or metrics, for other programs',
    args: '<format>',
    writes: false,
    examples: [
      ['bathbook export csv --out events.csv', 'every event as it stands in the ledger, for a spreadsheet'],
      [
        'bathbook export csv --what washes --case 26-0117 --bands',
        'the record of a wash for an audit: who, when, the baths before and after, the result',
      ],
      ['bathbook export html --case 26-0117 --out record.html', 'the same on a sheet to print and sign'],
      ['bathbook export csv --what states --from 2026-11-01', 'both baths after each event of the month'],
      ['bathbook export ndjson --out events.ndjson', 'to join with another copy of the ledger, by import'],
      ['bathbook export ics --out baths.ics', 'the change, the order, age limits, the next reading'],
      ['bathbook export prometheus --out bathbook.prom --quiet', 'for a collector of text files, from cron'],
    ],
    options: [
      {
        flags: '--what WHAT',
        about: 'of csv (default: events); html has washes alone',
        choices: ['events', 'states', 'washes'],
      },
      { flags: '--out FILE', about: 'write to a file, whole or not at all (default: print)' },
      { flags: '--from TIME', about: 'of csv, ndjson and html: at or after' },
      { flags: '--to TIME', about: 'of csv, ndjson and html: before' },
      { flags: '--case ID', about: 'of csv, ndjson and html: with this case' },
      { flags: '--lot LOT', about: 'of csv, ndjson and html: with this lot' },
      { flags: '--by NAME', about: 'of csv, ndjson and html: logged by' },
      { flags: '--bands', about: 'of states and washes: the 5 and 95 % points as well' },
      { flags: '--lead DAYS', about: 'of ics: from an order of solvent to its delivery (default: 7d)' },
      { flags: '--reading DAYS', about: 'of ics: from one reading to the next (default: 28d)' },
    ],
    notes:
      'Formats are csv, ndjson, html, ics, openmetrics and prometheus. Values are in base units whatever the display, times are RFC 3339. CSV is UTF-8 with commas; text that a spreadsheet would take for a formula has an apostrophe before it, which import takes off again. Events are exported as they were typed, with their corrections; states and washes have the corrections applied. html is one page that needs no network, a block for each wash that prints on one sheet of A4 or Letter, with its corrections, and a line to sign on. prometheus is openmetrics in the older text format, which knows no state sets and which most collectors of text files want. Import the calendar again after each export: every day has an identifier of its own and moves to its new place.',
    load: () => import('./export.ts'),
  },
  {
    name: 'import',
    group: 'records',
    summary: 'events from a csv or ndjson file, without doubles',
    args: '<file>',
    writes: false,
    examples: [
      ['bathbook import events.ndjson', "what another copy of the ledger has and this one hasn't"],
      [
        'bathbook import old.csv --map parts.model=Models --dry-run',
        "a shop's own table of washes: what it would add, and which lines it cannot take",
      ],
      [
        'bathbook import past.csv --map date=Day --date-style d/m/y',
        'the heading of its days, and how they are written; --map again for each column',
      ],
      ['bathbook import events.csv --dry-run', 'a table of this program that was edited elsewhere'],
    ],
    options: [
      {
        flags: '--map KEY=COLUMN',
        about:
          'the column that holds a key; date and time for two columns, parts.NAME for counts of one part',
        repeat: true,
      },
      { flags: '--set KEY=VALUE', about: 'for rows that have none, like resin=grey', repeat: true },
      { flags: '--ignore COLUMN', about: 'leave a column out', repeat: true },
      { flags: '--date-style STYLE', about: 'how dates are written', choices: ['d/m/y', 'm/d/y', 'iso'] },
      { flags: '--decimal SIGN', about: 'the sign before decimals', choices: ['point', 'comma'] },
      { flags: '--format NAME', about: 'csv or ndjson (default: by the file)', choices: ['csv', 'ndjson'] },
      { flags: '--dry-run', about: 'show what would be added and write nothing' },
    ],
    notes:
      'An event with an id is known by its id, one without by what it says: importing a file again adds nothing. What is added is written at once; lines that cannot be taken are told with their reason and the exit status is 65. A row without "what" is a wash, a day without a time of day is taken as its noon. Cells may hold units ("1,5 h"), headings too: "Drained (h)". Dates like 03/04/2026, and numbers like 1,500, are refused until you say how they are written. On a terminal it shows what it would add and asks. Use - for standard input.',
    load: () => import('./import.ts'),
  },
];
