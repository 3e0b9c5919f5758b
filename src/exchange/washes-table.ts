/** The records of washes as a table, a row a wash. */
import type { Refused } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { Entry } from '../ledger/event.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Value } from './cell.ts';
import type { Inspected } from './inspected.ts';
import { type ExchangeTable, estimate } from './table.ts';
import { type WashRecord, washRecords } from './wash-records.ts';

interface Told {
  bands: boolean;
  clockMs: number;
  /** An instant as a ledger writes it. */
  time(ms: number): string;
  /** Of the program and of the equations. */
  versions: { program: string; model: string };
}

const FIRST = [
  'id',
  'at',
  'by',
  'parts',
  'parts_count',
  'volume_ml',
  'area_cm2',
  'resin',
  'lot',
  'cases',
  'drained_min',
  'prerinse',
  'midrinse',
  'agitation',
  'baths',
  'minutes',
  'from_defaults',
] as const;
const ESTIMATED = ['carry_g', 'residue_ug_per_cm2'] as const;
const FIGURES = { resin_wt_pct: 'resinWtPct', water_wt_pct: 'waterWtPct', volume_ml: 'volumeMl' } as const;
const OF_BATH = Object.keys(FIGURES) as (keyof typeof FIGURES)[];
const LAST = [
  'inspected',
  'inspection',
  'inspected_by',
  'inspection_note',
  'note',
  'logged',
  'amended_by',
  'as_of',
  'program',
  'model',
] as const;

/** The washes that took place, oldest first, with the baths before and after each; with `bands`, the 5 and 95 % points as well. */
export function washesTable(
  shop: Shop,
  entries: readonly Entry[],
  on: Told & { wanted(entry: Entry): boolean },
): { table: ExchangeTable; refused: readonly Refused[] } {
  const rows: Record<string, Value>[] = [];
  const refused = washRecords(shop, entries, on, (record) => rows.push(washRow(record, shop, on)));
  return { table: { columns: washColumns(shop, on.bands), rows }, refused };
}

export function washColumns(shop: Shop, bands: boolean): string[] {
  const banded = (name: string) => (bands ? [name, `${name}_p05`, `${name}_p95`] : [name]);
  const ofBath = shop.tubs.flatMap(({ name }) => [
    `${name}_washes`,
    `${name}_age_days`,
    ...['before', 'after'].flatMap((when) => OF_BATH.flatMap((one) => banded(`${name}_${when}_${one}`))),
    `${name}_dragged_ml`,
  ]);
  return [...FIRST, ...ESTIMATED.flatMap(banded), ...ofBath, ...LAST];
}

export function washRow(record: WashRecord, shop: Shop, told: Told): Record<string, Value> {
  const row = Object.assign(
    bathsOf(record, shop, told),
    washed(record, shop),
    inspected(record.inspected, told),
    recorded(record.entry, told),
  );
  spread(row, 'carry_g', record.carryG, told.bands);
  spread(row, 'residue_ug_per_cm2', record.residueUgPerCm2, told.bands);
  return row;
}

/** What was logged, with the defaults; `from_defaults` names those. */
function washed({ event, load, how, minutes, fromDefaults }: WashRecord, shop: Shop): Record<string, Value> {
  return {
    id: event.id,
    at: event.at,
    by: event.by,
    parts: event.parts,
    parts_count: event.parts && load.parts,
    volume_ml: estimate(load.volumeMl),
    area_cm2: estimate(load.areaCm2),
    resin: how.resin,
    drained_min: how.drainedMin,
    prerinse: how.prerinse,
    midrinse: how.midrinse,
    agitation: how.agitation,
    lot: event.lot,
    cases: event.cases,
    baths: load.baths.map((place) => shop.tubs[place]!.name),
    minutes,
    from_defaults: fromDefaults,
  };
}

function bathsOf({ load, dragMl, baths }: WashRecord, shop: Shop, { bands }: Told): Record<string, Value> {
  const row: Record<string, Value> = {};
  shop.tubs.forEach(({ name }, place) => {
    const { before, after, washes, ageDays } = baths[place]!;
    for (const one of OF_BATH) {
      spread(row, `${name}_before_${one}`, before[FIGURES[one]], bands);
      spread(row, `${name}_after_${one}`, after[FIGURES[one]], bands);
    }
    row[`${name}_washes`] = washes;
    row[`${name}_age_days`] = estimate(ageDays);
    const step = load.baths.indexOf(place);
    if (step >= 0) row[`${name}_dragged_ml`] = estimate(dragMl[step]!.p50);
  });
  return row;
}

/** An estimate into its column, its ends into theirs. */
function spread(row: Record<string, Value>, name: string, quantity: Quantity | null, bands: boolean): void {
  row[name] = estimate(quantity?.p50);
  if (!bands) return;
  row[`${name}_p05`] = estimate(quantity?.p05);
  row[`${name}_p95`] = estimate(quantity?.p95);
}

/** Several inspections stand in one cell each, in their order. */
function inspected(found: readonly Inspected[], { time }: Told): Record<string, Value> {
  const all = (of: (one: Inspected) => string | undefined) =>
    found.map(of).filter((one) => one !== undefined);
  const cell = (list: string[]) => (list.length === 0 ? undefined : list);
  return {
    inspected: cell(all(({ atMs }) => time(atMs))),
    inspection: cell(all(({ event }) => event.result)),
    inspected_by: cell(all(({ event }) => event.by)),
    inspection_note: cell(all(({ event }) => event.note)),
  };
}

function recorded({ event, amendedBy }: Entry, { clockMs, time, versions }: Told): Record<string, Value> {
  return {
    note: event.note,
    logged: event.logged,
    amended_by: amendedBy,
    as_of: time(clockMs),
    program: versions.program,
    model: versions.model,
  };
}
