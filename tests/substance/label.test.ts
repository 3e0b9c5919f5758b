import { describe, expect, it } from 'vitest';
import { againstLabel, type Label, readLabel } from '../../src/substance/label.ts';

describe('readLabel', () => {
  it.each([
    ['99', 99, true],
    ['99%', 99, true],
    ['99 wt%', 99, false],
    ['99.5 % w/w', 99.5, false],
    ['99,5', 99.5, true],
    ['91 vol%', 87.4, false], // USP28
    ['91% v/v', 87.4, false],
    ['91%', 87.4, false], // as bottles mean it: common practice, no source
    ['70 vol%', 62.75, false], // half-way between the limits of USP32, 60.6 and 64.9
  ])('of "%s" is %f wt%%', (text, wtPct, bare) => {
    const label = readLabel(text) as Label;
    expect(label.wtPct).toBeCloseTo(wtPct, 1);
    expect(label.bare).toBe(bare);
  });

  it.each(['', 'pure', '99 proof', '-5', '101', '30', '40 vol%'])(
    'refuses "%s" and says how to write it',
    (text) => {
      expect(readLabel(text)).toMatchObject({
        message: expect.stringContaining('Cannot'),
        help: expect.any(String),
      });
    },
  );
});

describe('againstLabel', () => {
  const label = (wtPct: number): Label => ({ wtPct, words: '', bare: true });
  it.each([
    [87.4, 87.6, 'agrees'],
    [87.4, 88.1, 'doubtful'],
    [87.4, 86.2, 'weaker'],
    [87.4, 90, 'stronger'],
    [99, 97, 'weaker'],
    [99, 98.3, 'doubtful'],
    [99, 100, 'agrees'], // a lower limit: USP29 has no upper one
  ])('a label of %f wt%% and a reading of %f give or take 0.5: %s', (says, reads, agreement) => {
    expect(againstLabel(label(says), reads, 0.5)).toBe(agreement);
  });
});
