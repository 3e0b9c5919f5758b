import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';

const DAY = 86_400_000;
const status = (drafts: Draft[], days = 0, header = PAIR) =>
  statusOf(openShop(header), entriesOf(drafts), START_MS + days * DAY);

describe('the state of a shop', () => {
  it('of fresh baths: nothing but solvent, keep, nothing to do', () => {
    const { estimates, advice, left } = status(FILLED, 1);
    for (const bath of estimates) {
      expect(bath).toMatchObject({ verdict: 'keep', because: 'none', washes: 0, ageDays: 1, dry: false });
      expect(bath.volumeMl.p50).toBeCloseTo(4000, 9);
      expect(bath.resinWtPct!.p50).toBe(0);
      expect(bath.waterWtPct!.p50).toBeCloseTo(0.5, 9);
      // 4 L at 0.7865 g/mL, a two-hundredth of it water.
      expect(bath.massG.p50).toBeCloseTo(3146, 0);
      expect(bath.ipaG.p50).toBeCloseTo(0.995 * bath.massG.p50, 9);
      expect(bath.waterG.p50).toBeCloseTo(0.005 * bath.massG.p50, 9);
      expect(bath.resinG.p50).toBe(0);
      // Fresh solvent in a sealed tub: nothing about it is in doubt.
      expect(bath.resinWtPct).toEqual({ p05: 0, p50: 0, p95: 0 });
      expect(bath.volumeMl.p95! - bath.volumeMl.p05!).toBeLessThan(1e-9);
    }
    expect(advice.action).toBe('nothing');
    expect(left).toBeNull();
  });

  it('three percents of one bath agree: 10 wt% is 81 g/L and 7.3 vol%', () => {
    // Worked from densities 1.11 and 0.7855 g/mL; common arithmetic of the trade.
    const grams = 4000 * 0.78652;
    const load: Draft = {
      what: 'wash',
      area_cm2: 9,
      baths: ['dirty'],
      carry_g: grams / 9,
      drag_ml: [0],
      minutes: [1440],
      agitation: 'ultrasonic',
    };
    const [dirty] = status([...FILLED, load]).estimates;
    expect(dirty!.resinWtPct!.p50).toBeCloseTo(10, 2);
    expect(dirty!.resinGPerL!.p50).toBeCloseTo(81, 0);
    expect(dirty!.resinVolPct!.p50).toBeCloseTo(7.3, 1);
    // A hydrometer rises by about 0.0023 g/mL for each wt% of resin.
    const [fresh] = status(FILLED).estimates;
    const rise = (dirty!.density20!.p50 - fresh!.density20!.p50) / 10;
    expect(Math.abs(rise / 0.0023 - 1)).toBeLessThan(0.05);
    expect(dirty!.verdict).toBe('change');
  });

  it('of an empty bath: no percentages, no age, stop', () => {
    const [dirty, clean] = status([FILLED[0]!]).estimates;
    expect(dirty!.verdict).toBe('keep');
    expect(clean).toMatchObject({
      verdict: 'stop',
      resinWtPct: null,
      waterWtPct: null,
      density20: null,
      ageDays: null,
    });
  });

  it('ages with the liquid: after a rotation the dirty bath is as old as the clean was', () => {
    const drafts: Draft[] = [...FILLED, { what: 'rotate', hour: 240 }];
    const [dirty, clean] = status(drafts, 30).estimates;
    expect(dirty!.ageDays).toBeCloseTo(30, 9);
    expect(clean!.ageDays).toBeCloseTo(20, 9);
  });

  it('says soon by age alone on the day', () => {
    expect(status(FILLED, 27.9).estimates.map(({ verdict }) => verdict)).toEqual(['keep', 'keep']);
    expect(status(FILLED, 28).estimates.map(({ verdict }) => verdict)).toEqual(['keep', 'soon']);
    expect(status(FILLED, 56).estimates.map(({ because }) => because)).toEqual(['age', 'age']);
  });

  it('of a bath whose solvent has grown weaker than the data: stop, because of water, no densities', () => {
    const header = headerOf(
      { dirty: {}, clean: { ...OPEN, lid_open_h: 24 } },
      { shop: { humidity_pct: 98, room_c: 30 } },
    );
    const drafts: Draft[] = [FILLED[0]!, { what: 'fill', bath: 'clean', solvent: 'ipa70', ml: 1500 }];
    const [, clean] = status(drafts, 9, header).estimates;
    expect(clean).toMatchObject({ beyondModel: true, verdict: 'stop', because: 'water', density20: null });
  });
});
