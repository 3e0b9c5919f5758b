/** Years of a plant, watched from outside: what the masses do, when baths are changed, and what is counted. */
import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { type Plant, plantOf } from '../../src/compare/plant.ts';
import { type Counts, runYears } from '../../src/compare/run.ts';
import { scheduleOf, YEAR_DAYS } from '../../src/compare/schedule.ts';
import { quantileOf } from '../../src/compare/spread.ts';
import { World, type WorldFactors } from '../../src/compare/world.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import type { BathHeader, Header } from '../../src/ledger/header.ts';
import { headerOf, OPEN } from '../bath/bench.ts';
import { everyDay, plainFactors, plantOfTanks } from './line.ts';

afterEach(() => vi.restoreAllMocks());

const WASH: WashEvent = { id: 'a', at: '', what: 'wash', parts: { model: 6 }, baths: ['dirty', 'clean'], minutes: [5, 5] }; // biome-ignore format: one event

function plantOfShop(
  given: {
    baths?: Partial<BathHeader>;
    clean?: Partial<BathHeader>;
    shop?: Header['shop'];
    wash?: Partial<WashEvent>;
    ipaPct?: number;
  } = {},
  over: Partial<Plant> = {},
): Plant {
  const { baths = {}, clean = {}, shop = {}, wash = {}, ipaPct = 99.5 } = given;
  const bath = { ...OPEN, ...baths };
  const solvents = { spirit: { ipa_wt_pct: ipaPct } };
  const opened = openShop(headerOf({ dirty: bath, clean: { ...bath, ...clean } }, { shop, solvents }));
  const on = { route: ['dirty', 'clean'], washes: [{ ...WASH, ...wash }], places: [0, 1], solvent: opened.solvents.get('spirit')! }; // biome-ignore format: one line
  return {
    ...plantOf(opened, on),
    rule: 'rotate',
    changeAt: 1,
    everyWashes: Number.POSITIVE_INFINITY,
    topUpBelow: 0.95,
    ...over,
  };
}

function factors(over: Partial<Omit<WorldFactors, 'evaporation' | 'moisture'>> = {}, air = 1): WorldFactors {
  const all = () => new Float64Array(2).fill(air);
  return { carry: 1, drag: 1, dissolution: 1, ...over, evaporation: all(), moisture: all() };
}

/** Grams in a world's baths: resin, IPA, water. */
const held = ({ masses }: World) =>
  masses.reduce((sums, grams, at) => sums.with(at % 3, sums[at % 3]! + grams), [0, 0, 0]);
const sum = (values: readonly number[]) => values.reduce((total, one) => total + one, 0);

interface Watched {
  /** Grams of resin, IPA and water. */
  brought: number;
  onParts: number[];
  air: number[];
  poured: number[];
  waste: number[];
  residue: number;
  tray: number;
  /** What each change was, and grams poured, rinsed off and wasted up to then, its own included. */
  changes: string[];
  pouredThen: number[];
  trayThen: number[];
  wasteThen: number[];
  /** Volumes that bailing left, mL. */
  bailed: number[];
}

/** Follows every movement of the worlds that are run, the drawn one first. */
function watch(plant: Plant): Map<World, Watched> {
  const seen = new Map<World, Watched>();
  const of = (world: World): Watched => {
    const none = () => [0, 0, 0];
    const blank = { brought: 0, onParts: none(), air: none(), poured: none(), waste: none(), residue: 0, tray: 0, changes: [], pouredThen: [], trayThen: [], wasteThen: [], bailed: [] }; // biome-ignore format: one line
    if (!seen.has(world)) seen.set(world, blank);
    return seen.get(world)!;
  };
  const around = (
    name: string,
    after: (world: World, told: Watched, before: number[], args: number[]) => void,
  ) => {
    const prototype = World.prototype as unknown as Record<string, (...args: number[]) => void>;
    const plain = prototype[name]!;
    vi.spyOn(prototype, name).mockImplementation(function (this: World, ...args: number[]) {
      const before = held(this);
      plain.apply(this, args);
      after(this, of(this), before, args);
    });
  };
  const add = (to: number[], world: World, before: number[], sign: 1 | -1) =>
    held(world).forEach((grams, at) => {
      to[at]! += sign * (grams - before[at]!);
    });
  around('wash', (world, told, before, [load, scatter]) => {
    const given = plant.loads.givenCarryG[load!]!;
    const film = plant.loads.filmG[load!]! * scatter!;
    told.brought += Number.isNaN(given) ? film + plant.loads.trappedG[load!]! * scatter! : given;
    told.residue += world.residueG;
    told.tray += world.trayG;
    add(told.onParts, world, before, -1);
  });
  around('stand', (world, told, before) => add(told.air, world, before, -1));
  around('pour', (_, told, __, [, ml]) => {
    const grams = ml! * plant.solvent.density;
    told.poured[1]! += grams * plant.solvent.ipaFraction;
    told.poured[2]! += grams * (1 - plant.solvent.ipaFraction);
  });
  around('toWaste', (world, told, before) => add(told.waste, world, before, -1));
  around('bail', (world, told, _, [bath]) => {
    told.bailed.push(world.volumeMl(bath!));
  });
  around('rotate', (_, told) => {
    told.changes.push('rotate');
    told.pouredThen.push(sum(told.poured));
    told.trayThen.push(told.tray);
    told.wasteThen.push(sum(told.waste));
  });
  around('refill', (_, told) => {
    told.changes.push('refill');
  });
  return seen;
}

const close = (one: number, other: number, scale: number) =>
  expect(Math.abs(one - other)).toBeLessThan(1e-9 * scale);

describe('masses over years', () => {
  const unchanged: Partial<Plant> = { changeAt: Number.POSITIVE_INFINITY };
  it.each<[string, Partial<Plant>, number]>([
    ['without a change', unchanged, 4000],
    ['rotated at the limits', {}, 4000],
    ['rotated, the clean bath smaller than the dirty one', {}, 3000],
    ['rotated, the clean bath larger, so that not all of it fits', {}, 5500],
    ['refilled at the limits', { rule: 'refill' }, 4000],
    ['rotated every 30 washes', { everyWashes: 30, changeAt: Number.POSITIVE_INFINITY }, 4000],
  ])(
    '%s: resin, IPA and water that came are held, on parts, in the tray, in the waste or in the air',
    (_, over, cleanMl) => {
      const plant = plantOfShop({ clean: { mark_ml: cleanMl }, shop: { humidity_pct: 65 }, wash: { prerinse: 'spray', midrinse: 'brush', trapped_g: 0.4 } }, over); // biome-ignore format: one line
      if (over.changeAt === Number.POSITIVE_INFINITY) plant.baths.waterLimit.fill(Number.POSITIVE_INFINITY);
      const seen = watch(plant);
      const schedule = scheduleOf({ seed: 3, perDay: [0, 3, 3, 3, 3, 3, 0], loads: 1 });
      runYears(plant, schedule, factors(), factors());
      expect(seen.size).toBe(2);
      for (const [world, told] of seen) {
        const [resin, ipa, water] = held(world) as [number, number, number];
        // Each told by itself: what came on parts by the load, what stays on them by the wash, what is poured by the volume. Rotating moves liquid past all of them.
        close(told.brought, resin + told.residue + told.tray + told.waste[0]!, told.brought);
        close(told.poured[1]!, ipa + told.onParts[1]! + told.waste[1]! + told.air[1]!, told.poured[1]!);
        close(told.poured[2]!, water + told.onParts[2]! + told.waste[2]! + told.air[2]!, told.poured[1]!);
        expect([told.air[0], told.poured[0]]).toEqual([0, 0]);
        expect(told.air[1]).toBeGreaterThan(0);
        expect(Math.min(...world.masses)).toBeGreaterThanOrEqual(0);
      }
    },
  );

  it('counts as poured and as waste what was, from the first counted change to the last', () => {
    const plant = plantOfShop({ wash: { prerinse: 'spray' } });
    const seen = watch(plant);
    const { counts } = runYears(plant, everyDay(4), factors(), factors());
    const [[, { pouredThen, trayThen, wasteThen }]] = [...seen] as [[World, Watched]];
    expect(pouredThen).toHaveLength(3 + counts.changes);
    const since = (then: number[]) => then.at(-1)! - then[2]!;
    close(counts.pouredMl * plant.solvent.density, since(pouredThen), since(pouredThen));
    // What rinses take off goes to waste as well.
    expect(since(trayThen)).toBeGreaterThan(0);
    close(counts.wasteG, since(wasteThen) + since(trayThen), since(wasteThen));
  });

  it('carries out the drag-out that is given, with the liquid of each bath', () => {
    const plant = plantOfShop({
      baths: { evaporation: 0, moisture: 0 },
      wash: { drag_ml: [8, 11], carry_g: 6 },
    });
    const world = new World(plant, factors({}, 0));
    world.refill(0);
    world.refill(1);
    for (let load = 0; load < 50; load += 1) {
      const before = held(world);
      const clean = world.volumeMl(1);
      world.wash(0, 1);
      const left = sum(before) + 6 - sum(held(world));
      const filmG = (sum([...world.masses.subarray(3, 6)]) * 11) / world.volumeMl(1);
      const filmResinG = filmG * world.resinFraction(1);
      close(left, world.residueG - filmResinG + filmG, 6);
      // 8 mL came in, 11 went; 5 + 5 minutes in still baths leave the rest undissolved, and what dissolves takes room.
      expect(world.volumeMl(1)).toBeLessThan(clean - 3 + 6 / 1.1);
    }
  });
});

describe('the shop acts on the estimate', () => {
  const shops = fc.record({
    humidity: fc.integer({ min: 10, max: 95 }),
    markMl: fc.integer({ min: 1000, max: 6000 }),
    models: fc.integer({ min: 1, max: 12 }),
    loads: fc.integer({ min: 1, max: 8 }),
    rule: fc.constantFrom<Plant['rule']>('rotate', 'refill'),
  });

  it('so that no load begins past a limit where the estimate is the truth', () => {
    fc.assert(
      fc.property(shops, ({ humidity, markMl, models, loads, rule }) => {
        const plant = plantOfShop({ shop: { humidity_pct: humidity }, baths: { mark_ml: markMl }, wash: { parts: { model: models } } }, { rule }); // biome-ignore format: one line
        const { counts } = runYears(plant, everyDay(loads), factors(), factors());
        expect(counts.changes).toBeGreaterThan(0);
        expect(counts.overLimit).toBe(0);
      }),
      { numRuns: 15 },
    );
  });

  it('and exactly when the estimate has come to a limit: after the wash or night that brought it there, not before', () => {
    const plant = plantOfShop({ shop: { humidity_pct: 60 } });
    const atLimit = (world: World) =>
      [0, 1].some(
        (bath) =>
          world.resinFraction(bath) >= plant.baths.resinLimit[bath]! ||
          world.waterFraction(bath) >= plant.baths.waterLimit[bath]!,
      );
    const due = new Map<World, boolean>();
    const wrong: string[] = [];
    let ledger: World | undefined;
    let changes = 0;
    for (const name of ['wash', 'stand'] as const) {
      const plain = World.prototype[name] as (...args: number[]) => void;
      vi.spyOn(World.prototype, name).mockImplementation(function (this: World, ...args: number[]) {
        if (due.get(this) && this === ledger) wrong.push(`${name} before a change that was due`);
        plain.apply(this, args);
        due.set(this, atLimit(this));
        // The drawn world goes first, the ledger's after it.
        if (due.size === 2) ledger ??= this;
      });
    }
    const rotate = World.prototype.rotate;
    vi.spyOn(World.prototype, 'rotate').mockImplementation(function (this: World) {
      if (this === ledger) {
        changes += 1;
        if (!due.get(this)) wrong.push('a change that was not due');
      }
      rotate.call(this);
      due.set(this, false);
    });
    runYears(plant, everyDay(5), factors({ carry: 1.4 }), factors());
    expect(wrong).toEqual([]);
    expect(changes).toBeGreaterThan(5);
  });

  it('so that a truth with more on the parts begins past limits, and one with less does not', () => {
    const plant = plantOfShop();
    const over = (carry: number) =>
      runYears(plant, everyDay(5), factors({ carry }), factors()).counts.overLimit;
    expect(over(1.5)).toBeGreaterThan(0);
    expect(over(0.7)).toBe(0);
  });

  it('and changes as often whatever the truth, which it does not see', () => {
    const plant = plantOfShop({ baths: { evaporation: 0, moisture: 0 } }, { topUpBelow: 0 });
    const of = (carry: number) => runYears(plant, everyDay(5), factors({ carry }, 0), factors({}, 0)).counts;
    expect(of(2).changes).toBe(of(0.5).changes);
    expect(of(2).washes).toBe(of(0.5).washes);
    // What is told of the last bath and of the parts is the truth: in baths far from full, four times as much resin in and on them.
    for (const key of ['lastBath', 'residue'] as const) {
      const ratio = quantileOf(of(2)[key], 0.95) / quantileOf(of(0.5)[key], 0.95);
      expect(ratio, key).toBeGreaterThan(3);
      expect(ratio, key).toBeLessThan(5);
    }
  });

  it('at three quarters of the limits changes sooner, after a number of washes whatever the limits', () => {
    const between = (over: Partial<Plant>) => {
      const { washes, changes } = runYears(plantOfShop({}, over), everyDay(4), factors(), factors()).counts;
      return washes / changes;
    };
    expect(between({ changeAt: 0.75 })).toBeLessThan(between({}));
    expect(between({ everyWashes: 17 })).toBe(17);
  });
});

describe('water', () => {
  /** Baths that only take up water, from air that is nearly wet; the loads bring no resin. */
  function damp(moisture: [number, number]): { changes: string[]; counts: Counts; plant: Plant } {
    const plant = plantOfShop({ shop: { humidity_pct: 95 }, baths: { lid_open_h: 8, evaporation: 0 }, wash: { carry_g: 0 } }); // biome-ignore format: one line
    const air = { evaporation: new Float64Array(2), moisture: Float64Array.from(moisture) };
    const all = { ...factors(), ...air };
    const seen = watch(plant);
    const { counts } = runYears(plant, everyDay(2), all, all);
    const [[, { changes }]] = [...seen] as [[World, Watched]];
    // Two refills begin it.
    return { changes: changes.slice(2), counts, plant };
  }

  it('at the limit of the clean bath has both refilled: rotating would put it into service', () => {
    const { changes, counts, plant } = damp([1, 1]);
    expect(new Set(changes)).toEqual(new Set(['refill']));
    expect(changes.length).toBeGreaterThan(10);
    expect(counts.overLimit).toBe(0);
    expect(counts.pouredMl / counts.changes).toBeGreaterThan(
      plant.baths.markMl[0]! + plant.baths.markMl[1]! - 1e-6,
    );
  });

  it('at the limit of the dirty bath alone is cured by rotating', () => {
    const { changes, counts } = damp([1, 0]);
    expect(new Set(changes)).toEqual(new Set(['rotate']));
    expect(counts.changes).toBeGreaterThan(1);
  });

  it('that the fresh solvent brings changes no bath, since that would cure nothing', () => {
    // 88 wt% is 91 vol%; 8 wt% of water is the limit of MODEL 7.
    const weak = plantOfShop({ ipaPct: 88 });
    const { counts } = runYears(weak, everyDay(4), factors(), factors());
    expect(counts.washes / counts.changes).toBeGreaterThan(10);
    // Not counted either: every load would be past it, whatever the habit.
    expect(counts.overLimit).toBe(0);
    const seen = watch(weak);
    runYears(weak, everyDay(4), factors(), factors());
    const [[, { changes }]] = [...seen] as [[World, Watched]];
    expect(new Set(changes.slice(2))).toEqual(new Set(['rotate']));
  });
});

describe('levels', () => {
  it('beyond the brim are bailed to the mark, and nothing is poured for it', () => {
    // 40 mL of resin a load and next to nothing out: 300 mL of room above the mark.
    const plant = plantOfTanks(
      { volumesMl: [2000, 2000], carryMl: 40, dragMl: [1, 1] },
      { topUpBelow: 0.95 },
    );
    plant.baths.brimMl.fill(2300);
    const seen = watch(plant);
    const { counts } = runYears(plant, everyDay(1), plainFactors(2), plainFactors(2));
    const [[, { bailed }]] = [...seen] as [[World, Watched]];
    for (const volume of bailed) expect(volume).toBeCloseTo(2000, 6);
    expect(bailed.length).toBeGreaterThan(10);
    expect(counts.pouredMl).toBe(0);
    // What is bailed is what comes in and does not leave on parts: 39 mL a load.
    expect(counts.wasteMl / counts.washes / 39).toBeCloseTo(1, 1);
  });

  it('a twentieth below the mark are topped up in the morning, those less low are not', () => {
    const poured = (topUpBelow: number) => {
      const plant = plantOfTanks({ volumesMl: [2000, 2000], carryMl: 0, dragMl: [10, 10] }, { topUpBelow });
      const pours: number[] = [];
      const topUp = World.prototype.topUp;
      vi.spyOn(World.prototype, 'topUp').mockImplementation(function (this: World, bath) {
        pours.push(this.volumeMl(bath));
        topUp.call(this, bath);
        expect(this.volumeMl(bath)).toBeGreaterThanOrEqual(2000 - 1e-6);
      });
      runYears(plant, everyDay(1), plainFactors(2), plainFactors(2));
      vi.restoreAllMocks();
      return pours;
    };
    // The clean bath loses what it gains; each lies 10 mL lower every day.
    for (const volume of poured(0.95)) expect(volume).toBeLessThan(1900);
    for (const volume of poured(0.95)) expect(volume).toBeGreaterThanOrEqual(1890 - 1e-6);
    expect(poured(0)).toEqual([]);
  });
});

describe('what is counted', () => {
  it('are whole cycles of a year or more, after three that are not', () => {
    for (const every of [7, 40, 300, 900]) {
      const plant = plantOfTanks(
        { volumesMl: [2000, 2000], carryMl: 3, dragMl: [3, 3] },
        { everyWashes: every },
      );
      const { counts, followed } = runYears(plant, everyDay(2), plainFactors(2), plainFactors(2));
      expect(counts.washes).toBe(every * counts.changes);
      expect(counts.changes).toBeGreaterThanOrEqual(2);
      expect(counts.washes).toBeGreaterThanOrEqual(2 * (YEAR_DAYS - 1));
      // The first full stretch that will do, and both worlds followed all along.
      expect(counts.washes - every).toBeLessThan(Math.max(2 * YEAR_DAYS, 2 * every));
      expect(followed).toBe(2 * (counts.washes + 3 * every));
      expect(counts.parts).toBe(4 * counts.washes);
      expect(sum([...counts.lastBath])).toBe(counts.washes);
      expect(sum([...counts.residue])).toBe(counts.washes);
    }
  });

  it('is something, and ends, where nothing is ever changed', () => {
    const plant = plantOfTanks({ volumesMl: [2000, 2000], carryMl: 0, dragMl: [0, 0] });
    const { counts } = runYears(plant, everyDay(1), plainFactors(2), plainFactors(2));
    expect(counts).toMatchObject({ changes: 0, pouredMl: 0, wasteMl: 0, wasteG: 0, overLimit: 0 });
    expect(counts.washes).toBe(YEAR_DAYS);
  });

  it.each([0.01, 0.05, 0.2])('is finite at a pace of %f loads a weekday', (perDay) => {
    const pace = [0, perDay, perDay, perDay, perDay, perDay, 0];
    for (let seed = 1; seed < 9; seed += 1) {
      const schedule = scheduleOf({ seed, perDay: pace, loads: 1 });
      const { counts } = runYears(plantOfShop(), schedule, factors({ carry: 1.6 }, 2), factors());
      for (const [key, value] of Object.entries(counts))
        if (typeof value === 'number') expect(value, key).toSatisfy(Number.isFinite);
      expect(counts.days).toBeGreaterThanOrEqual(YEAR_DAYS);
      expect(counts.pouredMl).toBeGreaterThan(0);
    }
  });

  it('is finite in baths that would dry out overnight', () => {
    const wide = { mark_ml: 500, length_mm: 300, width_mm: 300, freeboard_mm: 5, lid_open_h: 24 };
    const plant = plantOfShop({ shop: { room_c: 35, humidity_pct: 10 }, baths: wide });
    for (const [truth, ledger] of [
      [8, 1],
      [0.1, 4],
      [1, 1],
    ] as const) {
      const seen = watch(plant);
      const { counts } = runYears(plant, everyDay(1), factors({}, truth), factors({}, ledger));
      for (const world of seen.keys()) expect([...world.masses].every(Number.isFinite)).toBe(true);
      vi.restoreAllMocks();
      for (const [key, value] of Object.entries(counts))
        if (typeof value === 'number')
          expect(value, `${key} at ${truth}, ${ledger}`).toSatisfy(Number.isFinite);
    }
  });
});
