import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { headspaceOf, headspacePercent } from '../../src/vapour/headspace.ts';

/** NIOSH0359, IEC60079. */
const range = { lower: 2, upper: 12.7 };

describe('the vapour in a closed tub', () => {
  it('is inside the flammable range at 22 °C, two and a half times the lower limit', () => {
    const { percent, place } = headspaceOf(1, 22, range);
    expect(place).toBe('inside');
    expect(percent / range.lower).toBeCloseTo(2.5, 1);
  });

  it('is inside from about 8 to about 38 °C by the line of vapour pressure', () => {
    const { fromC, toC } = headspaceOf(1, 22, range);
    expect([Math.round(fromC), Math.round(toC)]).toEqual([8, 38]);
  });

  it.each([
    [1, 40, 'above'],
    [0.35, 10, 'below'],
    [0.59, 10, 'below'],
    [0.59, 22, 'inside'],
  ] as const)('with an activity of %f at %i °C is %s', (activity, tempC, place) => {
    expect(headspaceOf(activity, tempC, range).place).toBe(place);
  });

  it('changes sides at the temperatures it names', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 1, noNaN: true }), (activity) => {
        const { fromC, toC } = headspaceOf(activity, 22, range);
        expect(headspacePercent(activity, fromC)).toBeCloseTo(range.lower, 6);
        expect(headspacePercent(activity, toC)).toBeCloseTo(range.upper, 6);
      }),
    );
  });
});
