/** The record of each wash for an audit: who, when, what, in what, and what the model estimates of it. */

import { figuresOf } from '../bath/figures.ts';
import { type Load, soakMinutes } from '../bath/load.ts';
import { type Along, priorMedians, type Refused, replay, type Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath, isBeyondModel } from '../bath/state.ts';
import { Belief, type Compared } from '../belief/belief.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Agitation, Entry, Midrinse, Prerinse, WashEvent, WeighedEvent } from '../ledger/event.ts';
import { bandsOf } from '../outlook/estimate.ts';
import { lastWashOf } from '../outlook/factors-band.ts';
import { best, type Quantity } from '../outlook/quantity.ts';
import { type Inspected, inspectionsOf } from './inspected.ts';

export interface WashRecord {
  entry: Entry;
  event: WashEvent;
  load: Load;
  /** As logged, with the defaults where the wash is silent. */
  how: { resin: string; drainedMin: number; prerinse: Prerinse; midrinse: Midrinse; agitation: Agitation };
  /** In each bath of the route. */
  minutes: readonly number[];
  /** Keys of the ledger that the wash leaves to the defaults. */
  fromDefaults: string[];
  carryG: Quantity;
  /** Out of each bath of the route. */
  dragMl: Quantity[];
  /** p50 is not a number where the surface of the load is not known. */
  residueUgPerCm2: Quantity;
  /** In the order of `shop.tubs`. */
  baths: BathRecord[];
  inspected: readonly Inspected[];
  weighed: readonly WeighedEvent[];
}

/** One bath at a wash. */
export interface BathRecord {
  before: BathSeen;
  after: BathSeen;
  /** Washes since its liquid was last changed, without this one. */
  washes: number;
  /** Since the oldest solvent in it was poured; not a number when empty. */
  ageDays: number;
  /** Readings of it that were taken in since its liquid was last changed, and those of them too far off for chance. */
  readings: number;
  flagged: number;
}

export interface BathSeen {
  /** Null while it holds no solvent. */
  resinWtPct: Quantity | null;
  waterWtPct: Quantity | null;
  volumeMl: Quantity;
  /** The solvent is weaker than the data reach. */
  beyondModel: boolean;
}

const MS_PER_DAY = 86_400_000;

/**
 * Goes through the washes that took place, oldest first. Estimates are those of the moment of each wash, from the readings up to then.
 *
 * @param on - with `bands`, which take about two milliseconds a wash, estimates have their 5 and 95 % points
 * @param take - is given each wash that is wanted
 * @returns what cannot have happened as written
 */
export function washRecords(
  shop: Shop,
  entries: readonly Entry[],
  on: { clockMs: number; wanted(entry: Entry): boolean; bands: boolean },
  take: (record: WashRecord) => void,
): readonly Refused[] {
  const inspections = inspectionsOf(entries);
  const weighings = weighingsOf(entries);
  const factors = priorMedians(shop);
  const belief = new Belief(shop, factors, entries);
  let before: Before[] | undefined;
  const lookAt = ({ atMs }: Entry) => (on.bands ? belief.ensemble.at(atMs) : undefined);
  const along: Along = {
    happened: (step, solvent, baths) => {
      before =
        step.wash && on.wanted(step.entry)
          ? beforeOf(step, shop, { seen: lookAt(step.entry), compared: belief.compared })
          : undefined;
      return belief.happened(step, solvent, baths);
    },
    read: (entry, event, baths) => belief.read(entry, event, baths),
    settled: (clockMs) => belief.settled(clockMs),
  };
  const watch = (step: Step): void => {
    if (!step.wash || !before) return;
    const event = step.entry.event as WashEvent;
    take({
      ...logged(event, shop),
      entry: step.entry,
      load: step.load!,
      ...estimated(step, shop, { before, seen: lookAt(step.entry) }),
      inspected: inspections.get(event.id) ?? [],
      weighed: weighings.get(event.id) ?? [],
    });
  };
  return replay(shop, entries, on.clockMs, { factors, along, watch }).refused;
}

type Before = Omit<BathRecord, 'after'>;

/** The baths as they stood when the load came, before the worlds take the wash in. */
function beforeOf(
  { entry, before }: Step,
  shop: Shop,
  { seen, compared }: { seen: Ensemble | undefined; compared: readonly Compared[] },
): Before[] {
  return shop.tubs.map((_, place) => {
    const bath = before[place]!;
    return {
      before: seenOf(shop, copyBath(bath), place, seen),
      washes: bath.washes,
      ageDays: (entry.atMs - bath.pouredMs) / MS_PER_DAY,
      ...readingsSince(compared, place, bath.changedMs),
    };
  });
}

function readingsSince(compared: readonly Compared[], place: number, changedMs: number) {
  const count = { readings: 0, flagged: 0 };
  for (let at = compared.length - 1; at >= 0; at -= 1) {
    const { entry, bath, flagged } = compared[at]!;
    if (entry.atMs < changedMs && bath !== undefined) break;
    if (bath !== place) continue;
    count.readings += 1;
    if (flagged) count.flagged += 1;
  }
  return count;
}

function seenOf(shop: Shop, bath: Bath, place: number, seen: Ensemble | undefined): BathSeen {
  const beyondModel = isBeyondModel(bath);
  if (seen) {
    const { resinWtPct, waterWtPct, volumeMl } = bandsOf(shop, bath, place, seen);
    return { resinWtPct, waterWtPct, volumeMl, beyondModel };
  }
  const { resinWtPct, waterWtPct, volumeMl } = figuresOf(bath, shop.resins, shop.roomC);
  return {
    resinWtPct: resinWtPct === null ? null : best(resinWtPct),
    waterWtPct: waterWtPct === null ? null : best(waterWtPct),
    volumeMl: best(volumeMl),
    beyondModel,
  };
}

/** What was logged, with the shop's defaults where the wash is silent. */
function logged(event: WashEvent, shop: Shop) {
  const { defaults } = shop;
  const keys = ['resin', 'drained_min', 'prerinse', 'midrinse', 'agitation', 'minutes'] as const;
  return {
    event,
    how: {
      resin: event.resin ?? defaults.resin,
      drainedMin: event.drained_min ?? defaults.drainedMin,
      prerinse: event.prerinse ?? defaults.prerinse,
      midrinse: event.midrinse ?? defaults.midrinse,
      agitation: event.agitation ?? defaults.agitation,
    },
    minutes: soakMinutes(event, shop),
    fromDefaults: keys.filter((key) => event[key] === undefined),
  };
}

function estimated(
  { entry, load, wash, baths }: Step,
  shop: Shop,
  { before, seen }: { before: readonly Before[]; seen: Ensemble | undefined },
): Pick<WashRecord, 'carryG' | 'dragMl' | 'residueUgPerCm2' | 'baths'> {
  const recent = [{ entry, load: load!, outcome: wash! }];
  const { carryG, dragMl, residueUgPerCm2 } = lastWashOf({ recent }, seen)!;
  const after = (place: number) => seenOf(shop, baths[place]!, place, seen);
  return {
    carryG,
    dragMl,
    residueUgPerCm2,
    baths: before.map((one, place) => ({ ...one, after: after(place) })),
  };
}

/** Weighings by the id of the wash, wherever they were logged. */
function weighingsOf(entries: readonly Entry[]): Map<string, WeighedEvent[]> {
  const found = new Map<string, WeighedEvent[]>();
  for (const { event } of entries)
    if (event.what === 'weighed') found.set(event.wash, [...(found.get(event.wash) ?? []), event]);
  return found;
}
