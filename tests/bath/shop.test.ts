import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
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
});
