import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { usualWash } from '../../src/outlook/usual-wash.ts';
import { type Draft, entriesOf, FILLED, PAIR } from '../bath/bench.ts';

const SHOP = openShop(PAIR);
const wash = (more: Partial<Draft>): Draft => ({ what: 'wash', parts: { model: 4 }, ...more }) as Draft;
/** Of a volume or an area, not of parts. */
const given = (more: Partial<Draft>): Draft => ({ what: 'wash', ...more }) as Draft;
const usual = (...drafts: Draft[]) => usualWash(entriesOf([...FILLED, ...drafts]), SHOP);

// FORMAT.md: area of a solid 8.5 V^(2/3), of a mask 8 V; a model has 32 mL, a mask 3 mL, a hollow model 12.5 mL in walls of 2 mm.
const MODEL_CM2 = 8.5 * 32 ** (2 / 3);
const MASK_CM2 = 8 * 3;

describe('a wash as the recent ones were', () => {
  it('is none before the first, and none where all were guessed', () => {
    expect(usual()).toBeUndefined();
    expect(usual(wash({ estimated: true }))).toBeUndefined();
  });

  it('has their mean volume and area, to a tenth, and counts those that were logged', () => {
    const { wash: mean, basis } = usual(
      wash({}),
      wash({ parts: { model: 2, mask: 6 } }),
      wash({ parts: { model: 100 }, estimated: true }),
    )!;
    expect(basis).toBe(2);
    expect(mean.volume_ml).toBeCloseTo((4 * 32 + 2 * 32 + 6 * 3) / 2, 9);
    expect(mean.area_cm2).toBeCloseTo((6 * MODEL_CM2 + 6 * MASK_CM2) / 2, 1);
    expect(mean).not.toHaveProperty('parts');
    expect(mean).not.toHaveProperty('hollow');
  });

  it('looks at the last twenty', () => {
    const early = Array.from({ length: 5 }, () => given({ volume_ml: 900 }));
    const late = Array.from({ length: 20 }, () => given({ volume_ml: 100, area_cm2: 200 }));
    expect(usual(...early, ...late)).toEqual({ wash: { volume_ml: 100, area_cm2: 200 }, basis: 20 });
  });

  it('has no volume where none of them had one, and never nothing', () => {
    const byArea = given({ area_cm2: 0.01 });
    expect(usual(byArea)!.wash).toEqual({ area_cm2: 0.1 });
  });

  it('has the habits that most had, all of one wash together; of two as common, the later', () => {
    const early = { drained_min: 30, prerinse: 'spray' } as const;
    const late = { drained_min: 60, agitation: 'hand' } as const;
    expect(usual(wash(early), wash(late), wash(early))!.wash).toMatchObject(early);
    expect(usual(wash(early), wash(late), wash(early))!.wash).not.toHaveProperty('agitation');
    expect(usual(wash(early), wash(late))!.wash).toMatchObject(late);
    expect(usual(wash(early), wash(late))!.wash).not.toHaveProperty('prerinse');
  });

  it('drags out like a cup where most of the surface did', () => {
    const cups = wash({ parts: { 'hollow-model': 4 } });
    expect(usual(cups)!.wash.hollow).toBe(true);
    expect(usual(cups, cups, wash({ parts: { mask: 1 } }))!.wash.hollow).toBe(true);
    expect(usual(wash({}), wash({}), wash({ parts: { 'hollow-model': 1 } }))!.wash).not.toHaveProperty(
      'hollow',
    );
  });

  it('keeps to itself whose it was and what was measured', () => {
    const { wash: mean } = usual(
      wash({ cases: ['26-0117'], lot: 'R7', by: 'NB', note: 'late', carry_g: 5, trapped_g: 1 }),
    )!;
    expect(Object.keys(mean).sort()).toEqual(['area_cm2', 'volume_ml']);
  });
});
