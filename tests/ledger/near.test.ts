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

  // Optimal string alignment: two letters exchanged are one step, also at the start; a swap needs both letters.
  it.each([
    ['ba', ['abxx', 'ab'], 'ab'],
    ['xba', ['xab', 'xbb'], 'xab'],
    ['abc', ['cab', 'axc'], 'axc'],
    ['abcd', ['acbx', 'abxd'], 'abxd'],
  ] as [string, string[], string][])('of %s among %j it is %s', (typed, among, meant) => {
    expect(near(typed, among)).toBe(meant);
  });

  it('the first of two that are as near', () => {
    expect(near('modal', ['model', 'medal'])).toBe('model');
    expect(near('modal', ['medal', 'model'])).toBe('medal');
  });

  it('one step in three letters, and no more', () => {
    expect(near('abcdef', ['abcdxy'])).toBe('abcdxy');
    expect(near('abcdef', ['abcxyz'])).toBeUndefined();
    expect(near('ab', ['ax'])).toBe('ax');
    expect(near('ab', ['xy'])).toBeUndefined();
  });

  it('a word that is typed short goes before one that is misspelt', () => {
    expect(near('drain', ['train', 'drained_min'])).toBe('drained_min');
    expect(near('dr', ['dx', 'drained_min'])).toBe('dx');
  });
});
