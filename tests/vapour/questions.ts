/** Benches for tests: the standard one, and any within the ranges that the command takes. */
import fc from 'fast-check';
import { JURISDICTIONS } from '../../src/vapour/exposure-limits.ts';
import type { VapourQuestion } from '../../src/vapour/vapour.ts';

const tub = {
  surfaceM2: 0.0252,
  lengthM: 0.18,
  freeboardM: 0.05,
  activity: 1,
  factor: { p05: 0.32, p50: 1, p95: 3.2 },
};

export const standardQuestion: VapourQuestion = {
  tubs: ['dirty', 'clean'].map((name) => ({ ...tub, name })),
  tempC: 22,
  room: { volumeM3: 30, airM3PerH: 60 },
  mixing: 0.5,
  openMin: 10,
  nearM: null,
  jurisdiction: null,
};

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const anyTub = fc
  .record({
    surfaceM2: between(5e-4, 2),
    stretch: between(1, 3),
    freeboardM: between(0, 1),
    activity: between(0.01, 1),
    factor: between(0.02, 10),
  })
  .map(({ surfaceM2, stretch, factor, ...rest }) => ({
    ...rest,
    name: 'tub',
    surfaceM2,
    lengthM: stretch * Math.sqrt(surfaceM2),
    factor: { p05: factor / 3, p50: factor, p95: factor * 3 },
  }));

export const anyQuestion: fc.Arbitrary<VapourQuestion> = fc
  .record({
    tubs: fc.array(anyTub, { minLength: 1, maxLength: 4 }),
    tempC: between(10, 40),
    volumeM3: between(3, 10_000),
    changes: between(0.1, 100),
    mixing: between(0.1, 0.5),
    openMin: between(1, 1440),
    nearM: fc.option(between(0.2, 3)),
    jurisdiction: fc.option(fc.constantFrom(...JURISDICTIONS)),
  })
  .map(({ volumeM3, changes, ...rest }) => ({ ...rest, room: { volumeM3, airM3PerH: changes * volumeM3 } }));
