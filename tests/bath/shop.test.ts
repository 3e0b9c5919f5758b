import { describe, expect, it } from 'vitest';
import { brimOf, openShop } from '../../src/bath/shop.ts';
import { headerOf } from './bench.ts';

describe('a head laid over the catalogue', () => {
  const plain = openShop(headerOf({ dirty: {}, clean: {} }));

  it('fills in what it does not say', () => {
    expect(plain.roomC).toBe(22);
    expect(plain.air.water.inRoom).toBe(0.5);
    expect(plain.defaults).toEqual({
      resin: 'standard',
      drainedMin: 10,
      prerinse: 'none',
      midrinse: 'none',
      minutes: [5, 5],
      agitation: 'still',
    });
    expect(plain.factors).toEqual({ carry: 1, drag: 1, dissolution: 1 });
    expect(plain.resins[plain.resinPlace.get('standard')!]).toMatchObject({
      density: 1.11,
      viscosity25: 400,
      index: 1.49,
    });
  });

  it('knows limits by role: the last bath of a line is a clean one', () => {
    const [dirty, clean] = plain.tubs;
    expect(dirty!.limits).toEqual({ resin: [8, 10, 20], water: [5, 8, 12], ageDays: 56 });
    expect(clean!.limits).toEqual({ resin: [1.5, 2, 5], water: [5, 8, 12], ageDays: 28 });
    const line = openShop(headerOf({ first: {}, second: {}, third: {} }));
    expect(line.tubs.map(({ limits }) => limits.ageDays)).toEqual([56, 56, 28]);
    expect(line.usualRoute).toEqual([0, 1, 2]);
  });

  it('is stricter with parts for the body, and takes limits of its own', () => {
    const body = openShop(headerOf({ dirty: {}, clean: {} }, { shop: { parts_use: 'body-contact' } }));
    expect(body.tubs[1]!.limits.resin).toEqual([0.7, 1, 2]);
    const own = openShop(
      headerOf({ dirty: {}, clean: {} }, { limits: { clean_resin: [0.1, 0.2, 0.3], dirty_age_days: 7 } }),
    );
    expect(own.tubs[1]!.limits.resin).toEqual([0.1, 0.2, 0.3]);
    expect(own.tubs[0]!.limits.ageDays).toBe(7);
  });

  it('washes dirty first whatever the order in the head, and one bath where there is one', () => {
    const turned = openShop(headerOf({ clean: {}, dirty: {} }));
    expect(turned.usualRoute.map((place) => turned.tubs[place]!.name)).toEqual(['dirty', 'clean']);
    expect(openShop(headerOf({ tub: {} })).usualRoute).toEqual([0]);
  });

  it('takes a strength by volume as one at 20 °C: 91 vol% is 87.4 wt%', () => {
    // Of the azeotropic grade, 91–93 vol%: USP28.
    expect(plain.solvents.get('ipa91')!.ipaFraction).toBeCloseTo(0.874, 3);
    expect(plain.solvents.get('ipa99')!.ipaFraction).toBe(0.995);
  });

  it('lets a resin name only what differs from the one it stands for', () => {
    const shop = openShop(
      headerOf(
        { tub: {} },
        { resins: { standard: { viscosity_mpa_s: 900 }, own: { density_g_ml: 1.2 } }, shop: { room_c: 25 } },
      ),
    );
    expect(shop.resins[shop.resinPlace.get('standard')!]).toMatchObject({
      density: 1.11,
      viscosity25: 900,
      viscosityRoom: 900,
    });
    expect(shop.resins[shop.resinPlace.get('own')!]).toMatchObject({
      density: 1.2,
      viscosity25: 400,
      index: 1.49,
    });
  });

  it('adds parts of its own with an area from their shape', () => {
    const shop = openShop(headerOf({ tub: {} }, { parts: { ring: { shape: 'small', volume_ml: 8 } } }));
    expect(shop.parts.get('ring')!.areaCm2).toBeCloseTo(28, 9);
    expect(shop.parts.get('model')).toMatchObject({ shape: 'solid', volumeMl: 32 });
  });

  it('knows the role by the name first, then by the place', () => {
    const turned = openShop(headerOf({ clean: {}, dirty: {} }));
    expect(turned.tubs.map(({ limits }) => limits.ageDays)).toEqual([28, 56]);
    const water = openShop(headerOf({ clean: {}, dirty: {} }, { limits: { clean_water: [1, 2, 3] } }));
    expect(water.tubs.map(({ limits }) => limits.water)).toEqual([
      [1, 2, 3],
      [5, 8, 12],
    ]);
  });

  it('has the brim where the head says, or by the freeboard over the mark: 260 × 180 × 50 mm are 2340 mL', () => {
    const [marked, told] = openShop(headerOf({ dirty: {}, clean: { tub_ml: 5500 } })).tubs;
    expect(marked).not.toHaveProperty('brimMl');
    expect(brimOf(marked!)).toBeCloseTo(4000 + 26 * 18 * 5, 6);
    expect(brimOf(told!)).toBe(5500);
  });

  it('has the name, the currency and the factors of the air that the head gives, else none and 1', () => {
    expect(plain).toMatchObject({ name: '', currency: '' });
    const own = openShop({
      ...headerOf({}),
      shop: { name: 'Bench', currency: 'EUR' },
      baths: { tub: { mark_ml: 900, length_mm: 100, width_mm: 90, freeboard_mm: 20, evaporation: 3 } },
    });
    expect(own).toMatchObject({ name: 'Bench', currency: 'EUR' });
    expect(own.tubs[0]).toMatchObject({ evaporation: 3, moisture: 1, surfaceM2: 0.009, freeboardM: 0.02 });
  });

  it('lays a solvent over the shipped one: a strength of one kind replaces that of the other, a price alone none', () => {
    const { solvents } = openShop(
      headerOf(
        { tub: {} },
        {
          solvents: {
            ipa91: { ipa_wt_pct: 88 },
            ipa99: { ipa_vol_pct: 91 },
            ipa70: { price_per_l: 3 },
            own: {},
          },
        },
      ),
    );
    expect(solvents.get('ipa91')!.ipaFraction).toBe(0.88);
    expect(solvents.get('ipa99')!.ipaFraction).toBe(plain.solvents.get('ipa91')!.ipaFraction);
    expect(solvents.get('ipa70')).toEqual({ ...plain.solvents.get('ipa70'), pricePerL: 3 });
    expect(solvents.get('own')!.ipaFraction).toBeCloseTo(1, 9);
    expect(solvents.get('ipa91')).not.toHaveProperty('pricePerL');
  });

  it('lays a part over the shipped one, and works its surface out anew where shape or volume differ', () => {
    const { parts } = openShop(
      headerOf(
        { tub: {} },
        {
          parts: {
            'hollow-model': { shape: 'hollow', wall_mm: 4 },
            model: { shape: 'solid', volume_ml: 4 },
            mask: { shape: 'solid' },
            crown: { shape: 'small', area_cm2: 9 },
          },
        },
      ),
    );
    // 2 × 12.5 mL over 4 mm of wall, by hand; the volume is the shipped one.
    expect(parts.get('hollow-model')).toMatchObject({ areaCm2: 62.5, volumeMl: 12.5, dryMin: 60 });
    expect(parts.get('model')!.areaCm2).toBeCloseTo(8.5 * 4 ** (2 / 3), 9);
    expect(parts.get('mask')).toMatchObject({ shape: 'solid', volumeMl: 3, thin: true });
    expect(parts.get('crown')!.areaCm2).toBe(9);
    expect(plain.parts.get('hollow-model')!.areaCm2).toBeCloseTo(125, 9);
  });

  it('takes masks and sheets for thin, and lets hollow parts dry longer, where nothing is said', () => {
    const shapes = ['solid', 'small', 'sheet', 'mask', 'hollow'] as const;
    const own = shapes.map((shape) => [`own ${shape}`, { shape, volume_ml: 5 }]);
    const { parts } = openShop(headerOf({ tub: {} }, { parts: Object.fromEntries(own) }));
    expect(shapes.filter((shape) => parts.get(`own ${shape}`)!.thin)).toEqual(['sheet', 'mask']);
    expect(shapes.map((shape) => parts.get(`own ${shape}`)!.dryMin)).toEqual([30, 30, 30, 30, 60]);
  });
});
