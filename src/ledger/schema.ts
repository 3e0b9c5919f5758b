import * as z from 'zod/mini';
import type * as E from './event.ts';
import { AGITATIONS, MIDRINSES, PRERINSES, RESULTS, SG_REFS } from './event.ts';
import { count, idText, nameText, quantity, text } from './quantity.ts';
import { READING_RANGES } from './reading-ranges.ts';

const may = z.exactOptional;

const volume = quantity({ unit: 'mL', above: 0, max: 1_000_000 });
const volumeOrNone = quantity({ unit: 'mL', min: 0, max: 1_000_000 });
const grams = quantity({ unit: 'g', min: 0, max: 10_000 });
export const drainedMin = quantity({ unit: 'minutes', min: 0, max: 20_160 });
export const soakMinutes = z.array(
  quantity({ unit: 'minutes', min: 0, max: 1440 }),
  'a list of minutes, one for each bath',
);
const name = nameText();
const label = text(80);
const lotText = text(80);
const cases = z.array(text(80), 'a list of case numbers in quotes');
const parts = z.record(name, count(1000), 'a map of part names and counts, like {model: 6}');
const time = z.string('a time like 2026-11-02T07:40:00-04:00');

const head = <K extends E.EventKind>(what: K) => ({ id: idText(), at: time, what: z.literal(what) });
const tail = { logged: may(time), by: may(text(80)), note: may(text(2000)) };

const fill = z.strictObject({ ...head('fill'), bath: name, solvent: name, ml: volume, ...tail });

const wash = z.strictObject({
  ...head('wash'),
  parts: may(parts),
  volume_ml: may(volume),
  area_cm2: may(quantity({ unit: 'cm²', above: 0, max: 1_000_000 })),
  resin: may(name),
  drained_min: may(drainedMin),
  prerinse: may(z.enum(PRERINSES)),
  midrinse: may(z.enum(MIDRINSES)),
  minutes: may(soakMinutes),
  agitation: may(z.enum(AGITATIONS)),
  baths: may(z.array(name, 'a list of baths, like [dirty, clean]')),
  carry_g: may(grams),
  carry_ml: may(quantity({ unit: 'mL', min: 0, max: 10_000 })),
  drag_ml: may(
    z.array(quantity({ unit: 'mL', min: 0, max: 100_000 }), 'a list of volumes, one for each bath'),
  ),
  trapped_g: may(grams),
  cases: may(cases),
  lot: may(lotText),
  hollow: may(z.boolean('true or false')),
  estimated: may(z.boolean('true or false')),
  ...tail,
});

const topUp = z.strictObject({
  ...head('top-up'),
  bath: name,
  solvent: may(name),
  from: may(z.enum(['stock', 'clean'])),
  ml: may(volume),
  to: may(z.literal('mark')),
  ...tail,
});

const drain = z.strictObject({
  ...head('drain'),
  bath: name,
  ml: may(volume),
  to: may(z.literal('mark')),
  all: may(z.literal(true)),
  into: may(label),
  ...tail,
});

const rotate = z.strictObject({
  ...head('rotate'),
  solvent: may(name),
  ml: may(volume),
  into: may(label),
  ...tail,
});

const refill = z.strictObject({
  ...head('refill'),
  bath: name,
  solvent: may(name),
  ml: may(volume),
  into: may(label),
  ...tail,
});

const read = READING_RANGES;
const reading = z.strictObject({
  ...head('reading'),
  bath: name,
  density_g_ml: may(quantity(read.density_g_ml)),
  sg: may(quantity(read.sg)),
  sg_ref: may(z.enum(SG_REFS)),
  brix: may(quantity(read.brix)),
  refractive_index: may(quantity(read.refractive_index)),
  residue: may(
    z.strictObject(
      { sample_ml: quantity(read.sample_ml), dry_g: quantity(read.dry_g) },
      'a map like {sample_ml: 10, dry_g: 0.16}',
    ),
  ),
  resin_wt_pct: may(quantity(read.resin_wt_pct)),
  level_ml: may(quantity(read.level_ml)),
  weight_g: may(quantity(read.weight_g)),
  temp_c: may(quantity(read.temp_c)),
  t_ref_c: may(quantity(read.t_ref_c)),
  sd: may(quantity(read.sd)),
  ...tail,
});

const weighed = z.strictObject({
  ...head('weighed'),
  wash: idText(),
  wet_g: quantity({ unit: 'g', above: 0, max: 1_000_000 }),
  clean_g: quantity({ unit: 'g', above: 0, max: 1_000_000 }),
  ...tail,
});

const inspect = z.strictObject({
  ...head('inspect'),
  wash: may(idText()),
  result: z.enum(RESULTS),
  parts: may(parts),
  cases: may(cases),
  ...tail,
});

const stock = z.strictObject({
  ...head('stock'),
  solvent: name,
  received_ml: may(quantity({ unit: 'mL', above: 0, max: 10_000_000 })),
  counted_ml: may(quantity({ unit: 'mL', min: 0, max: 10_000_000 })),
  lot: may(lotText),
  price: may(quantity({ unit: '', min: 0, max: 1_000_000 })),
  supplier_note: may(text(2000)),
  ...tail,
});

const waste = z.strictObject({
  ...head('waste'),
  container: label,
  action: z.enum(['opened', 'emptied', 'collected']),
  capacity_l: may(quantity({ unit: 'L', above: 0, max: 10_000 })),
  ml: may(volumeOrNone),
  ...tail,
});

const reclaim = z.strictObject({
  ...head('reclaim'),
  container: label,
  ml: volume,
  method: z.enum(['settled', 'distilled']),
  solvent: name,
  ...tail,
});

const voiding = z.strictObject({ ...head('void'), of: idText(), why: text(2000), ...tail });

const amend = z.strictObject({
  ...head('amend'),
  of: idText(),
  set: z.record(z.string(), z.unknown(), 'a map of keys and new values, like {ml: 3000}'),
  why: text(2000),
  ...tail,
});

/** One strict schema for each kind of event, its keys in the order the program writes them. */
export const EVENT_SCHEMAS = {
  fill,
  wash,
  'top-up': topUp,
  drain,
  rotate,
  refill,
  reading,
  weighed,
  inspect,
  stock,
  waste,
  reclaim,
  void: voiding,
  amend,
} as const satisfies Record<E.EventKind, z.ZodMiniObject>;

/** The kinds of event, in the order of the table in FORMAT.md. */
export const EVENT_KINDS = Object.keys(EVENT_SCHEMAS) as E.EventKind[];
