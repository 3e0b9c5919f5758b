import { describe, expect, it } from 'vitest';
import { reachOf } from '../../src/vapour/reach.ts';

const range = { low: 120, high: 2400, cautionLow: 1400, cautionHigh: 6900 };

describe('a range of concentrations against a limit', () => {
  it.each([
    [120, 'low-end'],
    [121, 'high-end'],
    [2400, 'high-end'],
    [2401, 'caution-value'],
    [6900, 'caution-value'],
    [6901, 'none'],
  ] as const)('of %i ppm: %s', (limit, reach) => {
    expect(reachOf(limit, range)).toBe(reach);
  });
});
