/** A line of rinse tanks as a plant: theory's own assumptions, nothing but resin and solvent moving. */
import { openShop } from '../../src/bath/shop.ts';
import { type Plant, plantOf } from '../../src/compare/plant.ts';
import { type Schedule, YEAR_DAYS } from '../../src/compare/schedule.ts';
import type { WorldFactors } from '../../src/compare/world.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import { headerOf } from '../bath/bench.ts';

export interface Tanks {
  volumesMl: number[];
  /** Resin of each load, and the film that leaves each tank, mL. */
  carryMl: number;
  dragMl: number[];
}

/** Every load leaves all its resin in the first tank: exp(−1440/1.2) is 0 in doubles. Nothing evaporates. */
export function plantOfTanks({ volumesMl, carryMl, dragMl }: Tanks, over: Partial<Plant> = {}): Plant {
  const names = volumesMl.map((_, at) =>
    at === volumesMl.length - 1 ? 'clean' : at === 0 ? 'dirty' : 'middle',
  );
  const header = headerOf(Object.fromEntries(names.map((name, at) => [name, { mark_ml: volumesMl[at]! }])));
  const shop = openShop(header);
  const wash: WashEvent = {
    id: 'a',
    at: '',
    what: 'wash',
    parts: { model: 4 },
    carry_ml: carryMl,
    drag_ml: dragMl,
    minutes: names.map(() => 1440),
    agitation: 'ultrasonic',
    baths: names,
  };
  const places = names.map((_, at) => at);
  return {
    ...plantOf(shop, { route: names, washes: [wash], places, solvent: shop.solvents.get('ipa99')! }),
    rule: 'rotate',
    changeAt: Number.POSITIVE_INFINITY,
    everyWashes: Number.POSITIVE_INFINITY,
    topUpBelow: 1,
    ...over,
  };
}

/** The same number of loads every day, none of which scatters. */
export function everyDay(loads: number): Schedule {
  return {
    starts: Int32Array.from({ length: YEAR_DAYS + 1 }, (_, day) => loads * day),
    load: new Int32Array(loads * YEAR_DAYS),
    scatter: new Float64Array(loads * YEAR_DAYS).fill(1),
  };
}

/** Factors of 1; the air of sealed tubs counts for nothing. */
export function plainFactors(baths: number): WorldFactors {
  const air = () => new Float64Array(baths);
  return { carry: 1, drag: 1, dissolution: 1, evaporation: air(), moisture: air() };
}
