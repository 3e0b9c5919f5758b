/** Waste: what stands in which container, what arose this month, and the thresholds of published rules beside it. */
import type { Threshold, WasteReported } from '../records/report-waste.ts';
import type { Container } from '../records/waste.ts';
import type { Line } from './echo.ts';
import { count, mass, trim, volume } from './format.ts';
import { printable } from './printable.ts';
import type { Table } from './table.ts';

const NOWHERE = 'none named';

/** D001, containers, sewer: 40CFR261.21, 40CFR262.15, 40CFR403.5 in data/SOURCES.md. */
export const CAUTION =
  'spent solvent is ignitable waste: into a closed, labelled container, away from sparks, flames and sun; never down the drain, never left to evaporate; gloves, the safety data sheets say which';

/** In the words of 40CFR262.13. */
export const GENERATORS = 'VSQG, SQG, LQG: very small, small and large quantity generator of hazardous waste';

/** The jurisdictions of the rules in data/limits.csv. */
export const WHOSE =
  'These limits are those of US federal rules (US-EPA) and of the state of Washington, as printed; elsewhere, and in other states, others apply';

export const LOCAL =
  'other hazardous waste of the site counts as well; local rules decide, ask your local authority';

/** Grams of all that stands in a container. */
export function heldG({ grams }: Pick<Container, 'grams'>): number {
  return grams.resin + grams.ipa + grams.water;
}

/** A row for each filling of a container. */
export function containersTable(containers: readonly Container[], day: (ms: number) => string): Table {
  return {
    head: ['container', 'holds', 'full', 'weight', 'resin', 'IPA', 'in use since'],
    rows: containers.map((one) =>
      [
        one.container ?? NOWHERE,
        volume(one.heldMl),
        fullText(one),
        mass(heldG(one)),
        mass(one.grams.resin),
        mass(one.grams.ipa),
        sinceText(one, day),
      ].map(printable),
    ),
    right: [1, 2, 3, 4, 5],
  };
}

function fullText({ capacityMl, fullShare }: Container): string {
  if (capacityMl === null || fullShare === null) return '';
  return `${Math.round(100 * fullShare)} % of ${trim(capacityMl / 1000, 1)} L`;
}

function sinceText(one: Container, day: (ms: number) => string): string {
  const { container, openedMs, ageDays, closed, closedMs, takenMl, reclaimedMl } = one;
  const since = day(openedMs);
  if (container === null) return since;
  if (closed !== null) return `${since}, ${closed} ${day(closedMs!)} (${volume(takenMl - reclaimedMl)})`;
  const days = Math.floor(ageDays ?? 0);
  return `${since}, ${days === 0 ? 'today' : count(days, 'day')}`;
}

/** Below the table: the month, the tray, what does not add up, the caution. */
export function wasteLines(
  { month, siteKg }: WasteReported,
  on: { trayG: number; containers: readonly Container[]; month: string },
): Line[] {
  const unnamed = on.containers.find(({ container }) => container === null);
  return [
    [on.month, monthText(month)],
    ['on site', `${mass(siteKg * 1000)} in containers that are named`],
    ...(on.trayG > 0
      ? [
          [
            'tray',
            `${mass(on.trayG)} of resin was rinsed off into it so far; it is in no container here`,
          ] as const,
        ]
      : []),
    ...(unnamed
      ? [
          [
            'no name',
            `${volume(unnamed.heldMl)} was drained without saying where to; name it from now on with --into can-1`,
          ] as const,
        ]
      : []),
    ...on.containers.flatMap(oddLines),
  ];
}

function monthText({ kg, litres, trayKg }: WasteReported['month']): string {
  if (kg === 0) return 'none so far';
  const tray = trayKg > 0 ? `, ${mass(trayKg * 1000)} of it resin rinsed off into the tray` : '';
  return `${mass(kg * 1000)} (${litres.toFixed(2)} L drained${tray})`;
}

function oddLines({ container, closed, beyondMl, fullShare }: Container): Line[] {
  if (container === null || closed !== null) return [];
  return [
    ...((fullShare ?? 0) > 1
      ? [['overfull', `${container}: more went in than it takes; check what was logged`] as const]
      : []),
    ...(beyondMl > 0
      ? [
          [
            'missing',
            `${container}: ${volume(beyondMl)} more was taken out than the ledger knows of`,
          ] as const,
        ]
      : []),
  ].map(([label, text]): Line => [label, printable(text)]);
}

type Kind = Threshold['rule']['kind'];

const WHAT: Record<Kind, string> = {
  'month-kg': 'this month',
  'site-kg': 'on site',
  'age-days': 'oldest can',
  'bench-litres': 'fullest can',
};

/** Published upper limits beside what there is; in the order of what is measured, lowest first. */
export function thresholdsTable(thresholds: readonly Threshold[]): Table {
  const kinds = Object.keys(WHAT) as Kind[];
  const sorted = kinds.flatMap((kind) =>
    thresholds
      .filter(({ rule }) => rule.kind === kind)
      .sort((one, other) => one.rule.value - other.rule.value),
  );
  return {
    head: ['what', 'now', 'limit', 'of'],
    rows: sorted.map(({ rule, amount, past }) => [
      WHAT[rule.kind],
      amountText(rule.kind, amount),
      `${past ? 'PAST: ' : ''}${rule.includes ? 'up to' : 'under'} ${amountText(rule.kind, rule.value)}`,
      `${rule.jurisdiction}${rule.generator ? ` ${rule.generator}` : ''}${/ if .*$/.exec(rule.item)?.[0] ?? ''}, ${rule.citation}`,
    ]),
    right: [1, 2],
  };
}

function amountText(kind: Kind, amount: number): string {
  switch (kind) {
    case 'month-kg':
    case 'site-kg':
      return `${trim(amount, amount < 10 ? 2 : 1)} kg`;
    case 'age-days':
      return count(Math.floor(amount), 'day');
    case 'bench-litres':
      return `${trim(amount, amount < 10 ? 2 : 0)} L`;
    default:
      return kind satisfies never;
  }
}

/** One container in a sentence, as it is after an entry. */
export function containerText(one: Container): string {
  const name = one.container ?? 'no container named';
  if (one.closed !== null) return `${name}: ${one.closed}, ${takenText(one)}`;
  const size = one.capacityMl === null ? '' : ` of ${trim(one.capacityMl / 1000, 1)} L`;
  if (one.heldMl <= 0) return `${name}: empty${size ? `, takes ${size.slice(4)}` : ''}`;
  const share = one.fullShare === null ? '' : ` (${Math.round(100 * one.fullShare)} %)`;
  return `${name}: about ${volume(one.heldMl)}${size}${share}, ${mass(heldG(one))}, of it ${mass(one.grams.resin)} resin and ${mass(one.grams.ipa)} IPA`;
}

/** One filling of a container in a document. */
export function containerDocument(one: Container, time: (ms: number) => string): Record<string, unknown> {
  return {
    container: one.container,
    opened_at: time(one.openedMs),
    capacity_ml: one.capacityMl,
    holds_ml: one.heldMl,
    full_share: one.fullShare,
    holds_g: { resin: one.grams.resin, ipa: one.grams.ipa, water: one.grams.water },
    age_days: one.ageDays,
    taken_ml: one.takenMl,
    reclaimed_ml: one.reclaimedMl,
    beyond_ml: one.beyondMl,
    closed: one.closed,
    closed_at: one.closedMs === null ? null : time(one.closedMs),
  };
}

/** A threshold in a document. */
export function thresholdDocument({ rule, amount, past }: Threshold): Record<string, unknown> {
  return {
    what: rule.kind,
    jurisdiction: rule.jurisdiction,
    item: rule.item,
    generator: rule.generator,
    limit: rule.value,
    includes_limit: rule.includes,
    amount,
    past,
    citation: rule.citation,
    source: rule.source,
    status: rule.status,
  };
}

/** What left a container that is closed: taken away, and reclaimed before. */
export function takenText({ takenMl, reclaimedMl }: Pick<Container, 'takenMl' | 'reclaimedMl'>): string {
  const reclaimed = reclaimedMl > 0 ? `, after ${volume(reclaimedMl)} of it was reclaimed` : '';
  return `with ${volume(takenMl - reclaimedMl)} taken away in all${reclaimed}`;
}
