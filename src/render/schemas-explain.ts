/** The document of `explain`: numbers with their formulas, or without one the list of topics. */
import {
  listOf,
  NUMBER,
  object,
  oneOf,
  orNull,
  QUANTITY,
  type Schema,
  TEXT,
  TIME,
  WHOLE,
} from './schema-parts.ts';

const TERM = object({
  symbol: TEXT,
  value: NUMBER,
  unit: TEXT,
  about: TEXT,
  basis: oneOf('worked out', 'default', 'catalogue', 'ledger', 'logged', 'readings', 'measured'),
});

const EQUATION = object({
  about: TEXT,
  symbol: TEXT,
  formula: { ...TEXT, description: 'with names; × − / ^, sqrt, exp, min, max' },
  numbers: { ...TEXT, description: 'with numbers, to the digits that the result needs' },
  value: { ...NUMBER, description: 'as the program works with it' },
  result: { ...TEXT, description: 'as shown' },
  unit: TEXT,
  terms: listOf(TERM),
  sources: { ...listOf(TEXT), description: 'ids of data/SOURCES.md' },
});

const EXPLAINED = object({
  topic: TEXT,
  of: { ...orNull(TEXT), description: 'a bath, the id of a wash, or a solvent' },
  at: TIME,
  title: TEXT,
  equations: listOf(EQUATION),
  known: listOf(
    object({
      about: TEXT,
      unit: TEXT,
      now: QUANTITY,
      'at_first?': { ...QUANTITY, description: 'of a factor, before any reading' },
      'readings?': { ...WHOLE, description: 'that moved it' },
    }),
  ),
  remarks: listOf(TEXT),
});

export const EXPLAIN: Schema = {
  oneOf: [
    object({ explained: listOf(EXPLAINED) }),
    object({
      topics: listOf(
        object({
          name: TEXT,
          about: TEXT,
          of: oneOf('bath', 'wash', 'solvent', 'shop'),
          also: listOf(TEXT),
        }),
      ),
    }),
  ],
};
