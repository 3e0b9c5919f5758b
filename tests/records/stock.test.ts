/** Solvent on hand: sums that can be done by hand, and that they hold for every history. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyHeader } from '../bath/arbitrary.ts';
import { type Draft, FILLED, headerOf } from '../bath/bench.ts';
import { anyHistory } from './arbitrary.ts';
import { at, ofSolvent, recordsOf } from './bench.ts';

const PRICED = headerOf(
  { dirty: {}, clean: {} },
  { solvents: { ipa99: { ipa_wt_pct: 99.5, price_per_l: 7.4 } } },
);

describe('stock', () => {
  it('is what came in less what was poured', () => {
    const { stock } = recordsOf([
      { what: 'stock', solvent: 'ipa99', received_ml: 20_000 },
      ...FILLED,
      { what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 250, hour: 5 },
      { what: 'stock', solvent: 'ipa99', received_ml: 5000, hour: 9 },
    ]);
    // 20 L − 4 L − 4 L − 0.25 L + 5 L.
    expect(ofSolvent(stock, 'ipa99')).toMatchObject({
      onHandMl: 16_750,
      belowZero: false,
      receivedMl: 25_000,
      usedMl: 8250,
    });
    expect(ofSolvent(stock, 'ipa99')).not.toHaveProperty('countedMs');
  });

  it('is set by a count, whatever the sum was, and goes on from there', () => {
    const { stock } = recordsOf([
      { what: 'stock', solvent: 'ipa99', received_ml: 20_000 },
      ...FILLED,
      { what: 'stock', solvent: 'ipa99', counted_ml: 9000, hour: 4 },
      { what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 400, hour: 5 },
    ]);
    expect(ofSolvent(stock, 'ipa99')).toMatchObject({ onHandMl: 8600, countedMs: at(4), receivedMl: 20_000 });
  });

  it('takes a count and a pour of the same minute in the order of the file', () => {
    const pour: Draft = { what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 400 };
    const count: Draft = { what: 'stock', solvent: 'ipa99', counted_ml: 9000 };
    const onHand = (drafts: Draft[]) => ofSolvent(recordsOf(drafts).stock, 'ipa99').onHandMl;
    expect(onHand([...FILLED, count, pour])).toBe(8600);
    expect(onHand([...FILLED, pour, count])).toBe(9000);
  });

  it('is not known before anything came in, and what was poured before does not count against it', () => {
    const drafts: Draft[] = [
      ...FILLED,
      { what: 'top-up', bath: 'dirty', solvent: 'ipa91', ml: 500, hour: 2 },
    ];
    const before = recordsOf(drafts).stock;
    expect(before.map(({ solvent, onHandMl }) => [solvent, onHandMl])).toEqual([
      ['ipa99', null],
      ['ipa91', null],
    ]);
    expect(ofSolvent(before, 'ipa99').usedMl).toBe(8000);
    expect(ofSolvent(before, 'ipa99').belowZero).toBe(false);
    const received: Draft = { what: 'stock', solvent: 'ipa99', received_ml: 10_000, hour: 3 };
    expect(ofSolvent(recordsOf([...drafts, received]).stock, 'ipa99').onHandMl).toBe(10_000);
  });

  it('below nothing is kept and flagged', () => {
    const { stock } = recordsOf([{ what: 'stock', solvent: 'ipa99', received_ml: 5000 }, ...FILLED]);
    expect(ofSolvent(stock, 'ipa99')).toMatchObject({ onHandMl: -3000, belowZero: true });
  });

  it('grows by reclaimed solvent, kept apart from what was received', () => {
    const { stock } = recordsOf([
      ...FILLED,
      { what: 'drain', bath: 'dirty', all: true, into: 'can-1', hour: 1 },
      { what: 'reclaim', container: 'can-1', ml: 3200, method: 'settled', solvent: 'ipa91', hour: 90 },
      { what: 'fill', bath: 'dirty', solvent: 'ipa91', ml: 2000, hour: 91 },
    ]);
    expect(ofSolvent(stock, 'ipa91')).toMatchObject({
      onHandMl: 1200,
      receivedMl: 0,
      reclaimedMl: 3200,
      lots: [],
    });
  });

  it('counts the last 28 days of use', () => {
    const drafts: Draft[] = [
      ...FILLED,
      { what: 'top-up', bath: 'clean', solvent: 'ipa99', ml: 100, hour: 1 },
    ];
    const used28 = (clockHour: number) => ofSolvent(recordsOf(drafts, { clockHour }).stock, 'ipa99').used28Ml;
    expect(used28(28 * 24 - 1)).toBe(8100);
    expect(used28(28 * 24)).toBe(100);
    expect(used28(28 * 24 + 1)).toBe(0);
  });

  it('lists the lots as they came in', () => {
    const { stock } = recordsOf([
      { what: 'stock', solvent: 'ipa99', received_ml: 5000, lot: 'K-1' },
      { what: 'stock', solvent: 'ipa99', received_ml: 2000, hour: 1 },
      { what: 'stock', solvent: 'ipa99', received_ml: 10_000, lot: 'K-2', hour: 2 },
      { what: 'stock', solvent: 'ipa99', received_ml: 5000, lot: 'K-1', hour: 3 },
    ]);
    expect(ofSolvent(stock, 'ipa99').lots).toEqual([
      { lot: 'K-1', receivedMl: 10_000, atMs: at(0) },
      { lot: null, receivedMl: 2000, atMs: at(1) },
      { lot: 'K-2', receivedMl: 10_000, atMs: at(2) },
    ]);
  });
});

describe('the price of a litre', () => {
  const price = (drafts: Draft[]) => {
    const { pricePerL, priceFrom } = ofSolvent(recordsOf(drafts, { header: PRICED }).stock, 'ipa99');
    return { pricePerL, priceFrom };
  };

  it('is that of the header until a receipt tells one, and then that of the latest which does', () => {
    expect(price([{ what: 'stock', solvent: 'ipa99', received_ml: 5000 }])).toEqual({
      pricePerL: 7.4,
      priceFrom: 'header',
    });
    // 60 for 10 L, 40 for 5 L.
    const dear: Draft[] = [
      { what: 'stock', solvent: 'ipa99', received_ml: 10_000, price: 60 },
      { what: 'stock', solvent: 'ipa99', received_ml: 5000, price: 40, hour: 1 },
      { what: 'stock', solvent: 'ipa99', received_ml: 5000, hour: 2 },
    ];
    expect(price(dear.slice(0, 1))).toEqual({ pricePerL: 6, priceFrom: 'received' });
    expect(price(dear)).toEqual({ pricePerL: 8, priceFrom: 'received' });
  });

  it('is not known where nobody named one', () => {
    const { stock } = recordsOf(FILLED);
    expect(ofSolvent(stock, 'ipa99')).toMatchObject({ pricePerL: null, priceFrom: null });
  });
});

describe('in every history', () => {
  it('stock is the last count, or nothing, and all that came in after it less all that was poured after it', () => {
    let known = 0;
    fc.assert(
      fc.property(anyHeader, anyHistory, (header, drafts) => {
        const { stock, entries, movements } = recordsOf(drafts, { header });
        for (const { solvent, onHandMl, belowZero, usedMl } of stock) {
          const own = entries.flatMap(({ event }) =>
            (event.what === 'stock' || event.what === 'reclaim') && event.solvent === solvent ? [event] : [],
          );
          const counted = own.findLast((event) => event.what === 'stock' && event.counted_ml !== undefined);
          const start = counted ?? own[0];
          const poured = movements.pours.filter((pour) => pour.solvent === solvent);
          expect(usedMl).toBeCloseTo(sum(poured.map(({ ml }) => ml)), 6);
          if (!start) {
            expect(onHandMl).toBeNull();
            continue;
          }
          known += 1;
          const place = (id: string) => entries.findIndex(({ event }) => event.id === id);
          const from = place(start.id);
          const later = own.filter(({ id }) => place(id) > from || (id === start.id && !counted));
          const came = sum(later.map((event) => (event.what === 'reclaim' ? event.ml : event.received_ml!)));
          const left = sum(poured.filter(({ eventId }) => place(eventId) > from).map(({ ml }) => ml));
          const first = counted?.what === 'stock' ? counted.counted_ml! : 0;
          expect(onHandMl).toBeCloseTo(first + came - left, 6);
          expect(belowZero).toBe(onHandMl! < 0);
        }
        const moved = new Set(movements.pours.map(({ solvent }) => solvent));
        for (const solvent of moved) expect(ofSolvent(stock, solvent)).toBeDefined();
      }),
      { numRuns: 300 },
    );
    expect(known).toBeGreaterThan(100);
  });
});

function sum(values: readonly number[]): number {
  return values.reduce((total, one) => total + one, 0);
}
