import { describe, expect, it } from 'vitest';
import { bathViscosity, resinViscosity, solventViscosity } from '../../src/substance/viscosity.ts';

describe('solventViscosity', () => {
  it.each([
    [1, 20, 2.4, 0.03], // ALMASI2014 2.417, ILOUKHANI2009 2.351
    [1, 30, 1.78, 0.03], // ALMASI2014 1.800, ILOUKHANI2009 1.758
    [0.5877, 25, 3.087, 0.02], // GONZALEZ2008
    [0.8855, 25, 2.274, 0.02], // GONZALEZ2008
    [0.93, 25, 2.153, 0.02], // GONZALEZ2008
  ])('of w %f at %f °C is %f mPa·s within the share %f', (w, tempC, expected, share) => {
    expect(Math.abs(solventViscosity(w, tempC) / expected - 1)).toBeLessThan(share);
  });

  it('is greatest between 45 and 60 wt% at 20 °C (PANG2007P)', () => {
    const strengths = Array.from({ length: 61 }, (_, step) => 0.4 + step / 100);
    const greatest = strengths.reduce((a, b) => (solventViscosity(b, 20) > solventViscosity(a, 20) ? b : a));
    expect(greatest).toBeGreaterThan(0.45);
    expect(greatest).toBeLessThan(0.6);
  });
});

describe('resinViscosity', () => {
  it('of 400 mPa·s at 25 °C is 597 at 20 °C', () => {
    expect(resinViscosity(400, 20)).toBeCloseTo(596.7, 1);
  });
  it('at 18 °C lies between 1.7 and 2.1 times the value at 25 °C (common practice, no source)', () => {
    expect(resinViscosity(1, 18)).toBeGreaterThan(1.7);
    expect(resinViscosity(1, 18)).toBeLessThan(2.1);
  });
});

describe('bathViscosity', () => {
  const at = (resinFraction: number) =>
    bathViscosity({ resinFraction, resinViscosity: 400, solventViscosity: 2.4 });
  it('ends at the solvent and at the resin', () => {
    expect(at(0)).toBeCloseTo(2.4, 12);
    expect(at(1)).toBeCloseTo(400, 9);
  });
  it('of equal masses is the geometric mean', () => {
    expect(at(0.5)).toBeCloseTo(Math.sqrt(400 * 2.4), 9);
  });
  it('with 10 wt% resin is 4.0 mPa·s', () => {
    expect(at(0.1)).toBeCloseTo(4.0, 1);
  });
});
