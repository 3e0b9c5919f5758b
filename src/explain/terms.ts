/** Terms and bands that several topics share. */
import { factorsKnown } from '../outlook/factors-known.ts';
import type { Basis, Equation, Known, Term } from './equation.ts';
import type { Seen } from './seen.ts';

/** A term that an equation above gave. */
export function from({ symbol, value, unit, about }: Equation, as = symbol): Term {
  return { symbol: as, value, unit, about, basis: 'worked out' };
}

export function term(symbol: string, value: number, unit: string, about: string, basis: Basis): Term {
  return { symbol, value, unit, about, basis };
}

const FACTOR_WORDS = {
  carry: 'carry-over',
  drag: 'drag-out',
  dissolution: 'dissolution time',
  evaporation: 'evaporation',
  moisture: 'moisture',
} as const;

export type Factor = keyof typeof FACTOR_WORDS;

/** What is known of a factor; without a band where the ledger switches it off. */
export function knownFactor(seen: Seen, factor: Factor, tub?: number): Known {
  const { status, shop } = seen;
  const words = FACTOR_WORDS[factor];
  const place = tub === undefined ? '' : `, ${shop.tubs[tub]!.name}`;
  const found = factorsKnown(status).find(({ name }) => name === `${words}${place}`);
  const about = tub === undefined ? `${words} factor` : `${words} factor of the ${shop.tubs[tub]!.name} bath`;
  if (!found) return { about, now: { p50: 0 }, unit: '' };
  return { about, now: found.now, unit: '', atFirst: found.prior, readings: found.readings };
}

/** A factor in an equation: moved by readings, set in the head of the ledger, or still the default. */
export function factorTerm(
  seen: Seen,
  given: { factor: Factor; symbol: string; value: number; tub?: number },
): Term {
  const { factor, symbol, value, tub } = given;
  const { about, readings = 0, atFirst } = knownFactor(seen, factor, tub);
  const moved = readings > 0 && value !== atFirst?.p50;
  return term(symbol, value, '', about, moved ? 'readings' : basisInHead(seen, factor, tub));
}

function basisInHead({ header, shop }: Seen, factor: Factor, tub: number | undefined): Basis {
  const own =
    factor === 'evaporation' || factor === 'moisture'
      ? header.baths[shop.tubs[tub!]!.name]![factor]
      : header.factors?.[factor];
  return own === undefined ? 'default' : 'ledger';
}

/** A value of the head where it gives one. */
export function headBasis(own: unknown): Basis {
  return own === undefined ? 'default' : 'ledger';
}

/** A value typed with the wash, else the shop's usual one, else the program's. */
export function washBasis(typed: unknown, usual: unknown): Basis {
  return typed === undefined ? headBasis(usual) : 'logged';
}

/** The room's temperature. */
export function roomTerm({ shop, header }: Seen): Term {
  return term('T', shop.roomC, '°C', 'room temperature', headBasis(header.shop.room_c));
}
