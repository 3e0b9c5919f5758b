/** Solvent on hand: a table by solvent and lot, how long it lasts, what a wash and a part cost. */
import type { Cost } from '../records/cost.ts';
import type { Stock } from '../records/stock.ts';
import type { Line } from './echo.ts';
import { count, trim, volume } from './format.ts';
import { heldText } from './held.ts';
import { UNTESTED } from './peroxide-words.ts';
import { printable } from './printable.ts';
import type { Table } from './table.ts';

type Lot = Stock['lots'][number];

export interface LotItem extends Lot {
  /** Of the receipts that name one. */
  pricePerL: number | null;
}

export interface StockItem extends Omit<Stock, 'lots'> {
  lots: LotItem[];
  /** The last count. */
  countedMl: number | null;
  /** Days that the pace is taken from, at most 28. */
  paceDays: number;
  /** Until what is on hand is poured at that pace; null where it cannot be told. */
  lastsDays: number | null;
  /** When the oldest reclaimed solvent on hand is to be tested for peroxides. */
  testByMs: number | null;
}

export interface StockView {
  currency: string;
  clockMs: number;
  /** A day as people read it. */
  day: (ms: number) => string;
}

/** An amount of money with the currency of the shop. */
export function money(value: number, currency: string): string {
  return `${value.toFixed(2)}${currency ? ` ${printable(currency)}` : ''}`;
}

/** Narrower than this the days of the lots are left out, and beside what was reclaimed the prices. */
const WIDTH_WITH_DAYS = 72;

/**
 * A row for each solvent, and below it one for each lot. To be read by people the only lot stands in the row of its solvent, and the
 * name of a solvent is not said again.
 */
export function stockTable(
  items: readonly StockItem[],
  view: StockView & { width: number; forPeople: boolean },
): Table {
  const isReclaimed = items.some(({ reclaimedMl }) => reclaimedMl > 0);
  const columns = [
    'solvent',
    'lot',
    'received',
    ...(isReclaimed ? ['reclaimed'] : []),
    'used',
    'on hand',
    ...(isReclaimed && view.width < WIDTH_WITH_DAYS ? [] : ['a litre']),
    ...(view.width >= WIDTH_WITH_DAYS ? ['came in'] : []),
  ];
  const rows = items.flatMap((one) => (view.forPeople ? readRows(one, view) : fullRows(one, view)));
  return {
    head: columns,
    rows: rows.map((cells) => columns.map((name) => printable(cells[name] ?? ''))),
    right: columns.flatMap((name, place) => (RIGHT.includes(name) ? [place] : [])),
  };
}

function fullRows(one: StockItem, view: StockView): Record<string, string>[] {
  return [solventCells(one, view), ...one.lots.map((lot) => lotCells(one.solvent, lot, view))];
}

function readRows(one: StockItem, view: StockView): Record<string, string>[] {
  const [first, ...rest] = one.lots.map((lot) => lotCells('', lot, view));
  const whole = solventCells(one, view);
  if (!first) return [whole];
  if (rest.length === 0) return [{ ...first, ...whole, lot: one.lots[0]!.lot ?? '' }];
  return [{ ...whole, lot: 'all' }, first, ...rest];
}

const RIGHT = ['received', 'reclaimed', 'used', 'on hand', 'a litre'];

function solventCells(one: StockItem, view: StockView): Record<string, string> {
  return {
    solvent: one.solvent,
    received: volume(one.receivedMl),
    reclaimed: volume(one.reclaimedMl),
    used: volume(one.usedMl),
    'on hand': one.onHandMl === null ? 'not known' : volume(one.onHandMl),
    'a litre': one.pricePerL === null ? '' : money(one.pricePerL, view.currency),
  };
}

function lotCells(solvent: string, lot: LotItem, view: StockView): Record<string, string> {
  return {
    solvent,
    lot: lot.lot ?? 'none named',
    received: volume(lot.receivedMl),
    'a litre': lot.pricePerL === null ? '' : money(lot.pricePerL, view.currency),
    'came in': view.day(lot.atMs),
  };
}

/** What is on hand of one solvent, in a sentence. */
export function onHandText({ solvent, onHandMl }: Stock): string {
  if (onHandMl === null) return `${solvent}: not known, nothing was received or counted yet`;
  return heldText({ solvent, onHandMl });
}

/** Below the table: what is below nothing, how long it lasts, what it costs, what was reclaimed. */
export function stockLines(
  items: readonly StockItem[],
  costs: { recent: Cost; all: Cost },
  view: StockView,
): Line[] {
  return [
    ...items.filter(({ belowZero }) => belowZero).map((one): Line => ['missing', onHandText(one)]),
    ...labelledOnce(
      'counted',
      items.flatMap((one) => countedText(one, view)),
    ),
    ...labelledOnce('lasts', lastsTexts(items)),
    ...labelledOnce('cost', [
      ...(isSame(costs) ? [] : costText('the last 28 days', costs.recent, view.currency)),
      ...costText('the whole ledger', costs.all, view.currency),
    ]),
    ...labelledOnce(
      'reclaimed',
      items.flatMap((one) => reclaimText(one, view)),
    ),
  ].map(([label, text]): Line => [label, printable(text)]);
}

function labelledOnce(label: string, texts: readonly string[]): Line[] {
  return texts.map((text, place): Line => [place === 0 ? label : '', text]);
}

function countedText({ solvent, countedMs, countedMl }: StockItem, { day }: StockView): string[] {
  return countedMs === undefined ? [] : [`${solvent}: ${volume(countedMl ?? 0)} on ${day(countedMs)}`];
}

function lastsTexts(items: readonly StockItem[]): string[] {
  const texts = items.flatMap(lastsText);
  return items.some(({ lastsDays }) => lastsDays !== null) ? [...texts, LUMPS] : texts;
}

const LUMPS = 'estimates; changes of a bath come in lumps, see: bathbook outlook';

function lastsText({ solvent, onHandMl, used28Ml, paceDays, lastsDays }: StockItem): string[] {
  if (onHandMl === null || onHandMl <= 0) return [];
  if (used28Ml === 0) return [`${solvent}: none was poured in the last 28 days`];
  const days = Math.floor(paceDays);
  if (lastsDays === null)
    return [`${solvent}: the ledger is ${count(days, 'day')} old, too young to tell a pace`];
  const span = days >= 28 ? 'the last 28 days' : `the ${days} days of the ledger`;
  return [
    `${solvent}: about ${count(Math.max(1, Math.round(lastsDays)), 'day')} at the pace of ${span} (${volume(used28Ml)} poured)`,
  ];
}

/** A ledger that is younger than the days of the pace. */
function isSame({ recent, all }: { recent: Cost; all: Cost }): boolean {
  return recent.pouredMl === all.pouredMl && recent.washes === all.washes && recent.money === all.money;
}

function costText(period: string, cost: Cost, currency: string): string[] {
  const { pouredMl, unpriced, perWash, perPart, washes, uncountedWashes } = cost;
  if (pouredMl === 0 || washes === 0) return [];
  if (cost.money === null) return [`${period}: no price known of ${unpriced.join(', ')}`];
  const each = [
    ...(perWash === null ? [] : [`${money(perWash, currency)} a wash`]),
    ...(perPart === null
      ? []
      : [`${money(perPart, currency)}${uncountedWashes > 0 ? ' or less' : ''} a part`]),
  ];
  return [
    `${period}: ${each.join(', ')} (${money(cost.money, currency)} for ${volume(pouredMl)}, ${count(washes, 'wash', 'washes')}, ${partsText(cost)})`,
  ];
}

/** Loads given by their area or from files do not say how many parts they were. */
function partsText({ parts, washes, uncountedWashes }: Cost): string {
  const told = washes - uncountedWashes;
  if (uncountedWashes === 0) return count(parts, 'part');
  if (told === 0) return 'none of which says how many parts it was';
  return `${count(parts, 'part')} in the ${told} of them that ${told === 1 ? 'says' : 'say'} how many`;
}

/** Nothing that was reclaimed comes free, and none of it keeps for ever. */
function reclaimText({ solvent, reclaimedMl, testByMs }: StockItem, { day, clockMs }: StockView): string[] {
  if (reclaimedMl === 0) return [];
  const test =
    testByMs === null
      ? ''
      : testByMs <= clockMs
        ? `; peroxide test due since ${day(testByMs)}, ${UNTESTED}`
        : `; peroxide test by ${day(testByMs)}`;
  return [`${solvent}: for the dirty bath only; paid for when it was first poured, in the cost above${test}`];
}

/** The data of one solvent in a document. */
export function stockDocument(one: StockItem, time: (ms: number) => string): Record<string, unknown> {
  return {
    solvent: one.solvent,
    on_hand_ml: one.onHandMl,
    below_zero: one.belowZero,
    counted_ml: one.countedMl,
    counted_at: one.countedMs === undefined ? null : time(one.countedMs),
    received_ml: one.receivedMl,
    reclaimed_ml: one.reclaimedMl,
    used_ml: one.usedMl,
    used_28_days_ml: one.used28Ml,
    price_per_l: one.pricePerL,
    price_from: one.priceFrom,
    lots: one.lots.map(({ lot, receivedMl, atMs, pricePerL }) => ({
      lot,
      received_ml: receivedMl,
      first_at: time(atMs),
      price_per_l: pricePerL,
    })),
    lasts_days: trimmed(one.lastsDays),
    peroxide_test_by: one.testByMs === null ? null : time(one.testByMs),
  };
}

function trimmed(value: number | null): number | null {
  return value === null ? null : Number(trim(value, 3));
}

/** What solvent cost in a period. */
export function costDocument(cost: Cost): Record<string, unknown> {
  return {
    poured_ml: cost.pouredMl,
    money: cost.money,
    unpriced: cost.unpriced,
    washes: cost.washes,
    parts: cost.parts,
    uncounted_washes: cost.uncountedWashes,
    per_wash: cost.perWash,
    per_part: cost.perPart,
  };
}
