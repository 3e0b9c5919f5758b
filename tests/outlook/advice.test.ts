import { describe, expect, it } from 'vitest';
import { brimOf, openShop } from '../../src/bath/shop.ts';
import type { LimitsHeader } from '../../src/ledger/header.ts';
import { adviseOn } from '../../src/outlook/advice.ts';
import type { BathEstimate } from '../../src/outlook/estimate.ts';
import type { LoadsLeft } from '../../src/outlook/loads-left.ts';
import type { Plan, Rest } from '../../src/outlook/plan.ts';
import { judgeBath } from '../../src/outlook/verdict.ts';
import { headerOf } from '../bath/bench.ts';

interface Figures {
  resin?: number;
  /** The 95 % points, where they are others than the best estimates. */
  resinUpTo?: number;
  waterUpTo?: number;
  water?: number;
  age?: number;
  ml?: number;
  /** Its last reading was so many standard deviations off. */
  off?: number;
  empty?: true;
}

/** Baths of which only these figures are out of the ordinary, and the shop they are of. */
function bathsOf(figures: Record<string, Figures>, limits: LimitsHeader = {}) {
  const shop = openShop(
    headerOf(Object.fromEntries(Object.keys(figures).map((name) => [name, {}])), { limits }),
  );
  const estimates = Object.values(figures).map(
    ({ resin = 0.1, resinUpTo, water = 1, waterUpTo, age = 1, ml = 4000, off, empty }, place) => {
      const tub = shop.tubs[place]!;
      const upTo = (p50: number, p95?: number) => (p95 === undefined ? { p50 } : { p05: 0, p50, p95 });
      const known = { resinWtPct: upTo(resin, resinUpTo), waterWtPct: upTo(water, waterUpTo) };
      return {
        bath: tub.name,
        volumeMl: { p50: empty ? 0 : ml },
        ...(empty ? { resinWtPct: null, waterWtPct: null } : known),
        ageDays: age,
        limits: tub.limits,
        markMl: tub.markMl,
        brimMl: brimOf(tub),
        ...(off === undefined ? {} : { doubted: { id: 'read1', misfit: off } }),
        ...(empty ? { verdict: 'stop', because: 'none' } : judgeBath({ ...known, ageDays: age }, tub.limits)),
      } as BathEstimate;
    },
  );
  return { shop, estimates };
}

/** Advice on a pair. */
function advise(dirty: Figures, clean: Figures, limits: LimitsHeader = {}, names = ['dirty', 'clean']) {
  const { shop, estimates } = bathsOf({ [names[0]!]: dirty, [names[1]!]: clean }, limits);
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
      when: 'soon',
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

describe('a limit that only the 95 % point has come to', () => {
  it('asks for a reading, since nobody knows', () => {
    expect(advise({ resin: 6, resinUpTo: 11 }, {})).toEqual({
      action: 'take-reading',
      when: 'soon',
      bath: 'dirty',
      because: 'resin',
      rotationWouldCarryWater: false,
    });
    expect(advise({}, { water: 4, waterUpTo: 9 })).toMatchObject({
      action: 'take-reading',
      because: 'water',
    });
  });

  it('is no doubt where the best estimate has come to soon itself, or to the change limit', () => {
    expect(advise({ resin: 8.5, resinUpTo: 11 }, {})).toMatchObject({ ...rotate, when: 'soon' });
    expect(advise({ resin: 10, resinUpTo: 15 }, {})).toMatchObject({ ...rotate, when: 'now' });
    expect(advise({}, { water: 5.5, waterUpTo: 9 }).action).toBe('refill-clean');
    // Age has no band.
    expect(advise({ age: 60 }, {})).toMatchObject({ ...rotate, because: 'age' });
  });

  it('comes behind one that is sure, in whichever bath', () => {
    const doubtful = { resin: 6, resinUpTo: 11 };
    expect(advise(doubtful, { resin: 1.6 })).toMatchObject({ action: 'rotate', bath: 'clean' });
    // Though it is the nearer one: 7.9 of 10 beside 1.5 of 2.
    expect(advise({ resin: 7.9, resinUpTo: 11 }, { resin: 1.5 })).toMatchObject({
      action: 'rotate',
      bath: 'clean',
    });
    expect(advise({ resin: 8.5 }, { resin: 1.2, resinUpTo: 2.1 })).toMatchObject({
      action: 'rotate',
      bath: 'dirty',
    });
  });
});

/** Days to the change limit of each bath, and the days off. */
const planOf = (days: (number | null)[], over: Partial<Plan> = {}): Plan => ({
  pace: {} as Plan['pace'],
  days: 3,
  on: { weekday: 1, midnights: 3 },
  limits: days.map((one) => (one === null ? null : { what: 'resin', days: one, loads: 2 * one })),
  rest: null,
  ...over,
});

describe('of two baths that are soon for resin', () => {
  const leads = (dirty: number, clean: number, plan: Plan | null = null) => {
    const { shop, estimates } = bathsOf({ dirty: { resin: dirty }, clean: { resin: clean } });
    return adviseOn(estimates, shop, null, plan).bath;
  };

  it('the one with the larger share of its change limit leads where no pace is known: 10 and 2 wt%', () => {
    expect(leads(8.5, 1.9)).toBe('clean');
    expect(leads(9.6, 1.6)).toBe('dirty');
    expect(leads(8, 1.6)).toBe('dirty'); // Eight tenths of either: the first.
  });

  it('the one that meets its limit sooner leads, whatever the shares', () => {
    expect(leads(8.5, 1.9, planOf([3, 5]))).toBe('dirty');
    expect(leads(9.6, 1.6, planOf([5, 3]))).toBe('clean');
    // Where the plan does not tell them apart, the shares do.
    expect(leads(8.5, 1.9, planOf([3, 3]))).toBe('clean');
    expect(leads(9.6, 1.6, planOf([4, 4]))).toBe('dirty');
    expect(leads(8.5, 1.9, planOf([3, null]))).toBe('clean');
    expect(leads(9.6, 1.6, planOf([null, 3]))).toBe('dirty');
  });

  it('but not before one that is soon for another reason, unless it is water in the clean bath', () => {
    expect(advise({ age: 60 }, { resin: 1.9 })).toMatchObject({ bath: 'dirty', because: 'age' });
    expect(advise({ resin: 8.5 }, { age: 30 })).toMatchObject({ bath: 'dirty', because: 'resin' });
    expect(advise({ resin: 8.5 }, { water: 5.5 })).toMatchObject({ bath: 'clean', because: 'water' });
    expect(advise({ resin: 1.9 }, { water: 5.5 }, {}, ['clean', 'dirty'])).toMatchObject({
      bath: 'clean',
      because: 'resin',
    });
  });
});

describe('a change that is due soon, before days off', () => {
  const rest = { loadsBefore: 2, startsIn: 1, endsIn: 3, first: 6, back: 1 };
  const left = (loads: number): LoadsLeft => ({
    loads,
    bath: 'dirty',
    because: 'resin',
    basis: 20,
    partsPerLoad: 4,
  });
  const waits = (on: { loads?: number; rest?: Partial<Rest>; midnights?: number; dirty?: Figures } = {}) => {
    const { shop, estimates } = bathsOf({ dirty: on.dirty ?? { resin: 8.5 }, clean: {} });
    const plan = planOf([3, null], {
      rest: { ...rest, ...on.rest },
      on: { weekday: 1, midnights: on.midnights ?? 3 },
    });
    return adviseOn(estimates, shop, left(on.loads ?? 2), plan).afterRest;
  };

  it('waits for the first day after them, where the loads before do not bring it', () => {
    expect(waits()).toBe(true);
    expect(waits({ rest: { startsIn: 0 } })).toBe(true);
  });

  it('does not where they do, where the days off are further, or the limit beyond that day', () => {
    expect(waits({ loads: 1 })).toBe(false);
    expect(waits({ rest: { startsIn: 2 } })).toBe(false);
    expect(waits({ midnights: 4 })).toBe(false);
  });

  it('does not where it is due now, or not for resin', () => {
    expect(waits({ dirty: { resin: 10 } })).toBe(false);
    expect(waits({ dirty: { age: 60 } })).toBe(false);
    expect(waits({ dirty: { water: 5.5 } })).toBe(false);
  });
});

describe('baths that are no pair', () => {
  const advice = (figures: Record<string, Figures>) => {
    const { shop, estimates } = bathsOf(figures);
    return adviseOn(estimates, shop, null);
  };

  it('are refilled, the one that needs it', () => {
    const refill = { action: 'refill', rotationWouldCarryWater: false };
    expect(advice({ single: { resin: 6, water: 9 } })).toMatchObject({ ...refill, bath: 'single' });
    expect(advice({ dirty: { resin: 10 }, rinse: {} })).toMatchObject({ ...refill, bath: 'dirty' });
    expect(advice({ wash: {}, clean: { resin: 3 } })).toMatchObject({ ...refill, bath: 'clean' });
    expect(advice({ dirty: {}, clean: {}, third: { resin: 30 } })).toMatchObject({
      ...refill,
      bath: 'third',
    });
    expect(advice({ first: { resin: 10 }, dirty: {}, clean: {} })).toMatchObject({
      ...refill,
      bath: 'first',
    });
  });

  it('that are all empty are filled, a single one by its name', () => {
    expect(advice({ single: { empty: true } })).toMatchObject({ action: 'refill-both', bath: 'single' });
    expect(advice({ first: { empty: true }, second: {}, third: { empty: true } })).toMatchObject({
      action: 'refill-both',
      bath: null,
    });
    expect(advice({ dirty: { empty: true }, clean: { empty: true } })).toMatchObject({
      action: 'refill-both',
      bath: null,
    });
  });
});
