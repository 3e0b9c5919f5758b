/** The record of each wash for an audit: who, when, what, in what, and what the model estimates of it. */
import { soakMinutes } from '../bath/load.ts';
import { type Along, priorMedians, type Refused, type Replay, replay, type Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { Belief } from '../belief/belief.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Entry, WashEvent } from '../ledger/event.ts';
import { bandsOf } from '../outlook/estimate.ts';
import { lastWashOf } from '../outlook/factors-band.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Value } from './cell.ts';
import { type Inspected, inspectionsOf } from './inspected.ts';
import { type ExchangeTable, estimate } from './table.ts';

interface On {
  clockMs: number;
  wanted(entry: Entry): boolean;
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
const OF_BATH = ['resin_wt_pct', 'water_wt_pct', 'volume_ml'] as const;
const FIGURES = { resin_wt_pct: 'resinWtPct', water_wt_pct: 'waterWtPct', volume_ml: 'volumeMl' } as const;
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
const MS_PER_DAY = 86_400_000;

/** The washes that took place, oldest first, with the baths before and after each and their 5 and 95 % points. */
export function washesTable(
  shop: Shop,
  entries: readonly Entry[],
  on: On,
): { table: ExchangeTable; refused: readonly Refused[] } {
  const rows: Record<string, Value>[] = [];
  const inspections = inspectionsOf(entries);
  const factors = priorMedians(shop);
  const belief = new Belief(shop, factors, entries);
  let before: Before | undefined;
  const along: Along = {
    happened: (step, solvent, baths) => {
      before = step.wash && on.wanted(step.entry) ? beforeOf(step, shop, belief.ensemble) : undefined;
      return belief.happened(step, solvent, baths);
    },
    read: (entry, event, baths) => belief.read(entry, event, baths),
    settled: (clockMs) => belief.settled(clockMs),
  };
  const watch = (step: Step): void => {
    if (step.wash && before)
      rows.push({
        ...washed(step.entry.event as WashEvent, step, shop),
        ...estimated(step, shop, { before, seen: belief.ensemble.at(step.entry.atMs) }),
        ...inspected(inspections.get(step.entry.event.id) ?? [], on),
        ...recorded(step.entry, on),
      });
  };
  const { refused } = replay(shop, entries, on.clockMs, { factors, along, watch });
  return { table: { columns: columnsOf(shop), rows }, refused };
}

interface Before {
  baths: Bath[];
  bands: ReturnType<typeof bandsOf>[];
}

/** The baths as they stood when the load came, before the worlds take the wash in. */
function beforeOf({ entry, before }: Step, shop: Shop, ensemble: Ensemble): Before {
  const seen = ensemble.at(entry.atMs);
  return {
    baths: before.map(copyBath),
    bands: shop.tubs.map((_, place) => bandsOf(shop, before[place]!, place, seen)),
  };
}

function columnsOf(shop: Shop): string[] {
  const banded = (name: string) => [name, `${name}_p05`, `${name}_p95`];
  const ofBath = shop.tubs.flatMap(({ name }) => [
    `${name}_washes`,
    `${name}_age_days`,
    ...['before', 'after'].flatMap((when) => OF_BATH.flatMap((one) => banded(`${name}_${when}_${one}`))),
    `${name}_dragged_ml`,
  ]);
  return [...FIRST, ...ESTIMATED.flatMap(banded), ...ofBath, ...LAST];
}

/** What was logged, with the shop's defaults where the wash is silent; `from_defaults` names those. */
function washed(event: WashEvent, { load }: Step, shop: Shop): Record<string, Value> {
  const { defaults } = shop;
  const usual = {
    resin: defaults.resin,
    drained_min: defaults.drainedMin,
    prerinse: defaults.prerinse,
    midrinse: defaults.midrinse,
    agitation: defaults.agitation,
  };
  const minutes = soakMinutes(event, shop);
  const logged = event as unknown as Record<string, Value>;
  return {
    id: event.id,
    at: event.at,
    by: event.by,
    parts: event.parts,
    parts_count: event.parts && load!.parts,
    volume_ml: estimate(load!.volumeMl),
    area_cm2: estimate(load!.areaCm2),
    ...usual,
    ...Object.fromEntries(
      Object.keys(usual).flatMap((key) => (logged[key] === undefined ? [] : [[key, logged[key]]])),
    ),
    lot: event.lot,
    cases: event.cases,
    baths: load!.baths.map((place) => shop.tubs[place]!.name),
    minutes,
    from_defaults: [...Object.keys(usual), 'minutes'].filter((key) => logged[key] === undefined),
  };
}

function estimated(
  { entry, load, wash, baths }: Step,
  shop: Shop,
  { before, seen }: { before: Before; seen: Ensemble },
): Record<string, Value> {
  const replayed: Replay = {
    baths: [],
    tally: emptyTally(),
    recent: [{ entry, load: load!, outcome: wash! }],
    solvent: undefined,
    refused: [],
  };
  const { carryG, residueUgPerCm2 } = lastWashOf(replayed, seen)!;
  const row: Record<string, Value> = {
    ...spread('carry_g', carryG),
    ...spread('residue_ug_per_cm2', residueUgPerCm2),
  };
  shop.tubs.forEach(({ name }, place) => {
    const bath = baths[place]!;
    const after = bandsOf(shop, bath, place, seen);
    for (const one of OF_BATH) {
      Object.assign(row, spread(`${name}_before_${one}`, before.bands[place]![FIGURES[one]]));
      Object.assign(row, spread(`${name}_after_${one}`, after[FIGURES[one]]));
    }
    const { pouredMs, washes } = before.baths[place]!;
    row[`${name}_washes`] = washes;
    row[`${name}_age_days`] = estimate((entry.atMs - pouredMs) / MS_PER_DAY);
    const step = load!.baths.indexOf(place);
    if (step >= 0) row[`${name}_dragged_ml`] = estimate(wash!.dragMl[step]);
  });
  return row;
}

function spread(name: string, quantity: Quantity | null): Record<string, Value> {
  const [p05, p50, p95] = [quantity?.p05, quantity?.p50, quantity?.p95].map(estimate);
  return { [name]: p50, [`${name}_p05`]: p05, [`${name}_p95`]: p95 };
}

/** Several inspections stand in one cell each, in their order. */
function inspected(found: readonly Inspected[], { time }: On): Record<string, Value> {
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

function recorded({ event, amendedBy }: Entry, { clockMs, time, versions }: On): Record<string, Value> {
  return {
    note: event.note,
    logged: event.logged,
    amended_by: amendedBy,
    as_of: time(clockMs),
    program: versions.program,
    model: versions.model,
  };
}
