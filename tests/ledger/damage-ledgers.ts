/** Small ledgers that together hold every section of the head, every kind of event and every key. The shop is invented. */
import { CORE_SCHEMA, load } from 'js-yaml';

const BATHS = `baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
`;

const SHORT_HEAD = `format: bathbook/1
shop:
  name: Cobble Hill Bench
${BATHS}`;

/** Every section and every key of the head. */
const FULL_HEAD = `# The wash bench behind the window.
format: bathbook/1
shop:
  name: Cobble Hill Bench             # as on the door
  timezone: America/Halifax
  currency: CAD
  room_c: 21.5
  humidity_pct: 50
  parts_use: body-contact
  defaults: {resin: grey, drained_min: 10, prerinse: spray, midrinse: brush, minutes: [5, 4.5], agitation: stirred}
factors: {carry: 1.2, drag: 0.9, dissolution: 1}
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, lid_open_h: 1, evaporation: 0.8, moisture: 1, tub_ml: 6000}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
limits: {dirty_resin: [7, 9, 20], clean_resin: [2, 3, 8], dirty_water: [8, 10, 15], clean_water: [8, 10, 15], dirty_age_days: 60, clean_age_days: 45}
solvents:
  ipa98: {ipa_wt_pct: 98.5, price_per_l: 6.20}
  rubbing: {ipa_vol_pct: 70}
resins:
  grey: {density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49}
parts:
  arch-base: {shape: solid, volume_ml: 61.5}
  cup: {shape: hollow, area_cm2: 80, wall_mm: 2.5}
`;

const FILLS = `  - {id: "f2wx", at: 2026-11-02T07:40:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000, by: "NB"}
  - {id: "f3wx", at: 2026-11-02T07:42:00-04:00, what: fill, bath: clean, solvent: ipa99, ml: 4000}
`;

/** As the program writes them: loads, and what is measured of them. */
const WASHES = `  - {id: "k5q2", at: 2026-11-02T16:05:00-04:00, what: wash, parts: {model: 6, mask: 2}, resin: grey, drained_min: 30, prerinse: spray, midrinse: brush, minutes: [5, 4.5], agitation: hand, baths: [dirty, clean], cases: ["26-0117", "007"], lot: "R7", logged: 2026-11-02T16:30:00-04:00, by: "Zoë", note: "two trays, one \\"late\\" # not a remark"}
  - {id: "k5q3", at: 2026-11-03T09:10:00-04:00, what: wash, volume_ml: 120.5, area_cm2: 340, carry_g: 6.25, drag_ml: [8, 7.5], trapped_g: 0.4, hollow: true, estimated: true}
  - {id: "k5q4", at: 2026-11-03T10:00:00-04:00, what: wash, parts: {"2nd-tray": 3}, carry_ml: 4.5}
  - {id: "w7mm", at: 2026-11-03T10:20:00-04:00, what: weighed, wash: "k5q2", wet_g: 231.4, clean_g: 218.9}
  - {id: "n1sp", at: 2026-11-03T11:00:00-04:00, what: inspect, wash: "k5q2", result: ok, parts: {model: 5}, cases: ["26-0117"]}
`;

const MOVES = `  - {id: "t1up", at: 2026-11-04T08:00:00-04:00, what: top-up, bath: clean, solvent: ipa99, ml: 150}
  - {id: "t2up", at: 2026-11-04T08:05:00-04:00, what: top-up, bath: dirty, from: clean, to: mark}
  - {id: "d1rn", at: 2026-11-05T17:00:00-04:00, what: drain, bath: dirty, ml: 500, into: "can 3"}
  - {id: "d2rn", at: 2026-11-05T17:01:00-04:00, what: drain, bath: clean, to: mark}
  - {id: "r1ot", at: 2026-11-06T17:00:00-04:00, what: rotate, solvent: ipa99, ml: 4000, into: "can 3"}
  - {id: "r2fl", at: 2026-11-09T07:30:00-04:00, what: refill, bath: clean, solvent: ipa99, ml: 3900, into: "can 3"}
  - {id: "d3rn", at: 2026-11-09T18:00:00-04:00, what: drain, bath: clean, all: true}
`;

const READINGS = `  - {id: "m1rd", at: 2026-11-04T09:00:00-04:00, what: reading, bath: dirty, density_g_ml: 0.8012, temp_c: 21.5, t_ref_c: 20, sd: 0.0005}
  - {id: "m2rd", at: 2026-11-04T09:01:00-04:00, what: reading, bath: dirty, sg: 0.803, sg_ref: "60/60F"}
  - {id: "m3rd", at: 2026-11-04T09:02:00-04:00, what: reading, bath: dirty, brix: 29.5}
  - {id: "m4rd", at: 2026-11-04T09:03:00-04:00, what: reading, bath: clean, refractive_index: 1.3785}
  - {id: "m5rd", at: 2026-11-04T09:04:00-04:00, what: reading, bath: dirty, residue: {sample_ml: 10, dry_g: 0.16}}
  - {id: "m6rd", at: 2026-11-04T09:05:00-04:00, what: reading, bath: dirty, resin_wt_pct: 2.1}
  - {id: "m7rd", at: 2026-11-04T09:06:00-04:00, what: reading, bath: clean, level_ml: 3900}
  - {id: "m8rd", at: 2026-11-04T09:07:00-04:00, what: reading, bath: clean, weight_g: 3100}
`;

const BOOKS = `  - {id: "s1tk", at: 2026-11-01T12:00:00-04:00, what: stock, solvent: ipa99, received_ml: 20000, lot: "L-9", price: 124.5, supplier_note: "4 cans"}
  - {id: "s2tk", at: 2026-11-08T12:00:00-04:00, what: stock, solvent: ipa99, counted_ml: 0}
  - {id: "c1an", at: 2026-11-01T12:05:00-04:00, what: waste, container: "can 3", action: opened, capacity_l: 20}
  - {id: "c2an", at: 2026-11-12T12:05:00-04:00, what: waste, container: "can 3", action: collected, ml: 8400}
  - {id: "e1cl", at: 2026-11-11T12:05:00-04:00, what: reclaim, container: "can 3", ml: 2000, method: settled, solvent: ipa91}
`;

/** Among them an amend that is void, a void that is void and one that lies ahead. */
const CORRECTIONS = `  - {id: "k6q2", at: 2026-11-02T16:05:00-04:00, what: wash, parts: {model: 6}}
  - {id: "k6q3", at: 2026-11-02T17:05:00-04:00, what: wash, parts: {model: 6}}
  - {id: "a1md", at: 2026-11-03T08:00:00-04:00, what: amend, of: "k6q2", set: {parts: {model: 4, mask: 1}, minutes: [5, 6.5], hollow: true, at: 2026-11-02T16:25:00-04:00}, why: "counted again"}
  - {id: "a2md", at: 2026-11-03T08:01:00-04:00, what: amend, of: "f2wx", set: {ml: 3900}, why: "to below the mark"}
  - {id: "v1id", at: 2026-11-03T08:02:00-04:00, what: void, of: "a2md", why: "it was at the mark"}
  - {id: "v2id", at: 2026-11-03T08:03:00-04:00, what: void, of: "k6q3", why: "entered twice", by: "NB"}
  - {id: "v3id", at: 2026-11-03T08:04:00-04:00, what: void, of: "v2id", why: "two loads after all"}
  - {id: "v4id", at: 2027-05-03T08:04:00-04:00, what: void, of: "k6q2", why: "ahead of the clock"}
`;

/** As people write: remarks, quotes of both kinds and none, blanks, times of other shapes, a line taken back by a remark. */
const BY_HAND = `format: "bathbook/1"
shop: {name: 'Cobble Hill: the bench', room_c: 22.0}

baths:
    dirty:
        mark_ml: 4000   # to the line
        length_mm: 260
        width_mm: 180
        freeboard_mm: 50
    clean: { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 }
parts: {}
events:   # one a line
# November
- {id: "f2wx", at: 2026-11-02T11:40:00Z, what: fill, bath: dirty, solvent: ipa99, ml: 4000.}
- { id: f3wx , at: "2026-11-02T11:42:00.5Z", what: 'fill' , bath: clean, solvent: ipa99, ml: +4000 }   # fresh

- {"id": "k5q2", "at": "2026-11-02T16:05:00-04:00", "what": "wash", "parts": {"model": 6}, "cases": ["26-0117"], "note": "\\u00e9t\\xe9\\t\\u263a"}
# - {id: "k5q3", at: 2026-11-02T18:05:00-04:00, what: wash, parts: {model: 6}}
- {id: k5q4, at: 2026-11-02T17:05:00-04:00, what: wash, parts: { model: 2 }, note: dripped a lot, 'by': 'NB', cases: [a b, 'c''d']}
- {id: v1id, at: 2026-11-03T07:00:00-04:00, what: void, of: k5q4, why: not washed at all}
`;

const head = `${SHORT_HEAD.replace('baths:', 'resins:\n  grey: {density_g_ml: 1.11}\nparts:\n  2nd-tray: {shape: small, volume_ml: 2}\nbaths:')}events:\n`;
const usual = `${head}${FILLS}${WASHES}`;

export const LEDGERS: Readonly<Record<string, string>> = {
  'full head': `${FULL_HEAD}events:\n${FILLS}`,
  washes: usual.replace('2nd-tray:', '"2nd-tray":'),
  moves: `${SHORT_HEAD}events:\n${FILLS}${MOVES}`,
  readings: `${SHORT_HEAD}events:\n${READINGS}`,
  books: `${SHORT_HEAD}events:\n${BOOKS}`,
  corrections: `${SHORT_HEAD}events:\n${FILLS}${CORRECTIONS}`,
  'by hand': BY_HAND,
  'no events': `${SHORT_HEAD}events: []\n`,
  'Windows line ends': `\ufeff${SHORT_HEAD}events:\n${FILLS}`.replaceAll('\n', '\r\n'),
  'no final newline': `${SHORT_HEAD}events:\n${FILLS}`.trimEnd(),
};

/** The clock of the checks: after all events but the void that lies ahead. */
export const CLOCK_MS = Date.parse('2027-01-01T00:00:00Z');

/** A ledger by a YAML parser that is not the program's. @throws where that calls it no YAML */
export function otherwiseRead(text: string): { events: unknown[]; head: Record<string, unknown> } {
  const { events, ...rest } = load(text.replace(/^\ufeff/, ''), { schema: CORE_SCHEMA }) as Record<
    string,
    unknown
  >;
  return { events: (events ?? []) as unknown[], head: rest };
}
