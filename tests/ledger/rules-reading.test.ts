import { describe, expect, it } from 'vitest';
import { brimOf, openShop } from '../../src/bath/shop.ts';
import { explainEvent } from '../../src/ledger/check-event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { brimMl, knownNames } from '../../src/ledger/names.ts';
import { quickCheck } from '../../src/ledger/sound.ts';

const header: Header = {
  format: 'bathbook/1',
  shop: {},
  baths: {
    dirty: { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 },
    clean: { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, tub_ml: 5000 },
  },
};
const known = knownNames(header);
const reading = (keys: object) => ({
  id: 'r1',
  at: '2026-11-02T07:40:00-04:00',
  what: 'reading',
  bath: 'dirty',
  ...keys,
});

function codes(keys: object): string[] {
  const event = reading(keys);
  const found = explainEvent(event, known, () => undefined).map(({ code }) => code);
  // The everyday check passes what the rules pass, so that a usual reading never goes to the schemas.
  expect(quickCheck(event, known) !== null).toBe(found.length === 0);
  return found;
}

describe('the brim', () => {
  it('is that of the bath room: the mark and 50 mm of 260 × 180 mm above it, or as given', () => {
    // 4000 mL + 260 × 180 × 50 mm³ = 4000 mL + 2340 mL.
    expect([...known.brimMl.values()]).toEqual([6340, 5000]);
    const shop = openShop(header);
    for (const tub of shop.tubs) expect(brimMl(header.baths[tub.name]!)).toBeCloseTo(brimOf(tub), 9);
  });

  it.each<[object, string[]]>([
    [{ level_ml: 6340 }, []],
    [{ level_ml: 6341 }, ['wrong-level']],
    [{ level_ml: 63 }, []],
    [{ level_ml: 62 }, ['wrong-level']],
    [{ level_ml: 0 }, ['out-of-range']],
    // 1.25 g/mL is the heaviest a bath may read.
    [{ weight_g: 7925 }, []],
    [{ weight_g: 7926 }, ['wrong-level']],
    [{ weight_g: 3.1 }, ['wrong-level']],
    [{ level_ml: 5001, bath: 'clean' }, ['wrong-level']],
    [{ level_ml: 5000, bath: 'clean' }, []],
  ])('holds %j: %j', (keys, wanted) => {
    expect(codes(keys)).toEqual(wanted);
  });

  it('is not asked where no head is at hand, nor of a bath that the head does not have', () => {
    expect(explainEvent(reading({ level_ml: 9000 }), null, () => undefined)).toEqual([]);
    expect(codes({ level_ml: 9000, bath: 'third' })).toEqual(['unknown-bath']);
  });
});

describe('a residue', () => {
  it.each<[number, number, string[]]>([
    [10, 0.81, []],
    [10, 0, []],
    // Neat resin with much filler, 1.6 g/mL: common practice, no source.
    [10, 16, []],
    [10, 16.1, ['residue-too-heavy']],
    [0, 0, ['out-of-range']],
  ])('of a sample of %d mL may weigh %d g: %j', (sample_ml, dry_g, wanted) => {
    expect(codes({ residue: { sample_ml, dry_g } })).toEqual(wanted);
  });
});

describe('what a hydrometer is marked for', () => {
  const found = (keys: object) => explainEvent(reading(keys), known, () => undefined);

  it('must be said of an SG', () => {
    expect(codes({ sg: 0.8, sg_ref: '20/20' })).toEqual([]);
    expect(codes({ sg: 0.8 })).toEqual(['missing-key']);
    const [one] = found({ sg: 0.8 });
    expect(one!.message).toContain('"sg_ref"');
    for (const scale of ['20/20', '25/25', '60/60F']) expect(one!.help).toContain(`"${scale}"`);
  });

  it('says nothing of another reading, at its key', () => {
    expect(codes({ density_g_ml: 0.8, sg_ref: '20/20' })).toEqual(['not-together']);
    expect(found({ density_g_ml: 0.8, sg_ref: '20/20' })).toMatchObject([
      { message: expect.stringMatching(/"sg_ref".*"sg"/), path: ['sg_ref'], atKey: true },
    ]);
  });
});

describe('help', () => {
  const helpOf = (keys: object) => explainEvent(reading(keys), known, () => undefined)[0]?.help;

  it('names the likely slip of a reading', () => {
    expect(helpOf({ sg: 806, sg_ref: '20/20' })).toBe('806 is an SG without its point: write sg: 0.806');
    expect(helpOf({ weight_g: 3.1 })).toBe('3.1 kg is 3100 g: write weight_g: 3100');
    expect(helpOf({ density_g_ml: -1 })).toMatch(/^Nothing in a bath is as light/);
  });

  it('is the usual one where no slip is likely', () => {
    expect(helpOf({ resin_wt_pct: 101 })).toMatch(/mind the unit/);
    expect(helpOf({ level_ml: 20_000 })).toMatch(/tub_ml/);
  });
});
