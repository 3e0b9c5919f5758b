/**
 * Machine output about readings, in the unit of each.
 */
import type { Shop } from '../bath/shop.ts';
import type { Compared } from '../belief/belief.ts';
import { asResin, asWater } from '../belief/meaning.ts';
import { factorName } from '../outlook/factors-band.ts';

/** A reading beside what was expected of it. */
export function comparedDocument(one: Compared, shop: Shop): Record<string, unknown> {
  const { look, liquid, zero, entry } = one;
  const value = look && look.value - zero;
  const sees = look?.sees === 'density' || look?.sees === 'index';
  return {
    id: entry.event.id,
    sees: one.sees,
    value: Number(one.value.toPrecision(9)),
    expected: one.expected,
    sd: one.sd,
    misfit_sd: one.misfit,
    flagged: one.flagged,
    zero,
    as_resin_wt_pct: sees && liquid ? asResin(look, value!, liquid) : null,
    as_water_wt_pct: look?.sees === 'density' && liquid ? asWater(look, value!, liquid) : null,
    taught: one.taught.map((axis) => factorName(axis, shop)),
  };
}
