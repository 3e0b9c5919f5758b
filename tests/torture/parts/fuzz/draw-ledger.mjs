// Ledgers: a head of any kind, events of any kind.
import { oneOf, wholeBelow } from '../random.mjs';
import { drawEvents, lineOf } from './draw-events.mjs';
import { calm, HOSTILE, number, text } from './words.mjs';

const ZONES = [
  'America/Halifax',
  'UTC',
  'Asia/Kathmandu',
  'Pacific/Apia',
  'Europe/Lisbon',
  'Nowhere/At_All',
  '../etc/passwd',
];

/** A ledger with about so many events. */
export function drawLedger(random, most = 14) {
  calm(random, random() < 0.7);
  const events = drawEvents(random, wholeBelow(random, most));
  const lines = events.map((event) => `  - ${lineOf(event)}\n`).join('');
  return `${headOf(random)}events:\n${lines}`;
}

function headOf(random) {
  const plain = random() < 0.5;
  if (plain)
    return head({
      name: 'Cobble Hill Bench',
      shop: '',
      rest: '',
      tubs: [tub(random), tub(random)],
    });
  return head({
    name: JSON.stringify(text(random)),
    shop: shopOf(random),
    rest: restOf(random),
    tubs: [tub(random), tub(random)],
  });
}

function head({ name, shop, rest, tubs }) {
  return `format: bathbook/1\nshop:\n  name: ${name}\n${shop}baths:\n  dirty: ${tubs[0]}\n  clean: ${tubs[1]}\n${rest}`;
}

function tub(random) {
  const more = [
    `, lid_open_h: ${number(random, 0, 24)}`,
    `, evaporation: ${number(random, 0, 3)}`,
    `, moisture: ${number(random, 0, 3)}`,
    `, tub_ml: ${number(random, 4200, 6000)}`,
  ].filter(() => random() < 0.1);
  return `{mark_ml: ${number(random, 3900, 4100, { edgeIn: 200 })}, length_mm: 260, width_mm: ${number(random, 100, 300, { edgeIn: 200 })}, freeboard_mm: 50${more.join('')}}`;
}

function shopOf(random) {
  return [
    `  timezone: ${random.isCalm || random() < 0.9 ? oneOf(random, ZONES.slice(0, 5)) : oneOf(random, ZONES)}\n`,
    `  currency: ${random.isCalm ? 'CAD' : oneOf(random, ['EUR', '""', JSON.stringify(text(random))])}\n`,
    `  room_c: ${number(random, 15, 30)}\n`,
    `  humidity_pct: ${number(random, 10, 90)}\n`,
    `  parts_use: ${oneOf(random, ['models', 'body-contact'])}\n`,
    `  defaults: {drained_min: ${number(random, 0, 60)}, minutes: [5, 5], agitation: stirred}\n`,
  ]
    .filter(() => random() < 0.4)
    .join('');
}

function restOf(random) {
  const odd = () => (!random.isCalm && random() < 0.1 ? oneOf(random, HOSTILE) : 'grey');
  return [
    `factors: {carry: ${number(random, 0.3, 3)}, drag: ${number(random, 0.3, 3)}}\n`,
    `limits: {dirty_resin: [${number(random, 1, 8)}, ${number(random, 8, 12)}, ${number(random, 12, 30)}]}\n`,
    `solvents:\n  ipa99: {ipa_wt_pct: ${number(random, 90, 99.9)}, price_per_l: ${number(random, 1, 9)}}\n`,
    `resins:\n  ${JSON.stringify(odd())}: {density_g_ml: ${number(random, 1, 1.2)}, viscosity_mpa_s: ${number(random, 50, 3000)}}\n`,
    `parts:\n  ${JSON.stringify(odd())}: {shape: ${oneOf(random, ['solid', 'hollow', 'mask', 'sheet'])}, volume_ml: ${number(random, 0.5, 90)}}\n`,
  ]
    .filter(() => random() < 0.3)
    .join('');
}
