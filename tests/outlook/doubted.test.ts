/** A reading that is too far off to be chance: what the advice says until the bath is read again or changed. */
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { adviceText } from '../../src/render/advice.ts';
import { type Draft, entriesOf, FILLED, PAIR, START_MS } from '../bath/bench.ts';

const HOUR_MS = 3_600_000;
const WASH: Draft = { what: 'wash', parts: { model: 4 }, minutes: [5, 5], hour: 2 };
/** Heavier than IPA by far: 25 wt% resin, or as much water. */
const FAR_OFF: Draft = { what: 'reading', bath: 'clean', density_g_ml: 0.85, temp_c: 22, hour: 4 };
/** IPA of 99.5 wt% with hardly any resin: 0.7847 at 22 °C by the tables, 0.001 for the strength. */
const FITS: Draft = { what: 'reading', bath: 'clean', density_g_ml: 0.785, temp_c: 22, hour: 6 };

function seen(...drafts: Draft[]) {
  const shop = openShop(PAIR);
  const { estimates, advice } = statusOf(shop, entriesOf([...FILLED, ...drafts]), START_MS + 10 * HOUR_MS);
  return { doubted: estimates.map(({ doubted }) => doubted), text: adviceText(advice, estimates), advice };
}

describe('a bath whose last reading was too far off', () => {
  it('is to be measured again, and only that one', () => {
    const { doubted, text, advice } = seen(WASH, FAR_OFF);
    expect(doubted[0]).toBeUndefined();
    expect(doubted[1]!.id).toBe('e3');
    expect(doubted[1]!.misfit).toBeGreaterThan(3);
    expect(advice.action).toBe('take-reading');
    expect(text).toMatch(
      /^Measure the clean bath again: its last reading \(e3\) lies [\d.]+ standard deviations from the estimate, and one of the two is wrong; by the estimate both baths are below their limits; about \d+ more loads/,
    );
  });

  it('is so no more once a reading fits, or its liquid was changed; another bath says nothing of it', () => {
    const of = (...drafts: Draft[]) => seen(WASH, FAR_OFF, ...drafts).doubted[1];
    expect(of(FITS)).toBeUndefined();
    expect(of({ what: 'refill', bath: 'clean', hour: 6 })).toBeUndefined();
    expect(of({ what: 'rotate', hour: 6 })).toBeUndefined();
    expect(of({ ...FITS, bath: 'dirty' })).toBeDefined();
    expect(of({ what: 'refill', bath: 'dirty', hour: 6 })).toBeDefined();
    expect(of({ what: 'top-up', bath: 'clean', ml: 100, hour: 6 })).toBeDefined();
  });

  it('is told beside what a limit asks for', () => {
    const loaded: Draft = { ...WASH, carry_g: 400, drag_ml: [6, 6] };
    expect(seen(loaded, FAR_OFF).text).toMatch(
      /^Rotate now: the clean bath .*; measure the clean bath again before you trust this: its last reading \(e3\) lies [\d.]+ standard deviations from the estimate$/,
    );
  });
});

describe('a bath that by the ledger holds more than goes into it', () => {
  const over: Draft = { what: 'top-up', bath: 'dirty', ml: 3000, hour: 4 };

  it('has its level measured: 4 L and 3 L are more than the 6.34 L to the brim', () => {
    const { advice, text } = seen(WASH, over);
    expect(advice.action).toBe('take-reading');
    expect(text).toMatch(
      /^Measure the level of the dirty bath \(bathbook reading dirty --level\): by the ledger it holds [67]\.\d\d L, and 6\.34 L goes into it; /,
    );
    expect(seen(WASH, { ...over, ml: 2000 }).advice.action).toBe('nothing');
  });

  it('is told beside what a limit asks for', () => {
    const loaded: Draft = { ...WASH, carry_g: 1000, drag_ml: [6, 6] };
    expect(seen(loaded, over).text).toMatch(
      /^Stop washing\. Rotate first: the clean bath .*; measure the level of the dirty bath: by the ledger it holds/,
    );
  });
});
