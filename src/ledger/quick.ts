/**
 * The everyday case of validation: says at once that an event or a head is certainly in order.
 *
 * The schemas (zod) judge and explain; loading them and warming them up costs more than reading a whole small ledger. So
 * a value that passes here is not held against them, and whatever does not pass goes to them. A test holds that nothing
 * passes here which they refuse, at both ends of every range.
 */
import { AGITATIONS, type EventKind, MIDRINSES, PRERINSES, RESULTS, SG_REFS, SHAPES } from './event.ts';
import { isWithin, type Range } from './range.ts';
import { READING_RANGES } from './reading-ranges.ts';

type Test = (value: unknown) => boolean;

/** Keys that must and keys that may be there; no others. */
interface Keys {
  must: Record<string, Test>;
  may: Record<string, Test>;
}

const above =
  (low: number, high: number): Test =>
  (value) =>
    typeof value === 'number' && value > low && value <= high;
const from =
  (low: number, high: number): Test =>
  (value) =>
    typeof value === 'number' && value >= low && value <= high;
const within =
  (range: Range): Test =>
  (value) =>
    isWithin(value, range);
const text =
  (longest: number): Test =>
  (value) =>
    typeof value === 'string' && value.length >= 1 && value.length <= longest && /\S/.test(value);
const oneOf = (words: readonly string[]): Test => {
  const known = new Set<unknown>(words);
  return (value) => known.has(value);
};
const listOf =
  (test: Test): Test =>
  (value) =>
    Array.isArray(value) && value.every(test);
const mapOf =
  (key: Test, test: Test): Test =>
  (value) => {
    if (!isMap(value)) return false;
    for (const name in value) if (!key(name) || !test(value[name])) return false;
    return true;
  };
const keysOf =
  (must: Record<string, Test>, may: Record<string, Test> = {}): Test =>
  (value) =>
    isMap(value) && hasKeys(value, { must, may });

/** Names as nearly all are; anything else goes to the schema. */
const name: Test = (value) =>
  typeof value === 'string' && /^[a-z][a-z0-9_-]{0,39}$/.test(value) && !(value in {});
const id: Test = (value) => typeof value === 'string' && /^[\w-]{1,64}$/.test(value);
const time: Test = (value) => typeof value === 'string';
const count: Test = (value) => Number.isInteger(value) && (value as number) >= 1 && (value as number) <= 1000;
const flag: Test = (value) => typeof value === 'boolean';
const ml = above(0, 1_000_000);
const noneOrMl = from(0, 1_000_000);
const grams = from(0, 10_000);
const drained = from(0, 20_160);
const soaks = listOf(from(0, 1440));
const label = text(80);
const parts = mapOf(name, count);
const mark = oneOf(['mark']);

const KINDS: Partial<Record<EventKind, Keys>> = {
  fill: { must: { bath: name, solvent: name, ml }, may: {} },
  wash: {
    must: {},
    may: {
      parts,
      volume_ml: ml,
      area_cm2: above(0, 1_000_000),
      resin: name,
      drained_min: drained,
      prerinse: oneOf(PRERINSES),
      midrinse: oneOf(MIDRINSES),
      minutes: soaks,
      agitation: oneOf(AGITATIONS),
      baths: listOf(name),
      carry_g: grams,
      carry_ml: from(0, 10_000),
      drag_ml: listOf(from(0, 100_000)),
      trapped_g: grams,
      cases: listOf(label),
      lot: label,
      hollow: flag,
      estimated: flag,
    },
  },
  'top-up': { must: { bath: name }, may: { solvent: name, ml, to: mark, from: oneOf(['stock', 'clean']) } },
  drain: { must: { bath: name }, may: { ml, to: mark, all: (value) => value === true, into: label } },
  rotate: { must: {}, may: { solvent: name, ml, into: label } },
  refill: { must: { bath: name }, may: { solvent: name, ml, into: label } },
  reading: {
    must: { bath: name },
    may: {
      density_g_ml: within(READING_RANGES.density_g_ml),
      sg: within(READING_RANGES.sg),
      sg_ref: oneOf(SG_REFS),
      brix: within(READING_RANGES.brix),
      refractive_index: within(READING_RANGES.refractive_index),
      residue: keysOf({ sample_ml: within(READING_RANGES.sample_ml), dry_g: within(READING_RANGES.dry_g) }),
      resin_wt_pct: within(READING_RANGES.resin_wt_pct),
      level_ml: within(READING_RANGES.level_ml),
      weight_g: within(READING_RANGES.weight_g),
      temp_c: within(READING_RANGES.temp_c),
      t_ref_c: within(READING_RANGES.t_ref_c),
      sd: within(READING_RANGES.sd),
    },
  },
  weighed: { must: { wash: id, wet_g: above(0, 1_000_000), clean_g: above(0, 1_000_000) }, may: {} },
  inspect: { must: { result: oneOf(RESULTS) }, may: { wash: id, parts, cases: listOf(label) } },
  stock: {
    must: { solvent: name },
    may: {
      received_ml: above(0, 10_000_000),
      counted_ml: from(0, 10_000_000),
      lot: label,
      price: from(0, 1_000_000),
      supplier_note: text(2000),
    },
  },
  waste: {
    must: { container: label, action: oneOf(['opened', 'emptied', 'collected']) },
    may: { capacity_l: above(0, 10_000), ml: noneOrMl },
  },
  void: { must: { of: id, why: text(2000) }, may: {} },
  amend: { must: { of: id, why: text(2000), set: isMap }, may: {} },
};

/** Every kind has these as well. */
for (const keys of Object.values(KINDS)) {
  Object.assign(keys.must, { id, at: time, what: time });
  Object.assign(keys.may, { logged: time, by: label, note: text(2000) });
}

const triple: Test = (value) => Array.isArray(value) && value.length === 3 && value.every(from(0, 100));
const mm = above(0, 10_000);
const factor = above(0, 1000);
const days = above(0, 3650);
const placeFactor = from(0, 100);

const HEAD: Keys = {
  must: {
    format: oneOf(['bathbook/1']),
    shop: keysOf(
      {},
      {
        name: text(200),
        timezone: text(60),
        currency: (value) => typeof value === 'string' && /^[A-Z]{3}$/.test(value),
        room_c: from(10, 40),
        humidity_pct: from(0, 100),
        parts_use: oneOf(['models', 'body-contact']),
        defaults: keysOf(
          {},
          {
            resin: name,
            drained_min: drained,
            prerinse: oneOf(PRERINSES),
            midrinse: oneOf(MIDRINSES),
            minutes: soaks,
            agitation: oneOf(AGITATIONS),
          },
        ),
      },
    ),
    baths: mapOf(
      name,
      keysOf(
        { mark_ml: ml, length_mm: mm, width_mm: mm, freeboard_mm: from(0, 10_000) },
        { lid_open_h: from(0, 24), evaporation: placeFactor, moisture: placeFactor, tub_ml: ml },
      ),
    ),
  },
  may: {
    factors: keysOf({}, { carry: factor, drag: factor, dissolution: factor }),
    limits: keysOf(
      {},
      {
        dirty_resin: triple,
        clean_resin: triple,
        dirty_water: triple,
        clean_water: triple,
        dirty_age_days: days,
        clean_age_days: days,
      },
    ),
    solvents: mapOf(
      name,
      keysOf({}, { ipa_wt_pct: from(40, 100), ipa_vol_pct: from(47.4, 100), price_per_l: from(0, 100_000) }),
    ),
    resins: mapOf(
      name,
      keysOf(
        {},
        { density_g_ml: from(0.8, 3), viscosity_mpa_s: from(1, 1_000_000), refractive_index: from(1.3, 1.7) },
      ),
    ),
    parts: mapOf(
      name,
      keysOf(
        { shape: oneOf(SHAPES) },
        { volume_ml: ml, area_cm2: above(0, 1_000_000), wall_mm: above(0, 100) },
      ),
    ),
  },
};

/** True when the value is certainly an event as far as its keys go; rules between keys are not looked at. */
export function quickEvent(value: unknown): boolean {
  if (!isMap(value) || typeof value.what !== 'string' || !Object.hasOwn(KINDS, value.what)) return false;
  return hasKeys(value, KINDS[value.what as EventKind]!);
}

/** True when the value is certainly the head of a ledger as far as its keys go. */
export function quickHead(value: unknown): boolean {
  return isMap(value) && hasKeys(value, HEAD);
}

function hasKeys(value: Record<string, unknown>, { must, may }: Keys): boolean {
  let needed = 0;
  for (const key in value) {
    if (Object.hasOwn(must, key)) {
      if (!must[key]!(value[key])) return false;
      needed += 1;
    } else if (!Object.hasOwn(may, key) || !may[key]!(value[key])) return false;
  }
  for (const _ in must) needed -= 1;
  return needed === 0;
}

function isMap(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
