// An invented ledger of any length, always the same for the same length: washes, top-ups, rotations, and readings if asked for.
const HEAD = `format: bathbook/1
shop:
  name: Long Wharf Bench
  timezone: America/Halifax
  currency: CAD
  defaults: {resin: grey, drained_min: 10, prerinse: none, midrinse: brush, minutes: [5, 5], agitation: hand}
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, lid_open_h: 1}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, lid_open_h: 1}
solvents:
  ipa99: {ipa_wt_pct: 99.5, price_per_l: 6.2}
resins:
  grey: {density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49}
events:
`;
const START_MS = Date.UTC(2015, 0, 5, 12);
const STEP_MS = 50 * 60_000;

/** Time of the event with this number, UTC. */
const timeOf = (number) => new Date(START_MS + number * STEP_MS).toISOString().replace('.000Z', '+00:00');

/** @param {number} events @param {number} [readingEvery] a reading in place of every so many events; 0 for none */
export function makeLedger(events, readingEvery = 0) {
  const lines = ['dirty', 'clean'].map(
    (bath, number) =>
      `  - {id: "f${number}", at: ${timeOf(number)}, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}`,
  );
  for (let number = 2; number < events; number += 1)
    lines.push(
      `  - {id: "e${number}", at: ${timeOf(number)}, ${readingEvery > 0 && number % readingEvery === 0 ? readingOf(number / readingEvery) : eventOf(number)}}`,
    );
  return { text: `${HEAD}${lines.join('\n')}\n`, lastAt: makeLedger.lastAt(events) };
}

makeLedger.lastAt = (events) => timeOf(events + 1);

/** One instrument after the other, in one bath after the other; about what such a bath would show. */
function readingOf(nth) {
  const bath = nth % 2 === 0 ? 'dirty' : 'clean';
  const values = [
    'density_g_ml: 0.7868, temp_c: 22',
    'refractive_index: 1.3769, temp_c: 22',
    'level_ml: 3950',
    'residue: {sample_ml: 10, dry_g: 0.03}',
  ];
  return `what: reading, bath: ${bath}, ${values[Math.floor(nth / 2) % 4]}, by: "LW"`;
}

function eventOf(number) {
  if (number % 90 === 0) return 'what: rotate, solvent: ipa99, into: "can-1", by: "LW"';
  if (number % 15 === 0)
    return `what: top-up, bath: ${number % 30 === 0 ? 'clean' : 'dirty'}, solvent: ipa99, to: mark, by: "LW"`;
  const parts = ['{model: 6, mask: 2}', '{hollow-model: 4}', '{splint: 5, guide: 1}', '{die: 12, crown: 6}'][
    number % 4
  ];
  return `what: wash, parts: ${parts}, drained_min: ${10 + (number % 5) * 10}, prerinse: spray, cases: ["L${number}"], by: "LW"`;
}
