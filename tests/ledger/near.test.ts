import { describe, expect, it } from 'vitest';
import { didYouMean, near } from '../../src/ledger/near.ts';

describe('near names', () => {
  it.each([
    ['claen', 'clean'],
    ['drained', 'drained_min'],
    ['topup', 'top-up'],
    ['Top_Up', 'top-up'],
    ['modle', 'model'],
    ['hollow model', 'hollow-model'],
  ])('%s is near %s', (typed, meant) => {
    expect(near(typed, ['dirty', 'clean', 'drained_min', 'top-up', 'model', 'mask', 'hollow-model'])).toBe(
      meant,
    );
  });

  it.each(['acetone', 'x', 'zz', ''])('%j is near nothing', (typed) => {
    expect(near(typed, ['dirty', 'clean', 'model', 'ipa99'])).toBeUndefined();
    expect(didYouMean(typed, ['dirty', 'clean', 'model', 'ipa99'])).toBeUndefined();
  });

  it('picks the nearest, not the first', () => {
    expect(near('ipa98', ['ipa70', 'ipa99', 'ipa98b'])).toBe('ipa98b');
  });
});
