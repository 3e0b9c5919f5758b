/**
 * Solvent and waste in the report: used and on hand, the order; the month, the containers, the thresholds.
 */
import type { Supply } from '../outlook/supply.ts';
import type { Report } from '../records/report.ts';
import type { Threshold, WasteReported } from '../records/report-waste.ts';
import type { Stock } from '../records/stock.ts';
import type { Container } from '../records/waste.ts';
import { count, mass, trim, volume } from './format.ts';
import { heldText } from './held.ts';
import type { Fact, ReportView, Section } from './report-view.ts';
import { byWords } from './report-words.ts';
import { takenText } from './waste.ts';

const MS_PER_DAY = 86_400_000;

export function solventSection(report: Report, view: ReportView): Section[] {
  const { used, stock, receipts, supply, status } = report;
  const { currency } = status.shop;
  const price = (value: number) => `${value.toFixed(2)}${currency ? ` ${currency}` : ''}`;
  const facts: Fact[] = [
    ...used.map(
      ({ solvent, ml, money, paidBefore }): Fact => [
        'used',
        `${volume(ml)} of ${solvent}, ${paidBefore ? 'reclaimed: paid for when it was first poured' : money === null ? 'no price known' : price(money)}`,
      ],
    ),
    ...receipts.map(({ event, atMs }): Fact => {
      const lot = event.lot ? `, lot ${event.lot}` : '';
      const paid = event.price === undefined ? '' : `, ${price(event.price)}`;
      const when = `${view.moment(atMs)}${byWords(event)}`;
      return event.received_ml === undefined
        ? ['counted', `${volume(event.counted_ml ?? 0)} of ${event.solvent}, ${when}`]
        : ['received', `${volume(event.received_ml)} of ${event.solvent}${lot}${paid}, ${when}`];
    }),
    ...stock.flatMap((one) => onHandFacts(one, supply)),
    ...orderFacts(report, view),
  ];
  return facts.length > 0 ? [{ title: 'Solvent', blocks: [{ kind: 'facts', facts }] }] : [];
}

function onHandFacts({ solvent, onHandMl, belowZero }: Stock, supply: Supply | null): Fact[] {
  if (onHandMl === null) return [];
  if (belowZero) return [['on hand', heldText({ solvent, onHandMl })]];
  const enough =
    supply?.solvent === solvent && supply.enough !== null
      ? `, ${supply.enough ? 'enough' : 'less than it takes'} for the next change (${volume(supply.neededMl)})`
      : '';
  return [['on hand', `${volume(onHandMl)} of ${solvent}${enough}`]];
}

function orderFacts({ supply, status }: Report, view: ReportView): Fact[] {
  if (supply?.orderByDays == null) return [];
  const by =
    supply.orderByDays <= 0 ? 'now' : `by ${view.day(status.clockMs + supply.orderByDays * MS_PER_DAY)}`;
  return [['order', `${supply.solvent} ${by}`]];
}

/** D001, containers, sewer: 40CFR261.21, 40CFR262.15, 40CFR403.5 in data/SOURCES.md. */
const CAUTION =
  'spent solvent is ignitable waste: into a closed, labelled container, never down the drain, never left to evaporate';

export function wasteSection({ waste }: Report, view: ReportView): Section[] {
  if (!waste) return [];
  const { month, containers } = waste;
  const isAny = month.litres > 0 || containers.some(({ heldMl, takenMl }) => heldMl + takenMl > 0);
  const facts: Fact[] = [
    ['this month', monthText(month)],
    ...(month.kg > 0 ? thresholdFacts(waste) : []),
    ...containers.map((one): Fact => ['container', containerText(one, view)]),
    ...(isAny ? [['caution', CAUTION] as const] : []),
  ];
  return [{ title: `Waste, ${view.month(month.monthStartMs)}`, blocks: [{ kind: 'facts', facts }] }];
}

function monthText({ kg, litres, trayKg }: WasteReported['month']): string {
  const drained = litres > 0 ? [`${litres.toFixed(2)} L drained, ${mass((kg - trayKg) * 1000)}`] : [];
  const tray = trayKg > 0 ? [`${mass(trayKg * 1000)} of resin rinsed off into the tray`] : [];
  return [...drained, ...tray].join('; ') || 'none so far';
}

function containerText(one: Container, view: ReportView): string {
  const { container, heldMl, capacityMl, fullShare, ageDays, closed, closedMs, beyondMl } = one;
  const beyond = beyondMl > 0 ? `; ${volume(beyondMl)} more was taken out than the ledger knows of` : '';
  if (closed !== null) return `${container} ${closed} ${view.moment(closedMs!)}, ${takenText(one)}${beyond}`;
  const takes = capacityMl === null ? null : `${trim(capacityMl / 1000, 1)} L`;
  const share = fullShare === null ? '' : ` of ${takes} (${Math.round(100 * fullShare)} %)`;
  const holds =
    heldMl > 0 ? `holds ${volume(heldMl)}${share}` : `is empty${takes ? ` and takes ${takes}` : ''}`;
  const days = Math.floor(ageDays ?? 0);
  return `${container} ${holds}, in use for ${days === 0 ? 'less than a day' : count(days, 'day')}${beyond}`;
}

type Kind = Threshold['rule']['kind'];

const UNITS: Record<Kind, string> = {
  'month-kg': 'kg a month',
  'site-kg': 'kg on site',
  'age-days': 'days',
  'bench-litres': 'L in one container',
};

/** Those of the month always, lowest first; the others where they are passed. */
function thresholdFacts({ thresholds }: WasteReported): Fact[] {
  const sorted = [...thresholds].sort((one, other) => one.rule.value - other.rule.value);
  const monthly = sorted.filter(({ rule }) => rule.kind === 'month-kg');
  const texts = [
    ...sentence(
      'below',
      'month-kg',
      monthly.filter(({ past }) => !past),
    ),
    ...(Object.keys(UNITS) as Kind[]).flatMap((kind) =>
      sentence(
        'past',
        kind,
        sorted.filter(({ rule, past }) => past && rule.kind === kind),
      ),
    ),
  ];
  if (texts.length === 0) return [];
  return [
    ...texts.map((text, place): Fact => [place === 0 ? 'thresholds' : '', text]),
    ['', 'other hazardous waste of the site counts as well; local rules decide, ask your local authority'],
  ];
}

/** 1.97 kg this month is below 99.8 kg a month (US-Washington), 100 (US-EPA VSQG). */
function sentence(how: 'below' | 'past', kind: Kind, thresholds: readonly Threshold[]): string[] {
  const [first] = thresholds;
  if (!first) return [];
  const rules = thresholds.map(({ rule: { value, item, jurisdiction, generator } }, place) => {
    const unit = place === 0 ? ` ${UNITS[kind]}` : '';
    const [condition] = / if .*$/.exec(item) ?? [];
    return `${trim(value, 1)}${unit} (${[jurisdiction, generator].filter(Boolean).join(' ')}${condition ?? ''})`;
  });
  return [`${amountText(kind, first.amount)} is ${how} ${rules.join(', ')}`];
}

function amountText(kind: Kind, amount: number): string {
  switch (kind) {
    case 'month-kg':
      return `${mass(amount * 1000)} this month`;
    case 'site-kg':
      return `${mass(amount * 1000)} in containers`;
    case 'age-days':
      return `the oldest container, ${count(Math.floor(amount), 'day')},`;
    case 'bench-litres':
      return `the fullest container, ${volume(amount * 1000)},`;
    default:
      return kind satisfies never;
  }
}
