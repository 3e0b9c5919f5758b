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
    [' 98.75 wt% ', 98.75, false],
    ['98.5%', 98.5, true],
    ['91,0%', 87.4, false],
    ['99 % by weight', 99, false],
    ['99 % by mass', 99, false],
    ['99 mass%', 99, false],
    ['91 % by volume', 87.4, false],
    ['91 ABV', 87.4, false],
    ['40', 40, true],
    ['45 wt%', 45, false],
    ['47.4 vol%', 40.1, false], // the weakest that the ledger takes
    ['100 vol%', 100, false],
    ['100', 100, true],
    ['70 vol%', 62.75, false], // half-way between the limits of USP32, 60.6 and 64.9
  ])('of "%s" is %f wt%%', (text, wtPct, bare) => {
    const label = readLabel(text) as Label;
    expect(label.wtPct).toBeCloseTo(wtPct, 1);
    expect(label.bare).toBe(bare);
  });

  it.each([
    ['99 wt%', '99 wt%'],
    ['99', '99 wt%'],
    ['91%', '91 vol%'],
  ])('of "%s" is called "%s"', (text, words) => {
    expect(readLabel(text)).toMatchObject({ words });
  });

  it.each(['', 'x99', '99 wt%\n91 vol%', '99 proof'])(
    'cannot read "%s", and each way it names is read',
    (text) => {
      const { message, help } = readLabel(text) as { message: string; help: string };
      expect(message).toBe(`Cannot read "${text}" as a strength`);
      const ways = [...help.matchAll(/"(.+?)"/g)].map(([, way]) => readLabel(way!) as Label);
      expect(ways.map(({ words }) => words)).toEqual(['99 wt%', '91 vol%']);
    },
  );

  it.each(['39.9', '47.3 vol%', '101', '100.1 vol%'])(
    'takes none of "%s", and takes the least that it names',
    (text) => {
      const { message, help } = readLabel(text) as { message: string; help: string };
      const [, low, unit] = /outside (\S+)–100 (\S+)$/.exec(message)!;
      expect(readLabel(`${low} ${unit}`)).toHaveProperty('wtPct');
      const named = [...help.matchAll(/[\d.]+ (?:wt|vol)%/g)].map(([way]) => readLabel(way) as Label);
      expect(named.map(({ wtPct }) => wtPct.toFixed(0))).toEqual(['40', '40']);
    },
  );

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
    [87, 87.5, 'agrees'],
    [87, 88, 'doubtful'],
    [98.5, 100, 'agrees'],
    [99, 100, 'agrees'], // a lower limit: USP29 has no upper one
  ])('a label of %f wt%% and a reading of %f give or take 0.5: %s', (says, reads, agreement) => {
    expect(againstLabel(label(says), reads, 0.5)).toBe(agreement);
  });
});
