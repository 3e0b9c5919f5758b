import * as z from 'zod/mini';
import { AGITATIONS, MIDRINSES, PRERINSES, SHAPES } from './event.ts';
import { nameText, quantity, text } from './quantity.ts';
import { drainedMin, soakMinutes } from './schema.ts';

const may = z.exactOptional;

const name = nameText();
const mm = quantity({ unit: 'mm', above: 0, max: 10_000 });
const ml = quantity({ unit: 'mL', above: 0, max: 1_000_000 });
const factor = quantity({ unit: '', above: 0, max: 1000 });
const placeFactor = quantity({ unit: '', min: 0, max: 100 });
const limit = quantity({ unit: 'wt%', min: 0, max: 100 });
const limits = z.tuple([limit, limit, limit], 'three limits [soon, change, never] in wt%');
const ageDays = quantity({ unit: 'days', above: 0, max: 3650 });

const CURRENCY = 'three capital letters, like CAD';

const shop = z.strictObject(
  {
    name: may(text(200)),
    timezone: may(text(60)),
    currency: may(z.string(CURRENCY).check(z.regex(/^[A-Z]{3}$/, CURRENCY))),
    room_c: may(quantity({ unit: '°C', min: 10, max: 40 })),
    humidity_pct: may(quantity({ unit: '%', min: 0, max: 100 })),
    parts_use: may(z.enum(['models', 'body-contact'])),
    defaults: may(
      z.strictObject(
        {
          resin: may(name),
          drained_min: may(drainedMin),
          prerinse: may(z.enum(PRERINSES)),
          midrinse: may(z.enum(MIDRINSES)),
          minutes: may(soakMinutes),
          agitation: may(z.enum(AGITATIONS)),
        },
        'a map of usual values, like {minutes: [5, 5]}',
      ),
    ),
  },
  'a map, like {name: "My bench"}',
);

const bath = z.strictObject(
  {
    mark_ml: ml,
    length_mm: mm,
    width_mm: mm,
    freeboard_mm: quantity({ unit: 'mm', min: 0, max: 10_000 }),
    lid_open_h: may(quantity({ unit: 'hours a day', min: 0, max: 24 })),
    evaporation: may(placeFactor),
    moisture: may(placeFactor),
    tub_ml: may(ml),
  },
  'a map, like {mark_ml: 4000, …}',
);

const solvent = z.strictObject(
  {
    ipa_wt_pct: may(quantity({ unit: 'wt%', min: 40, max: 100 })),
    ipa_vol_pct: may(quantity({ unit: 'vol%', min: 47.4, max: 100 })),
    price_per_l: may(quantity({ unit: 'per litre', min: 0, max: 100_000 })),
  },
  'a map, like {ipa_wt_pct: 99.5}',
);

const resin = z.strictObject(
  {
    density_g_ml: may(quantity({ unit: 'g/mL', min: 0.8, max: 3 })),
    viscosity_mpa_s: may(quantity({ unit: 'mPa·s', min: 1, max: 1_000_000 })),
    refractive_index: may(quantity({ unit: '', min: 1.3, max: 1.7 })),
  },
  'a map, like {density_g_ml: 1.11, viscosity_mpa_s: 400}',
);

const part = z.strictObject(
  {
    shape: z.enum(SHAPES),
    volume_ml: may(ml),
    area_cm2: may(quantity({ unit: 'cm²', above: 0, max: 1_000_000 })),
    wall_mm: may(quantity({ unit: 'mm', above: 0, max: 100 })),
  },
  'a map, like {shape: solid, volume_ml: 20}',
);

/** The head of a ledger without its events. */
export const HEADER_SCHEMA = z.strictObject({
  format: z.literal('bathbook/1'),
  shop,
  factors: may(
    z.strictObject(
      { carry: may(factor), drag: may(factor), dissolution: may(factor) },
      'a map, like {carry: 1.2}',
    ),
  ),
  baths: z.record(name, bath, 'a map of baths, like dirty: {mark_ml: 4000, …}'),
  limits: may(
    z.strictObject(
      {
        dirty_resin: may(limits),
        clean_resin: may(limits),
        dirty_water: may(limits),
        clean_water: may(limits),
        dirty_age_days: may(ageDays),
        clean_age_days: may(ageDays),
      },
      'a map, like {clean_resin: [1.5, 2, 5]}',
    ),
  ),
  solvents: may(z.record(name, solvent, 'a map of solvents, like ipa99: {ipa_wt_pct: 99.5}')),
  resins: may(
    z.record(name, resin, 'a map of resins, like grey: {density_g_ml: 1.11, viscosity_mpa_s: 400}'),
  ),
  parts: may(z.record(name, part, 'a map of parts, like bar: {shape: solid, volume_ml: 20}')),
});
