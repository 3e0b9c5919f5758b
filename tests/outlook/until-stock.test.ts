import { describe, expect, it } from 'vitest';
import { type Draft, FILLED, headerOf } from '../bath/bench.ts';
import { at, DAY, given, MONDAY, more } from './until-bench.ts';

describe('the stock', () => {
  const header = headerOf({ dirty: {}, clean: {} }, more);
  const with_ = (receivedMl: number, weeks = 26, leadDays = 7) =>
    at(
      header,
      [...FILLED, { what: 'stock', solvent: 'ipa99', received_ml: receivedMl } as Draft, given],
      weeks,
      2,
      leadDays,
    ).until;

  it('is not known until it is logged', () => {
    expect(at(header, [...FILLED, given], 4).until.stock!.onHandMl).toBeNull();
  });

  it('of plenty is enough', () => {
    expect(with_(200_000).stock).toMatchObject({ shortDays: null, orderByDays: null, shortMl: { p50: 0 } });
  });

  it('falls short at the pour that it does not reach, and is ordered a lead before the early end', () => {
    const { stock, best, solventMl } = with_(10_000);
    let left = 10_000;
    const pour = best.pours.find(({ ml }) => {
      left -= ml;
      return left < 0;
    })!;
    expect(stock!.shortDays!.p50).toBeCloseTo((pour.atMs - MONDAY) / DAY, 9);
    expect(stock!.shortMl!.p50).toBeCloseTo(solventMl.p50 - 10_000, 6);
    expect(stock!.orderByDays!).toBeCloseTo(stock!.shortDays!.p05! - 7, 9);
    expect(with_(10_000, 26, 20).stock!.orderByDays!).toBeCloseTo(stock!.shortDays!.p05! - 20, 9);
  });
});
