/** Figures to the digits that their band supports: two of its half-width. */
import { describe, expect, it } from 'vitest';
import { banded, withoutBand } from '../../src/render/format.ts';

describe('an estimate with its band', () => {
  it('has two figures of the half-width, tens as well', () => {
    expect(banded({ p05: 0.342, p50: 0.748, p95: 1.77 }, 1)).toBe('0.7 (0.3–1.8)');
    expect(banded({ p05: 31.4, p50: 60.2, p95: 98.7 })).toBe('60 (31–99)');
    expect(banded({ p05: 108, p50: 409, p95: 1113 }, 0)).toBe('410 (110–1110)');
  });

  it('does not round an end below ten away', () => {
    expect(banded({ p05: 4, p50: 126, p95: 333 }, 0)).toBe('126 (4–333)');
  });

  it('has the same digits where there is no room for the band', () => {
    expect(withoutBand({ p05: 0.342, p50: 0.748, p95: 1.77 }, 1)).toBe('0.7');
    expect(withoutBand({ p50: 0.748 })).toBe('0.75');
  });
});
