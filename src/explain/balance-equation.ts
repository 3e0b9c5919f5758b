/** The grams in a bath, added up since its liquid was last changed. */
import type { Balance, BathHistory, Substance } from './balance.ts';
import { type Equation, equation } from './equation.ts';
import type { Seen } from './seen.ts';
import { term } from './terms.ts';

const SYMBOL: Record<Substance, string> = { resin: 'm_r', ipa: 'm_a', water: 'm_w' };
const WORDS: Record<Substance, string> = { resin: 'resin', ipa: 'IPA', water: 'water' };

const CHANGE_WORDS: Readonly<Record<string, string>> = {
  fill: 'filling',
  refill: 'refilling',
  rotate: 'rotation',
};

/** How the grams came together since the liquid was last changed; what was nothing is left out. */
export function balanceEquation({ status, histories }: Seen, place: number, substance: Substance): Equation {
  const { resinG, ipaG, waterG } = status.estimates[place]!;
  const value = { resin: resinG, ipa: ipaG, water: waterG }[substance].p50;
  const history = histories[place]!;
  const rows = rowsOf(history, substance).filter(([, grams], nth) => nth === 0 || grams !== 0);
  return equation({
    about: `${WORDS[substance]} in the bath`,
    symbol: SYMBOL[substance],
    formula: rows.map(([symbol, , , sign], nth) => (nth === 0 ? symbol : `${sign} ${symbol}`)).join(' '),
    value,
    unit: 'g',
    terms: rows.map(([symbol, grams, about, sign]) =>
      term(symbol, sign === '−' ? -grams : grams, 'g', about, 'worked out'),
    ),
    sources: [],
  });
}

type Row = readonly [symbol: string, grams: number, about: string, sign: '+' | '−'];

function rowsOf({ balance, loads, changed }: BathHistory, substance: Substance): Row[] {
  const { start, dissolved, film, out, moved, air, readings }: Balance = balance[substance];
  const what = WORDS[substance];
  const signed = (symbol: string, grams: number, about: string): Row => [
    symbol,
    grams,
    about,
    grams < 0 ? '−' : '+',
  ];
  return [
    [
      'g_start',
      start,
      `${what} in it right after the last ${CHANGE_WORDS[changed?.what ?? ''] ?? 'change'}`,
      '+',
    ],
    ['g_loads', dissolved, `dissolved off ${loads} load${loads === 1 ? '' : 's'}`, '+'],
    ['g_film', film, `came in on their film from the bath before`, '+'],
    ['g_out', out, `went out on them`, '−'],
    signed('g_moved', moved, moved < 0 ? 'drained or moved out' : 'topped up or moved in'),
    signed('g_air', air, air < 0 ? 'left into the air' : 'came out of the air'),
    signed('g_read', readings, `what readings made of it, ${readings < 0 ? 'less' : 'more'} than replayed`),
  ];
}
