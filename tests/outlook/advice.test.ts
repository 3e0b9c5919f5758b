import { describe, expect, it } from 'vitest';
import { brimOf, openShop } from '../../src/bath/shop.ts';
import type { LimitsHeader } from '../../src/ledger/header.ts';
import { adviseOn } from '../../src/outlook/advice.ts';
import type { BathEstimate } from '../../src/outlook/estimate.ts';
import { judgeBath } from '../../src/outlook/verdict.ts';
import { headerOf } from '../bath/bench.ts';

interface Figures {
  resin?: number;
  water?: number;
  age?: number;
  ml?: number;
  /** Its last reading was so many standard deviations off. */
  off?: number;
  empty?: true;
}

/** Advice on a pair of which only these figures are out of the ordinary. */
function advise(dirty: Figures, clean: Figures, limits: LimitsHeader = {}, names = ['dirty', 'clean']) {
  const shop = openShop(headerOf({ [names[0]!]: {}, [names[1]!]: {} }, { limits }));
  const estimates = [dirty, clean].map(
    ({ resin = 0.1, water = 1, age = 1, ml = 4000, off, empty }, place) => {
      const tub = shop.tubs[place]!;
      const [resinWtPct, waterWtPct] = empty ? [null, null] : [{ p50: resin }, { p50: water }];
      const judged = empty
        ? { verdict: 'stop', because: 'none' }
        : judgeBath({ resinWtPct: { p50: resin }, waterWtPct: { p50: water }, ageDays: age }, tub.limits);
      const volumeMl = { p50: empty ? 0 : ml };
      return {
        bath: tub.name,
        volumeMl,
        resinWtPct,
        waterWtPct,
        ageDays: age,
        limits: tub.limits,
        markMl: tub.markMl,
        brimMl: brimOf(tub),
        ...(off === undefined ? {} : { doubted: { id: 'read1', misfit: off } }),
        ...judged,
      } as BathEstimate;
    },
  );
  const { loadsLeft, plan, afterRest, ...advice } = adviseOn(estimates, shop, null);
  expect({ loadsLeft, plan, afterRest }).toEqual({ loadsLeft: null, plan: null, afterRest: false });
  return advice;
}

const rotate = { action: 'rotate', rotationWouldCarryWater: false };

describe('nothing wrong', () => {
  it('asks for nothing', () => {
    expect(advise({}, {})).toEqual({
      action: 'nothing',
      when: 'none',
      bath: null,
      because: 'none',
      rotationWouldCarryWater: false,
    });
  });

  it('asks for a top-up below nine tenths of the mark', () => {
    expect(advise({}, { ml: 3600 }).action).toBe('nothing');
    expect(advise({}, { ml: 3599 })).toMatchObject({
      action: 'top-up',
      when: 'soon',
      bath: 'clean',
      because: 'level',
    });
    expect(advise({ ml: 2000 }, { ml: 2000 })).toMatchObject({ action: 'top-up', bath: 'dirty' });
  });

  it('leaves a low level for later where a limit has come', () => {
    expect(advise({ resin: 10, ml: 2000 }, {})).toMatchObject({ action: 'rotate', because: 'resin' });
  });
});

describe('figures that cannot be trusted', () => {
  it('ask for a reading: more than goes into a bath, or a last reading too far off', () => {
    // 50 mm over 260 × 180 mm are 2.34 L above the mark of 4 L.
    expect(advise({ ml: 6339 }, {}).action).toBe('nothing');
    expect(advise({ ml: 6341 }, {})).toMatchObject({
      action: 'take-reading',
      when: 'soon',
      bath: 'dirty',
      because: 'overfull',
    });
    expect(advise({}, { off: 4 })).toMatchObject({
      action: 'take-reading',
      bath: 'clean',
      because: 'reading',
    });
    expect(advise({ ml: 6341 }, { off: 4 })).toMatchObject({ because: 'overfull' });
    expect(advise({ off: 4 }, { ml: 3000 })).toMatchObject({ because: 'reading' });
  });

  it('do not hide what a limit asks for', () => {
    expect(advise({ resin: 10, ml: 6500 }, { off: 4 })).toMatchObject({ action: 'rotate', because: 'resin' });
    expect(advise({ off: 4 }, { empty: true })).toMatchObject({ action: 'refill-clean', because: 'empty' });
  });
});

describe('an empty bath', () => {
  it('comes before everything else', () => {
    expect(advise({ resin: 25 }, { empty: true })).toMatchObject({
      action: 'refill-clean',
      when: 'now',
      bath: 'clean',
      because: 'empty',
    });
    expect(advise({ empty: true }, {})).toMatchObject({
      action: 'top-up',
      bath: 'dirty',
      because: 'empty',
    });
    expect(advise({ empty: true }, { empty: true })).toMatchObject({
      action: 'refill-both',
      bath: null,
      because: 'empty',
    });
  });
});

describe('resin and age', () => {
  it('in either bath are cured by rotating, now or soon', () => {
    expect(advise({ resin: 8 }, {})).toEqual({ ...rotate, when: 'soon', bath: 'dirty', because: 'resin' });
    expect(advise({ resin: 10 }, {})).toEqual({ ...rotate, when: 'now', bath: 'dirty', because: 'resin' });
    expect(advise({}, { resin: 1.5 })).toEqual({ ...rotate, when: 'soon', bath: 'clean', because: 'resin' });
    expect(advise({}, { resin: 5 })).toEqual({ ...rotate, when: 'now', bath: 'clean', because: 'resin' });
    expect(advise({ age: 56 }, {})).toEqual({ ...rotate, when: 'soon', bath: 'dirty', because: 'age' });
    expect(advise({}, { age: 28 })).toEqual({ ...rotate, when: 'soon', bath: 'clean', because: 'age' });
  });

  it('of two baths name the worse, of two alike the dirty one', () => {
    expect(advise({ resin: 8 }, { resin: 2 })).toMatchObject({ when: 'now', bath: 'clean' });
    expect(advise({ resin: 8 }, { resin: 1.5 })).toMatchObject({ when: 'soon', bath: 'dirty' });
  });

  it('are not cured by rotating where clean is too loaded for the dirty bath, too', () => {
    expect(advise({}, { resin: 7.9 })).toMatchObject({ action: 'rotate', bath: 'clean' });
    expect(advise({}, { resin: 8 })).toMatchObject({
      action: 'refill-both',
      bath: 'clean',
      because: 'resin',
    });
  });
});

describe('water', () => {
  it('in the dirty bath alone goes out with a rotation', () => {
    expect(advise({ water: 8 }, {})).toEqual({ ...rotate, when: 'now', bath: 'dirty', because: 'water' });
  });

  // The rule of the model: a limit reached by water is never cured by rotating that liquid into service.
  it.each([5, 8, 12, 40])(
    'in the clean bath at %d wt% is never cured by rotating it into service',
    (water) => {
      for (const dirty of [
        {},
        { resin: 9 },
        { resin: 12 },
        { resin: 30 },
        { water: 6 },
        { water: 20 },
        { age: 90 },
      ]) {
        const advice = advise(dirty, { water });
        expect(advice.action).toMatch(/^refill/);
        expect(advice.rotationWouldCarryWater).toBe(true);
      }
    },
  );

  it('in the clean bath: that bath is refilled, and the dirty one with it where it needs changing, too', () => {
    expect(advise({}, { water: 8 })).toMatchObject({
      action: 'refill-clean',
      when: 'now',
      bath: 'clean',
      because: 'water',
    });
    expect(advise({ resin: 8 }, { water: 8 }).action).toBe('refill-clean');
    expect(advise({ resin: 10 }, { water: 8 }).action).toBe('refill-both');
    expect(advise({ resin: 10 }, { water: 12 }).action).toBe('refill-both');
    expect(advise({ resin: 8 }, { water: 5 })).toMatchObject({ action: 'refill-both', when: 'soon' });
  });

  it('in the clean bath stands in the way of a rotation that resin asks for', () => {
    expect(advise({ resin: 10 }, { water: 6 })).toMatchObject({
      action: 'refill-both',
      bath: 'dirty',
      because: 'resin',
      rotationWouldCarryWater: true,
    });
  });

  it('in the clean bath leads where both are equally bad, being what a rotation cannot cure', () => {
    expect(advise({ resin: 10 }, { water: 8 })).toMatchObject({ bath: 'clean', because: 'water' });
  });

  it('counts against the limit of the bath it is in, however wide that of the other', () => {
    const limits: LimitsHeader = { clean_water: [2, 3, 5] };
    expect(advise({}, { water: 4 }, limits)).toMatchObject({
      action: 'refill-clean',
      when: 'now',
      because: 'water',
    });
    expect(advise({}, { water: 4 }, { dirty_water: [3, 4, 5] }).action).toBe('nothing');
    expect(advise({ resin: 10 }, { water: 4 }, { dirty_water: [3, 4, 5] }).action).toBe('refill-both');
  });
});

it('without a pair by name nothing can rotate: the bath itself is refilled', () => {
  expect(advise({ resin: 10 }, {}, {}, ['left', 'right'])).toMatchObject({ action: 'refill', bath: 'left' });
});
