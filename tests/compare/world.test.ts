import { describe, expect, it } from 'vitest';
import { replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { bathVolume, resinMass } from '../../src/bath/state.ts';
import { factorsFor } from '../../src/compare/draws.ts';
import { plantOf } from '../../src/compare/plant.ts';
import { World } from '../../src/compare/world.ts';
import type { Entry, LedgerEvent, WashEvent } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';

const DAY_MS = 86_400_000;
const START_MS = Date.UTC(2026, 0, 5, 8);

function header(over: Partial<Header> = {}): Header {
  const bath = { mark_ml: 3000, length_mm: 230, width_mm: 170, freeboard_mm: 45, lid_open_h: 2 };
  return {
    format: 'bathbook/1',
    shop: { room_c: 24, humidity_pct: 60 },
    baths: { dirty: bath, clean: { ...bath, mark_ml: 2500, moisture: 1.3 } },
    solvents: { ipa91: { ipa_vol_pct: 91 } },
    ...over,
  };
}

const LOADS: Partial<WashEvent>[] = [
  { parts: { model: 6 } },
  { parts: { model: 3, 'hollow-model': 2 }, prerinse: 'spray', midrinse: 'brush', agitation: 'stirred' },
  { parts: { mask: 4 }, drained_min: 600, minutes: [3, 8] },
  { parts: { splint: 2 }, trapped_g: 0.7 },
  { volume_ml: 100, area_cm2: 300, carry_g: 6.5, drag_ml: [7, 9] },
];

/** The same days by the everyday replay: washes at the same minute, then 24 hours. */
function byReplay(given: Header, days: number): ReturnType<typeof replay> {
  const entries: Entry[] = [];
  const add = (atMs: number, event: Record<string, unknown>) =>
    entries.push({
      event: { id: String(entries.length), at: '', ...event } as unknown as LedgerEvent,
      atMs,
    } as Entry);
  add(START_MS, { what: 'fill', bath: 'dirty', solvent: 'ipa91', ml: 3000 });
  add(START_MS, { what: 'fill', bath: 'clean', solvent: 'ipa91', ml: 2500 });
  for (let day = 0; day < days; day += 1) {
    const atMs = START_MS + day * DAY_MS;
    for (const load of loadsOn(day)) add(atMs, { what: 'wash', ...LOADS[load] });
    if (day % 9 === 8) add(atMs, { what: 'top-up', bath: 'clean', solvent: 'ipa91', to: 'mark' });
    if (day % 20 === 19) add(atMs, { what: 'rotate', solvent: 'ipa91' });
  }
  return replay(openShop(given), entries, START_MS + days * DAY_MS);
}

function byWorld(given: Header, days: number): World {
  const shop = openShop(given);
  const washes = LOADS.map((load) => ({ id: '', at: '', what: 'wash', ...load }) as WashEvent);
  const solvent = shop.solvents.get('ipa91')!;
  const plant = {
    ...plantOf(shop, { route: ['dirty', 'clean'], washes, places: [0, 1], solvent }),
    rule: 'rotate' as const,
    changeAt: 1,
    everyWashes: Number.POSITIVE_INFINITY,
    topUpBelow: 0,
  };
  const { factors, tubs } = shop;
  const world = new World(plant, factorsFor([0, 1], { ...factors, air: tubs }));
  world.refill(0);
  world.refill(1);
  for (let day = 0; day < days; day += 1) {
    for (const load of loadsOn(day)) world.wash(load, 1);
    if (day % 9 === 8) world.topUp(1);
    if (day % 20 === 19) world.rotate();
    world.stand(24);
  }
  return world;
}

function loadsOn(day: number): number[] {
  return day % 7 > 4 ? [] : [day % 5, (day + 1) % 5, (3 * day) % 5];
}

describe('the flat world of a comparison', () => {
  it('is the everyday replay, to rounding', () => {
    for (const days of [1, 15, 58, 170]) {
      const { baths } = byReplay(header(), days);
      const world = byWorld(header(), days);
      baths.forEach((bath, place) => {
        const [resin, ipa, water] = world.masses.subarray(3 * place, 3 * place + 3);
        expect(resin! / resinMass(bath)).toBeCloseTo(1, 10);
        expect(ipa! / bath.ipaG).toBeCloseTo(1, 10);
        expect(water! / bath.waterG).toBeCloseTo(1, 10);
        expect(world.volumeMl(place) / bathVolume(bath, openShop(header()).resins)).toBeCloseTo(1, 10);
      });
    }
  });
});
