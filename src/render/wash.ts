/** What `wash` says: the load as understood, the resin it brought, both baths, loads left, drying, how to undo. */
import { soakMinutes } from '../bath/load.ts';
import type { Part, Shop } from '../bath/shop.ts';
import type { WashEvent } from '../ledger/event.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Status } from '../outlook/status.ts';
import { loadsLeftText } from './advice.ts';
import type { Line } from './echo.ts';
import { bandedMass, count, mass, minutes, trim } from './format.ts';

/** The wash in words, defaults told as well as what was typed. */
export function washWords(wash: WashEvent, shop: Shop): string {
  const { defaults } = shop;
  const soaks = soakMinutes(wash, shop).map((value) => trim(value, 1));
  const route = wash.baths ? ` in ${wash.baths.join(', ')}` : '';
  const pre = wash.prerinse ?? defaults.prerinse;
  const mid = wash.midrinse ?? defaults.midrinse;
  return [
    loadWords(wash),
    `resin ${wash.resin ?? defaults.resin}`,
    `drained ${minutes(wash.drained_min ?? defaults.drainedMin)}`,
    ...(pre === 'none' ? [] : [`${pre} before`]),
    `${soaks.join(' + ')} min${route}`,
    ...(mid === 'none' ? [] : [`${mid} between`]),
    wash.agitation ?? defaults.agitation,
    ...(wash.hollow ? ['all hollow'] : []),
  ].join(', ');
}

function loadWords(wash: WashEvent): string {
  if (wash.parts) {
    return Object.entries(wash.parts)
      .map(([name, number]) => `${number} ${name}`)
      .join(' + ');
  }
  const volume = wash.volume_ml === undefined ? [] : [`${trim(wash.volume_ml, 1)} mL`];
  const area = wash.area_cm2 === undefined ? [] : [`${trim(wash.area_cm2, 1)} cm²`];
  return `parts of ${[...volume, ...area].join(' and ')}`;
}

/** Carry-over with its band and where the figure comes from. */
export function carryLine(wash: WashEvent, carryG: Quantity, status: Status): Line {
  if (wash.carry_g !== undefined || wash.carry_ml !== undefined)
    return ['resin in', `${mass(carryG.p50)} (as measured)`];
  return ['resin in', `${bandedMass(carryG)}: ${factorWords(status)}`];
}

function factorWords({ factors, belief, shop }: Status): string {
  const taught = belief.lessons.taughtOf('carry');
  const factor = `carry-over factor ${trim(factors.carry, 2)}`;
  if (taught > 0) return `${factor}, from ${count(taught, 'reading')}`;
  if (factors.carry !== shop.factors.carry) return `${factor}, which readings have hardly moved`;
  return `${factor === 'carry-over factor 1' ? 'default factor' : `${factor} of the ledger`}, not calibrated`;
}

/** Loads left, where they can be counted. */
export function leftLine(status: Status): Line[] {
  return status.left ? [['loads left', loadsLeftText(status.left, status.estimates)]] : [];
}

/** The longest usual drying time of the parts in the load [min]. Common practice, no source. */
export function dryingMinutes(wash: WashEvent, shop: Shop): number {
  const parts = Object.keys(wash.parts ?? {}).map((name) => shop.parts.get(name)!);
  const hollow = wash.hollow === true || parts.some(({ shape }: Part) => shape === 'hollow');
  return Math.max(hollow ? 60 : 30, ...parts.map(({ dryMin }) => dryMin));
}

export function dryingLine(wash: WashEvent, shop: Shop): Line {
  return [
    'drying',
    `at least ${minutes(dryingMinutes(wash, shop))} in moving air before curing; blind holes longer; instructions for use decide`,
  ];
}

/** Cases and lot; empty when the wash names none. */
export function casesWords(wash: Pick<WashEvent, 'cases' | 'lot'>): string {
  const cases = wash.cases?.length
    ? [`${wash.cases.length === 1 ? 'case' : 'cases'} ${wash.cases.join(', ')}`]
    : [];
  return [...cases, ...(wash.lot ? [`lot ${wash.lot}`] : [])].join(', ');
}
