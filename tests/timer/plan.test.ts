import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { emptyBath } from '../../src/bath/state.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { planOf } from '../../src/timer/plan.ts';

/** A tub of 100 cm²: a litre in it is 100 mm deep. */
function shopOf(defaults: NonNullable<Header['shop']['defaults']> = {}) {
  const tub = { mark_ml: 1000, length_mm: 100, width_mm: 100, freeboard_mm: 30 };
  return openShop({ format: 'bathbook/1', shop: { defaults }, baths: { dirty: tub, clean: tub } } as Header);
}

/** Of pure isopropanol, 0.7852 g/mL at 20 °C (LEBO1921, data/SOURCES.md). */
function bathOf(volumeMl: number) {
  return { ...emptyBath(), ipaG: volumeMl * 0.7852 };
}

const wash = (more: Partial<WashEvent> = {}): WashEvent => ({ id: 'k3f9x', at: '2026-11-20T10:00:00Z', what: 'wash', volume_ml: 0.001, ...more }); // biome-ignore format: one line
const deep = { baths: [bathOf(1000), bathOf(1000)], dryMin: 30 };

describe('the plan', () => {
  it('has a soak a bath with its minutes, those of the shop or those typed', () => {
    const shop = shopOf({ minutes: [6, 4] });
    const usual = planOf(wash(), shop, deep);
    expect(usual.soaks.map(({ bath, plannedMs }) => [bath, plannedMs])).toEqual([['dirty', 360_000], ['clean', 240_000]]); // biome-ignore format: one line
    expect(usual.dryMs).toBe(30 * 60_000);
    const one = planOf(wash({ baths: ['clean'], minutes: [2] }), shop, deep);
    expect(one.soaks.map(({ bath, plannedMs }) => [bath, plannedMs])).toEqual([['clean', 120_000]]);
  });

  it('rinses before the first bath and between baths, as the wash says, else the shop', () => {
    const shop = shopOf({ prerinse: 'brush', midrinse: 'spray' });
    expect(planOf(wash(), shop, deep).soaks.map(({ rinse }) => rinse)).toEqual(['brush', 'spray']);
    expect(planOf(wash({ prerinse: 'none' }), shop, deep).soaks[0]!.rinse).toBe('none');
  });

  it('turns parts over halfway where the bath is still, and not where it moves', () => {
    const turns = (agitation: NonNullable<WashEvent['agitation']>) =>
      planOf(wash({ agitation }), shopOf(), deep).soaks.map(({ turn }) => turn);
    expect(turns('still')).toEqual(['still', 'still']);
    expect(turns('stirred')).toEqual([undefined, undefined]);
  });

  it('turns them over where the liquid is not deep, however it moves; depth is volume over surface', () => {
    const plan = planOf(wash({ agitation: 'stirred' }), shopOf(), {
      ...deep,
      baths: [bathOf(400), bathOf(1000)],
    });
    expect(plan.soaks.map(({ turn }) => turn)).toEqual(['shallow', undefined]);
    expect(plan.soaks[0]!.depthMm).toBeCloseTo(40, 1);
    expect(plan.soaks[1]!.depthMm).toBeCloseTo(100, 1);
  });

  it('not in a soak of under a minute', () => {
    expect(planOf(wash({ minutes: [0.5, 5] }), shopOf(), deep).soaks.map(({ turn }) => turn)).toEqual([undefined, 'still']); // biome-ignore format: one line
  });
});
