/**
 * A reading beside what was expected of it: how far off, what it could mean, what it taught.
 */
import type { Compared } from '../belief/belief.ts';
import type { Axis } from '../belief/factors.ts';
import { asResin, asWater, contentsOf, separated } from '../belief/meaning.ts';
import { OUTLIER } from '../belief/update.ts';
import type { ReadingEvent } from '../ledger/event.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Line } from './echo.ts';
import { banded, percent } from './format.ts';

interface Unit {
  unit: string;
  digits: number;
  /** In the unit of the estimate; else it is the same. */
  size?: number;
}

/** The unit of the reading, but for levels, which are litres wherever they are shown. */
function withUnit({ sees, entry }: Compared): Unit {
  const event = entry.event as ReadingEvent;
  switch (sees) {
    case 'density':
      return event.sg === undefined ? { unit: ' g/mL', digits: 4 } : { unit: ' SG', digits: 4 };
    case 'index':
      return event.brix === undefined ? { unit: '', digits: 4 } : { unit: ' °Brix', digits: 1 };
    case 'resin':
      return { unit: ' wt%', digits: 2 };
    case 'volume':
      return { unit: ' L', digits: 2, size: 1000 };
    case 'mass':
      return { unit: ' g', digits: 0 };
    case 'carry':
      return { unit: ' g', digits: 2 };
    default:
      return sees satisfies never;
  }
}

/** Expected, read, and how far apart; then what it would mean, where that can be told. */
export function comparedLines(one: Compared): Line[] {
  const { unit, digits, size = 1 } = withUnit(one);
  const read = `${(one.value / size).toFixed(digits)}${unit}`;
  return [['expected', `${expectedText(one)}; read ${read}, ${farOff(one)}`], ...meaningLines(one)];
}

function expectedText(one: Compared): string {
  const { unit, digits, size = 1 } = withUnit(one);
  const { p05, p50, p95 } = one.expected;
  return `${banded({ p05: p05 / size, p50: p50 / size, p95: p95 / size }, digits)}${unit}`;
}

/** One sample seen by a density and by a refractive index: the two together. */
export function togetherLines(all: readonly Compared[]): Line[] {
  const density = all.find(({ sees }) => sees === 'density');
  const index = all.find(({ sees }) => sees === 'index');
  if (!density?.look || !index?.look || !density.liquid) return [];
  const both = separated(
    { look: density.look, value: density.look.value - density.zero },
    { look: index.look, value: index.look.value - index.zero },
    density.liquid,
  );
  const water = both && both.waterWtPct > 0 ? `${percent(both.waterWtPct)} wt% water` : 'hardly any water';
  return both
    ? [
        [
          'together',
          `${percent(both.resinWtPct)} wt% resin and ${water} in the solvent: the index sees the resin, and the density then tells the water`,
        ],
      ]
    : [['together', 'no mixture of resin, IPA and water has both; read one of them again']];
}

function farOff({ misfit, value, expected }: Compared): string {
  if (misfit < 1) return 'as expected';
  const far = `${value > expected.p50 ? 'higher' : 'lower'} than expected by ${misfit.toFixed(1)} standard deviations of reading and estimate`;
  if (misfit > OUTLIER) return `${far}, too far for chance`;
  return misfit < 2 ? far : `${far}, which is rare`;
}

function meaningLines(one: Compared): Line[] {
  const { look, liquid, zero } = one;
  if (!look || !liquid || (look.sees !== 'density' && look.sees !== 'index')) return [];
  const value = look.value - zero;
  const held = contentsOf(liquid);
  const resin = asResin(look, value, liquid);
  const water = look.sees === 'density' ? asWater(look, value, liquid) : null;
  const ways = [
    ...(resin === null
      ? []
      : [
          `${percent(resin)} wt% resin if the solvent holds the ${percent(held.waterWtPct)} wt% water estimated`,
        ]),
    ...(water === null
      ? []
      : [`${percent(water)} wt% water if the resin is the ${percent(held.resinWtPct)} wt% estimated`]),
  ];
  const means = ways.length > 0 ? ways.join(', or ') : 'no mixture near the estimate reads so';
  return [['would be', `${means}; ${confusedWith(one)}`], ...zeroLines(one)];
}

/** A degree is worth about 0.00083 g/mL (DAOUDI2012), a wt% of resin 0.0023; in index 0.00044 (CHU1962) and 0.0008. */
function confusedWith({ sees }: Compared): string {
  return sees === 'density'
    ? 'a density cannot tell one from the other, and 3 °C too warm hides 1 wt% of resin'
    : 'water hardly shows in the index, and 2 °C too warm hides 1 wt% of resin';
}

function zeroLines({ zero, sees }: Compared): Line[] {
  if (zero === 0) return [];
  return [
    [
      'zero',
      `${zero > 0 ? '' : '−'}${Math.abs(zero).toFixed(4)}${sees === 'density' ? ' g/mL' : ''} taken off, as the same instrument was off in this liquid when it was fresh`,
    ],
  ];
}

/** What to look at when a reading cannot be chance. */
export function flagText(one: Compared): string {
  const { sees, misfit, isZero } = one;
  if (isZero) return zeroText(one);
  const what = sees === 'carry' ? 'weighed load' : 'reading';
  return `The ${what} is ${misfit.toFixed(1)} standard deviations from what was expected, so it counts for less. Check ${SUSPECTS[sees]}`;
}

/** In fresh solvent there is nothing else to explain it. */
function zeroText({ expected, value, sees }: Compared): string {
  const off = `Fresh solvent of the strength in the ledger would read ${expected.p50.toFixed(4)}, not ${value.toFixed(4)}`;
  const strength =
    sees === 'density'
      ? ': the instrument or the temperature is off, or the solvent is not what its label says. If it is weaker (bathbook strength tells), correct the solvent in the head of the ledger, or its water is missing in every estimate'
      : ': the instrument, its scale or the temperature is off';
  return `${off}${strength}. Later readings of this liquid count by their difference from this one`;
}

const LOG = 'whether every wash, top-up and change since the last fill is logged';
const SUSPECTS: Record<Compared['sees'], string> = {
  density: `the temperature, the scale (g/mL or SG), that the bath was stirred and the glass dry; the strength of the solvent (bathbook strength); ${LOG}`,
  index: `the temperature, the scale (n or °Brix), a clean prism set to zero with water; the resin's index in the ledger; ${LOG}`,
  resin: `that the residue was dry and cured, the sample stirred, grams and millilitres not exchanged; ${LOG}`,
  volume: `the mark of the tub, parts or a basket left in it; a lid left open, a spill; ${LOG}`,
  mass: `that the tub's own weight was taken off; a lid left open, a spill; ${LOG}`,
  carry:
    'that both weighings had the same parts, platform and basket, that the clean parts were dry, and the right wash is named',
};

/** A best estimate that moves by less is not told to have moved. */
const MOVED = 0.02;

/** Factors whose spread was brought down by a hundredth or more, and those whose best estimate moved alone, before and after. */
export function taughtLines(
  all: readonly Compared[],
  axes: readonly Axis[],
  band: (axis: Axis) => { before: Quantity; after: Quantity; name: string },
): Line[] {
  const isTaught = (axis: Axis) =>
    all.some(({ taught }) => taught.some(({ name, tub }) => name === axis.name && tub === axis.tub));
  const isMoved = (axis: Axis) => {
    const { before, after } = band(axis);
    return Math.abs(Math.log(after.p50 / before.p50)) >= MOVED;
  };
  return [
    ...factorLines('taught', axes.filter(isTaught), band),
    ...factorLines(
      'moved',
      axes.filter((axis) => !isTaught(axis) && isMoved(axis)),
      band,
    ),
  ];
}

function factorLines(
  label: string,
  axes: readonly Axis[],
  band: (axis: Axis) => { before: Quantity; after: Quantity; name: string },
): Line[] {
  return axes.map((axis, nth) => {
    const { before, after, name } = band(axis);
    return [nth === 0 ? label : '', `${name} ${banded(before)} → ${banded(after)}`];
  });
}

/** For lists: the value read and what was expected. */
export function comparedWords(one: Compared): string {
  return `expected ${expectedText(one)}${one.flagged ? `, ${one.misfit.toFixed(1)} sd off` : ''}`;
}
