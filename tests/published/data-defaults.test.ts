/** The defaults that data/SOURCES.md tells are those that the program uses. */
import { describe, expect, it } from 'vitest';
import {
  BASKET_ML,
  DISSOLUTION_MIN,
  DRAG_ML_PER_M2,
  filmMgPerCm2,
  MIDRINSE_SHARE,
  PRERINSE_SHARE,
  partArea,
  TEXTURE,
} from '../../src/bath/load.ts';
import { openShop } from '../../src/bath/shop.ts';
import { SOURCES_TEXT } from './sources.ts';

/** The default column of the row that begins with `what`. */
function told(what: string): string {
  const row = SOURCES_TEXT.split('\n').find((line) => line.startsWith(`| ${what} |`));
  return row?.split(' | ')[1] ?? `no row "${what}"`;
}

const tub = { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 };
const shopFor = (parts_use: 'models' | 'body-contact') =>
  openShop({ format: 'bathbook/1', shop: { parts_use }, baths: { dirty: tub, clean: tub } });

describe('DEFAULTS', () => {
  it('tells the film of common resin: 22 mg/cm² after one minute, held between 2 and 40', () => {
    expect(told('film')).toContain(`${filmMgPerCm2(400, 1)} √(µ/400)/√t`);
    expect(told('film is held between')).toContain(
      `${filmMgPerCm2(1, 10_000)} and ${filmMgPerCm2(400, 0)} mg/cm²`,
    );
  });

  it.each([
    ['texture, supports, raft', `area × ${TEXTURE}`],
    ['pre-rinse takes off: spray, brush', `${PRERINSE_SHARE.spray}`],
    ['pre-rinse takes off: spray, brush', `${PRERINSE_SHARE.brush}`],
    ['pre-rinse takes off: spin', `${PRERINSE_SHARE.spin}`],
    ['brush or spray between baths takes off', `${MIDRINSE_SHARE.brush} of what is undissolved`],
    ['brush or spray between baths takes off', `${MIDRINSE_SHARE.spray} of what is undissolved`],
    ['dissolution time, still', `${DISSOLUTION_MIN.still} min`],
    ['dissolution time, turned by hand', `${DISSOLUTION_MIN.hand} min`],
    ['dissolution time, stirred', `${DISSOLUTION_MIN.stirred} min`],
    ['dissolution time, ultrasonic', `${DISSOLUTION_MIN.ultrasonic} min`],
    ['drag-out, open parts, 10 s drip', `${DRAG_ML_PER_M2.open} mL/m²`],
    ['drag-out, hollow or cup-like', `${DRAG_ML_PER_M2.cup} mL/m²`],
    ['basket or tray', `${BASKET_ML} mL a dip`],
    ['area of a compact solid', `${partArea({ shape: 'solid', volume_ml: 1 })} V^(2/3) cm², V in mL`],
    ['small part (die, crown)', `${partArea({ shape: 'small', volume_ml: 1 })} V^(2/3)`],
    ['sheet of about 2 mm (splint, tray, guide)', `${partArea({ shape: 'sheet', volume_ml: 1 })} V`],
    ['mask of 2–3 mm', `${partArea({ shape: 'mask', volume_ml: 1 })} V`],
  ])('tells %s', (what, value) => {
    expect(told(what)).toBe(value);
  });

  it.each([
    ['models', 'resin in the clean bath, models'],
    ['body-contact', 'resin in the clean bath, body-contact parts'],
  ] as const)('tells the limits of a shop for %s', (use, clean) => {
    const [dirtyTub, cleanTub] = shopFor(use).tubs;
    expect(told('resin in the dirty bath')).toBe(`${dirtyTub!.limits.resin.join(', ')} wt%`);
    expect(told(clean)).toBe(`${cleanTub!.limits.resin.join(', ')} wt%`);
    expect(told('water in either bath')).toBe(`${dirtyTub!.limits.water.join(', ')} wt%`);
    expect(told('age of the clean bath')).toBe(`${cleanTub!.limits.ageDays} days, soon only`);
    expect(told('age of the dirty bath')).toBe(`${dirtyTub!.limits.ageDays} days, soon only`);
  });
});
