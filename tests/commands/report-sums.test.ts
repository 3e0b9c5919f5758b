/**
 * Every figure of the report against sums done here by hand.
 *
 * The shop is one where they can be: nothing evaporates, carry-over and drag-out are given, and an hour in the first bath
 * dissolves everything (60 min over 1.2 min leaves e^-50). So a bath is one solvent and one resin, whose volumes add
 * (src/bath/README.md 1 to 3 and 5), and what leaves it leaves in proportion.
 */
import { describe, expect, it } from 'vitest';
import { bundled, ledgerOf, runner } from './bundle.ts';

const run = runner(bundled());

const HEAD = `format: bathbook/1
shop:
  name: Plumb Lane
  timezone: America/Halifax
  currency: CAD
  defaults: {agitation: ultrasonic}
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, evaporation: 0, moisture: 0}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, evaporation: 0, moisture: 0}
solvents:
  ipa99: {ipa_wt_pct: 99.5, price_per_l: 7}
resins:
  grey: {density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49}
events:
`;

const day = (date: number, time: string) => `2026-11-${date}T${time}:00-04:00`;
const LINES = [
  `{id: "stock1", at: ${day(16, '07:00')}, what: stock, solvent: ipa99, received_ml: 20000, price: 124, lot: "A1"}`,
  `{id: "open01", at: ${day(16, '07:30')}, what: waste, container: "can-1", action: opened, capacity_l: 10}`,
  `{id: "fill01", at: ${day(16, '08:00')}, what: fill, bath: dirty, solvent: ipa99, ml: 4000}`,
  `{id: "fill02", at: ${day(16, '08:01')}, what: fill, bath: clean, solvent: ipa99, ml: 4000}`,
  `{id: "wash01", at: ${day(17, '09:00')}, what: wash, parts: {model: 6, mask: 2}, resin: grey, minutes: [60, 5], carry_g: 5, drag_ml: [20, 20], by: "NB"}`,
  // The period begins here.
  `{id: "wash02", at: ${day(18, '09:00')}, what: wash, parts: {splint: 3, model: 1}, resin: grey, minutes: [60, 5], carry_g: 3, drag_ml: [10, 10], by: "TO"}`,
  `{id: "wash03", at: ${day(18, '10:00')}, what: wash, parts: {model: 4}, resin: grey, minutes: [60, 5], carry_g: 4, drag_ml: [10, 10], by: "NB"}`,
  `{id: "wash04", at: ${day(18, '10:30')}, what: wash, area_cm2: 200, resin: grey, minutes: [60, 5], carry_g: 1, drag_ml: [10, 10]}`,
  `{id: "topup1", at: ${day(18, '11:00')}, what: top-up, bath: clean, solvent: ipa99, ml: 100, by: "NB"}`,
  `{id: "rotat1", at: ${day(18, '12:00')}, what: rotate, solvent: ipa99, into: "can-1", by: "TO"}`,
  `{id: "insp01", at: ${day(18, '13:00')}, what: inspect, wash: "wash03", result: ok, cases: ["26-0117"], by: "NB"}`,
  `{id: "amend1", at: ${day(18, '14:00')}, what: amend, of: "wash01", set: {by: "TO"}, why: "mixed up", by: "NB"}`,
  `{id: "twice1", at: ${day(18, '15:00')}, what: wash, parts: {model: 4}, resin: grey}`,
  `{id: "void01", at: ${day(18, '15:10')}, what: void, of: "twice1", why: "entered twice", by: "NB"}`,
];
const FROM = day(18, '00:00');
const TO = day(18, '18:00');
const ledger = ledgerOf(
  LINES.map((line) => `  - ${line}`),
  HEAD,
);
const args = ['report', '--ledger', ledger, '--from', FROM, '--as-of', TO];
const { data } = JSON.parse(run([...args, '--json']).out);
const text = run(args).out.replaceAll(/\s+/g, ' ');

/** Density of 99.5 wt% IPA at 20 °C, g/mL, worked out from the equation in src/bath/README.md 1. */
const DENSITY = (() => {
  const [w, z] = [0.995, 0.99];
  const water = 0.99997495 * (1 - ((20 - 3.983035) ** 2 * (20 + 301.797)) / (522528.9 * (20 + 69.34881)));
  const excess = -0.135308 + 0.0223535 * z - 0.016736 * z ** 2 - 0.0372521 * z ** 3 + (0.00504722 * -5) / 10;
  return 1 / (w / 0.785157 + (1 - w) / water + w * (1 - w) * excess);
})();

/** Both baths as mL of solvent and g of resin, after each wash in turn. */
function afterWashes(washes: readonly { carryG: number; dragMl: number }[]) {
  const dirty = { ml: 4000, resinG: 0 };
  const clean = { ml: 4000, resinG: 0 };
  const volume = ({ ml, resinG }: typeof dirty) => ml + resinG / 1.11;
  const leave = (bath: typeof dirty, dragMl: number) => {
    const share = dragMl / volume(bath);
    const film = { ml: bath.ml * share, resinG: bath.resinG * share };
    bath.ml -= film.ml;
    bath.resinG -= film.resinG;
    return film;
  };
  for (const { carryG, dragMl } of washes) {
    dirty.resinG += carryG;
    const film = leave(dirty, dragMl);
    clean.ml += film.ml;
    clean.resinG += film.resinG;
    leave(clean, dragMl);
  }
  return { dirty, clean, volume };
}

const WASHES = [
  { carryG: 5, dragMl: 20 },
  { carryG: 3, dragMl: 10 },
  { carryG: 4, dragMl: 10 },
  { carryG: 1, dragMl: 10 },
];

describe('washes', () => {
  it('count loads, parts by kind, who, and the resin as it was weighed', () => {
    expect(data.washes).toEqual({
      loads: 3,
      parts: 8,
      parts_by_kind: { splint: 3, model: 5 },
      loads_without_parts: 1,
      estimated_loads: 0,
      by: [
        { by: 'TO', loads: 1 },
        { by: 'NB', loads: 1 },
        { by: null, loads: 1 },
      ],
      resin_in_g: { p50: 3 + 4 + 1 },
    });
    expect(text).toContain('loads 3 (TO 1, NB 1, no initials 1)');
    expect(text).toContain('parts 8: 3 splint, 5 model; 1 load names no parts');
    expect(text).toContain('resin in 8.0 g came in on them');
  });
});

describe('changes', () => {
  const { dirty, clean, volume } = afterWashes(WASHES);
  // What goes in and out of the clean bath is the same volume, so it stood at its mark; 13 g of resin went into the dirty one.
  const dirtyMl = 4000 + 13 / 1.11 - 50;
  // A rotation keeps 4000 of 4100 mL of the clean bath.
  const surplus = { ml: (clean.ml + 100) * (100 / 4100), resinG: clean.resinG * (100 / 4100) };

  it('agree with volumes that need no recursion', () => {
    expect(volume(dirty)).toBeCloseTo(dirtyMl, 6);
    expect(volume(clean)).toBeCloseTo(4000, 6);
  });

  it('tell litres poured and drained, with their mass', () => {
    expect(data.changes).toHaveLength(2);
    const [topUp, rotate] = data.changes;
    expect(topUp).toMatchObject({ id: 'topup1', bath: 'clean', poured_ml: 100, waste_ml: 0, by: 'NB' });
    expect(rotate).toMatchObject({ id: 'rotat1', bath: null, solvent: 'ipa99', into: 'can-1' });
    expect(rotate.poured_ml).toBeCloseTo(4000, 6);
    expect(rotate.waste_ml).toBeCloseTo(dirtyMl + 100, 4);
    const grams = DENSITY * (dirty.ml + surplus.ml) + dirty.resinG + surplus.resinG;
    expect(rotate.waste_g).toBeCloseTo(grams, 3);
    expect(text).toContain('Wed 11:00 (NB): top-up clean: 0.10 L of ipa99 poured');
    expect(text).toContain(
      `Wed 12:00 (TO): rotate: 4.00 L of ipa99 poured, ${((dirtyMl + 100) / 1000).toFixed(2)} L (${(grams / 1000).toFixed(2)} kg) to waste, into can-1`,
    );
    expect(text).toContain(`together 4.10 L poured, ${((dirtyMl + 100) / 1000).toFixed(2)} L to waste`);
  });

  it('cost what the latest receipt says, and leave the rest on hand', () => {
    // 124 for 20 L is 6.20 a litre, which goes before the 7 of the head; 8 L filled, 4.1 L poured today.
    expect(data.solvent_used).toHaveLength(1);
    expect(data.solvent_used[0]).toMatchObject({ solvent: 'ipa99', price_per_l: 6.2 });
    expect(data.solvent_used[0].ml).toBeCloseTo(4100, 6);
    expect(data.solvent_used[0].money).toBeCloseTo(25.42, 6);
    expect(data.stock).toHaveLength(1);
    expect(data.stock[0].on_hand_ml).toBeCloseTo(20_000 - 8000 - 4100, 6);
    expect(text).toContain('used 4.10 L of ipa99, 25.42 CAD');
    expect(text).toContain('on hand 7.90 L of ipa99');
  });

  it('fill the container and the month', () => {
    const litres = (dirtyMl + 100) / 1000;
    expect(data.waste.month).toBe('2026-11-01T00:00:00-03:00');
    expect(data.waste.litres).toBeCloseTo(litres, 6);
    expect(data.waste.kg).toBeCloseTo(data.changes[1].waste_g / 1000, 9);
    expect(data.waste.tray_kg).toBe(0);
    expect(data.waste.site_kg).toBeCloseTo(data.waste.kg, 9);
    expect(data.waste.containers).toMatchObject([
      { container: 'can-1', capacity_ml: 10_000, taken_ml: 0, closed: null },
    ]);
    expect(data.waste.containers[0].age_days).toBeCloseTo(2 + 10.5 / 24, 9);
    expect(text).toContain(`can-1 holds ${litres.toFixed(2)} L of 10 L (41 %), in use for 2 days`);
  });

  it('are held against the thresholds of the table, and nothing is judged', () => {
    // 40 CFR 262.13: 100 and 1000 kg a month; Washington 220 lb of 0.45359237 kg (data/limits.csv, exact pound from 1959).
    const monthly = data.waste.thresholds.filter(({ kind }: { kind: string }) => kind === 'month-kg');
    const values = monthly.map(({ value }: { value: number }) => value).sort((a: number, b: number) => a - b);
    expect(values[0]).toBeCloseTo(220 * 0.45359237, 6);
    expect(values.slice(1)).toEqual([100, 1000]);
    expect(monthly.every(({ past }: { past: boolean }) => !past)).toBe(true);
    expect(text).toContain('local rules decide, ask your local authority');
    expect(text).toContain('never down the drain, never left to evaporate');
    expect(text).not.toMatch(/\b(?:safe|compliant|permitted|legal)\b/i);
  });
});

describe('the record', () => {
  it('lists inspections', () => {
    expect(data.inspections).toMatchObject([{ id: 'insp01', result: 'ok', cases: ['26-0117'] }]);
    expect(text).toContain('Wed 13:00 (NB): ok, wash wash03, case 26-0117');
    // The clean bath as the third load left it: its resin over everything in it.
    const { clean } = afterWashes(WASHES.slice(0, 3));
    const wtPct = (100 * clean.resinG) / (clean.resinG + clean.ml * DENSITY);
    const { wash_seen: seen } = data.inspections[0];
    expect(seen).toMatchObject({ id: 'wash03', last_bath: 'clean', soak_min: 65 });
    expect(seen.resin_wt_pct.p50).toBeCloseTo(wtPct, 6);
    expect(text).toContain(`ok, wash wash03, case 26-0117; by estimate clean bath ${wtPct.toFixed(2)}`);
  });

  it('lists corrections with what was and what is', () => {
    expect(data.corrections).toMatchObject([
      { event: { id: 'amend1' }, of: { id: 'wash01', by: 'NB' }, counts: true },
      { event: { id: 'void01' }, of: { id: 'twice1' }, counts: true },
    ]);
    expect(text).toContain('corrected wash wash01 of Tue 09:00: by "NB" → "TO"; why: "mixed up"');
    expect(text).toContain('took back wash twice1 of Wed 15:00; why: "entered twice"');
  });

  it('has the baths of the same moment, resin by the same recursion', () => {
    const { clean } = afterWashes(WASHES);
    const [dirty, fresh] = data.baths;
    expect(dirty.resin_g.p50).toBeCloseTo(clean.resinG * (4000 / 4100), 6);
    expect(fresh.resin_g.p50).toBe(0);
    expect(fresh.volume_ml.p50).toBeCloseTo(4000, 6);
  });
});

describe('an entry logged afterwards', () => {
  const late = `{id: "late01", at: ${day(17, '16:00')}, what: wash, parts: {model: 2}, resin: grey, carry_g: 2, drag_ml: [10, 10], minutes: [60, 5], logged: ${day(18, '08:00')}, by: "NB"}`;
  const same = `{id: "late02", at: ${day(18, '08:30')}, what: wash, parts: {model: 1}, resin: grey, carry_g: 2, drag_ml: [10, 10], minutes: [60, 5], logged: ${day(18, '17:00')}, by: "NB"}`;
  const path = ledgerOf(
    [...LINES, late, same].map((line) => `  - ${line}`),
    HEAD,
  );
  const reportFrom = (from: string, asOf: string) =>
    JSON.parse(run(['report', '--json', '--ledger', path, '--from', from, '--as-of', asOf]).out).data;

  it('counts at its own time, and is named where it was typed', () => {
    const now = reportFrom(FROM, TO);
    expect(now.washes.loads).toBe(4);
    expect(now.late).toMatchObject([
      { event: { id: 'late01' }, counted: false },
      { event: { id: 'late02' }, counted: true },
    ]);
    const before = reportFrom(day(17, '00:00'), day(17, '23:59'));
    expect(before.washes.loads).toBe(2);
    expect(before.late).toEqual([]);
  });

  it('is told together with those of its kind, each by its id', () => {
    const wash = (nth: number, by: string) =>
      `  - {id: "late${nth}", at: ${day(17, `0${nth}:00`)}, what: wash, parts: {model: 1}, resin: grey, carry_g: 1, drag_ml: [10, 10], minutes: [60, 5], logged: ${day(18, '08:00')}, by: "${by}"}`;
    const guessed = ledgerOf(
      [
        ...LINES.map((line) => `  - ${line}`),
        ...[1, 2, 3, 4, 5].map((nth) => wash(nth, 'NB')),
        wash(6, 'TO'),
      ],
      HEAD,
    );
    const out = run(['report', '--ledger', guessed, '--from', day(18, '00:00'), '--as-of', TO]).out;
    const told = out.replaceAll(/\s+/g, ' ');
    expect(told).toMatch(
      /08:00 \(NB\): logged 5 wash entries of \S+ 01:00 to \S+ 05:00 afterwards; they belong to an earlier time and are in no sum above: late1, late2, late3, late4, late5 /,
    );
    expect(told).toMatch(
      /08:00 \(TO\): logged wash late6 of \S+ 06:00 afterwards; it belongs to an earlier time/,
    );
  });
});
