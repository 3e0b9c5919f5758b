/**
 * A bench for tests of the belief: chance from a seed, and drafts replayed with all that is believed of them.
 */
import { openShop, type Shop } from '../../src/bath/shop.ts';
import { type Believed, believe } from '../../src/belief/believe.ts';
import type { Entry } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { type Draft, entriesOf, START_MS } from '../bath/bench.ts';

const MS_PER_HOUR = 3_600_000;

/** Numbers from 0 to 1, always the same from one seed (the 32-bit generator "mulberry32", public domain, from memory). */
function uniformFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Standard normal numbers (Box and Muller 1958). */
export function normalFrom(seed: number): () => number {
  const uniform = uniformFrom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

export function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

export function covarianceOf(one: readonly number[], other: readonly number[]): number {
  const [atOne, atOther] = [meanOf(one), meanOf(other)];
  return meanOf(one.map((value, place) => (value - atOne) * (other[place]! - atOther)));
}

export function sdOf(values: readonly number[]): number {
  return Math.sqrt(covarianceOf(values, values));
}

/** The value that a share of the sample lies below. */
export function sampleQuantile(sorted: ArrayLike<number>, share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

export interface Believing extends Believed {
  shop: Shop;
  entries: Entry[];
  clockMs: number;
}

/** As `run` of the bath bench, learning from readings; the clock stands at the last event unless `clockHour` says. */
export function believing(header: Header, drafts: readonly Draft[], clockHour?: number): Believing {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const lastMs = Math.max(START_MS, ...entries.map(({ atMs }) => atMs));
  const clockMs = clockHour === undefined ? lastMs : START_MS + clockHour * MS_PER_HOUR;
  return { shop, entries, clockMs, ...believe(shop, entries, clockMs) };
}
