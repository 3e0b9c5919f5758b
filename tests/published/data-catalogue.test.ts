/** data/catalogue.json: generic kinds, inside the ranges of data/SOURCES.md, DEFAULTS. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { HEADER_SCHEMA } from '../../src/ledger/schema-header.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { volumeFraction } from '../../src/substance/mixture.ts';

type Entry = Record<string, unknown>;
const text = readFileSync(new URL('../../data/catalogue.json', import.meta.url), 'utf8');
const raw: Record<'solvents' | 'resins' | 'parts', Record<string, Entry>> = JSON.parse(text);

/** What a ledger's head may say of an entry: all but the catalogue's own notes. */
function forHead(entries: Record<string, Entry>): Record<string, Entry> {
  return Object.fromEntries(
    Object.entries(entries).map(([name, { basis, thin, typical_dry_min, ...rest }]) => [name, rest]),
  );
}

describe('catalogue', () => {
  it('could stand in the head of a ledger', () => {
    const head = {
      format: 'bathbook/1',
      shop: {},
      baths: {},
      solvents: forHead(raw.solvents),
      resins: forHead(raw.resins),
      parts: forHead(raw.parts),
    };
    expect(z.safeParse(HEADER_SCHEMA, head).error?.issues).toBeUndefined();
  });

  it('says for every entry what it rests on', () => {
    for (const entries of Object.values(raw)) {
      for (const [name, { basis }] of Object.entries(entries)) expect(basis, name).toMatch(/\w{3}/);
    }
  });

  it('has the parts of the ledger format, mL and shape', () => {
    expect(
      Object.entries(raw.parts).map(([name, { shape, volume_ml, wall_mm }]) => [
        name,
        volume_ml,
        shape,
        ...(wall_mm === undefined ? [] : [wall_mm]),
      ]),
    ).toEqual([
      ['model', 32, 'solid'],
      ['hollow-model', 12.5, 'hollow', 2],
      ['die', 1.5, 'small'],
      ['mask', 3, 'mask'],
      ['splint', 5, 'sheet'],
      ['tray', 20, 'sheet'],
      ['guide', 6, 'sheet'],
      ['crown', 0.6, 'small'],
    ]);
  });

  it('dries open parts 30 min and hollow ones 60 (common practice, no source)', () => {
    for (const [name, { shape, typical_dry_min }] of Object.entries(catalogue.parts)) {
      expect(typical_dry_min, name).toBe(shape === 'hollow' ? 60 : 30);
    }
  });

  it('has the standard resin, and all resins inside the ranges of common practice', () => {
    expect(catalogue.resins.standard).toMatchObject({
      density_g_ml: 1.11,
      viscosity_mpa_s: 400,
      refractive_index: 1.49,
    });
    for (const [name, resin] of Object.entries(catalogue.resins)) {
      const [light, dense] = name === 'filled' ? [1.2, 1.55] : [1.06, 1.18];
      expect(resin.density_g_ml, name).toBeGreaterThanOrEqual(light);
      expect(resin.density_g_ml, name).toBeLessThanOrEqual(dense);
      expect(resin.viscosity_mpa_s, name).toBeGreaterThanOrEqual(130);
      expect(resin.viscosity_mpa_s, name).toBeLessThanOrEqual(1500);
      expect(resin.refractive_index, name).toBeGreaterThanOrEqual(1.46);
      expect(resin.refractive_index, name).toBeLessThanOrEqual(1.52);
    }
  });

  it('has solvents inside their grades: USP29 at least 99.0 %, USP28 91–93 % v/v, USP32 68–72 % v/v', () => {
    const { ipa99, ipa91, ipa70 } = catalogue.solvents;
    expect(ipa99!.ipa_wt_pct).toBeGreaterThanOrEqual(99);
    expect(volumeFraction(ipa99!.ipa_wt_pct! / 100, 20)).toBeGreaterThan(0.99);
    expect(ipa91!.ipa_vol_pct).toBeGreaterThanOrEqual(91);
    expect(ipa91!.ipa_vol_pct).toBeLessThanOrEqual(93);
    expect(ipa70!.ipa_vol_pct).toBeGreaterThanOrEqual(68);
    expect(ipa70!.ipa_vol_pct).toBeLessThanOrEqual(72);
  });
});
