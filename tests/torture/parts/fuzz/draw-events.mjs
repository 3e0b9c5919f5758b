// Events of every kind, as maps from key to the text of its value; most of them are sound.
import { oneOf, wholeBelow } from '../random.mjs';
import { edgeDate, number, text, timeAt } from './words.mjs';

const quoted = (value) => JSON.stringify(value);
const chance = (random, share) => random() < share;
/** Nothing where only sound values are drawn. */
const odd = (random, ...values) => (random.isCalm ? [] : values);
const BATHS = ['dirty', 'clean'];
const PARTS = ['model', 'mask', 'hollow-model', 'splint', 'crown'];

function partsOf(random) {
  const count = 1 + wholeBelow(random, 3);
  const names = Array.from({ length: count }, () => oneOf(random, PARTS));
  return `{${[...new Set(names)].map((name) => `${name}: ${number(random, 1, 9, { whole: true })}`).join(', ')}}`;
}

const casesOf = (random) => `[${quoted(text(random))}, ${quoted(text(random))}]`;

const OF_WASH = {
  resin: () => 'standard',
  drained_min: (random) => number(random, 0, 90),
  prerinse: (random) => oneOf(random, ['none', 'spray', 'brush', 'spin']),
  midrinse: (random) => oneOf(random, ['none', 'spray', 'brush']),
  minutes: (random) => `[${number(random, 1, 20)}, ${number(random, 1, 20)}]`,
  agitation: (random) => oneOf(random, ['still', 'hand', 'stirred', 'ultrasonic']),
  baths: (random) => oneOf(random, ['[dirty, clean]', '[clean]', ...odd(random, '[dirty, dirty]', '[mine]')]),
  carry_g: (random) => number(random, 0, 30),
  drag_ml: (random) => `[${number(random, 0, 40)}, ${number(random, 0, 40)}]`,
  trapped_g: (random) => number(random, 0, 5),
  cases: casesOf,
  lot: (random) => quoted(text(random)),
  hollow: (random) => oneOf(random, ['true', 'false']),
};

const INSTRUMENTS = {
  density_g_ml: (random) => number(random, 0.79, 0.86),
  sg: (random) => number(random, 0.79, 0.86),
  brix: (random) => number(random, 20, 35),
  refractive_index: (random) => number(random, 1.37, 1.4),
  residue: (random) => `{sample_ml: ${number(random, 5, 20)}, dry_g: ${number(random, 0, 0.5)}}`,
  resin_wt_pct: (random) => number(random, 0, 20),
  level_ml: (random) => number(random, 1000, 4500),
  weight_g: (random) => number(random, 1000, 4500),
};

/** By kind: what an event of it says; `ids` are those of the events before it. */
const KINDS = {
  wash: (random) => {
    const said = chance(random, 0.85)
      ? { parts: partsOf(random) }
      : {
          volume_ml: number(random, 1, 300),
          area_cm2: number(random, 10, 900),
        };
    for (const [key, draw] of Object.entries(OF_WASH)) if (chance(random, 0.15)) said[key] = draw(random);
    return said;
  },
  fill: (random) => ({
    bath: oneOf(random, BATHS),
    solvent: 'ipa99',
    ml: number(random, 500, 4500),
  }),
  'top-up': (random) =>
    oneOf(random, [
      {
        bath: oneOf(random, BATHS),
        solvent: 'ipa99',
        ml: number(random, 1, 600),
      },
      { bath: 'dirty', from: 'clean', to: 'mark' },
      {
        bath: oneOf(random, BATHS),
        to: 'mark',
        ...(random.isCalm ? { solvent: 'ipa99' } : {}),
      },
    ]),
  drain: (random) =>
    oneOf(random, [
      {
        bath: oneOf(random, BATHS),
        ml: number(random, 1, 900),
        into: quoted(text(random)),
      },
      { bath: oneOf(random, BATHS), to: 'mark' },
      {
        bath: oneOf(random, BATHS),
        ...(odd(random, { all: 'true' }).at(0) ?? { ml: '20' }),
      },
    ]),
  rotate: (random) =>
    oneOf(random, [
      {},
      { solvent: 'ipa99', ml: number(random, 500, 4500) },
      {
        into: quoted(text(random)),
        solvent: oneOf(random, ['ipa91', ...odd(random, 'water')]),
      },
    ]),
  refill: (random) => ({
    bath: oneOf(random, BATHS),
    ...(chance(random, 0.5) ? { solvent: oneOf(random, ['ipa99', 'ipa91']) } : {}),
  }),
  reading: (random) => {
    const [key, draw] = oneOf(random, Object.entries(INSTRUMENTS));
    const said = { bath: oneOf(random, BATHS), [key]: draw(random) };
    if (key === 'sg' && (random.isCalm || chance(random, 0.5)))
      said.sg_ref = quoted(oneOf(random, ['20/20', '60/60F']));
    if (chance(random, 0.4)) said.temp_c = number(random, 15, 30);
    if (chance(random, 0.1)) said.sd = number(random, 0.0001, 0.01);
    return said;
  },
  weighed: (random, ids) => ({
    wash: quoted(idOf(random, washesOf(ids))),
    wet_g: number(random, 200, 300),
    clean_g: number(random, 60, random.isCalm ? 190 : 250),
  }),
  inspect: (random, ids) => ({
    ...(washesOf(ids).length > 0 && chance(random, 0.4) ? { wash: quoted(idOf(random, washesOf(ids))) } : {}),
    result: oneOf(random, ['ok', 'sticky', 'cloudy', 'soft', 'cracked', 'residue']),
    ...(chance(random, 0.3) ? { parts: partsOf(random) } : {}),
    ...(chance(random, 0.3) ? { cases: casesOf(random) } : {}),
  }),
  stock: (random) => ({
    solvent: 'ipa99',
    ...(chance(random, 0.5)
      ? {
          received_ml: number(random, 100, 20000),
          price: number(random, 1, 200),
          lot: quoted(text(random)),
        }
      : { counted_ml: number(random, 0, 20000) }),
    ...(chance(random, 0.2) ? { supplier_note: quoted(text(random)) } : {}),
  }),
  waste: (random) => ({
    container: quoted(text(random)),
    action: oneOf(random, ['opened', 'emptied', 'collected']),
    ...(chance(random, 0.4) ? { capacity_l: number(random, 1, 60) } : {}),
    ...(chance(random, 0.3) ? { ml: number(random, 1, 9000) } : {}),
  }),
  reclaim: (random) => ({
    container: quoted(text(random)),
    ml: number(random, 1, 3000),
    method: oneOf(random, ['settled', 'distilled']),
    solvent: oneOf(random, ['ipa99', 'ipa91']),
  }),
  void: (random, ids) => ({
    of: quoted(idOf(random, ids)),
    why: quoted(text(random)),
  }),
  amend: (random, ids) => ({
    of: quoted(idOf(random, ids)),
    set: oneOf(
      random,
      random.isCalm
        ? [`{note: ${quoted(text(random))}}`]
        : [
            `{ml: ${number(random, 1, 4500)}}`,
            `{parts: ${partsOf(random)}}`,
            `{note: ${quoted(text(random))}}`,
            `{at: ${timeAt(wholeBelow(random, 90_000))}}`,
            `{__proto__: {ml: 1}}`,
            `{constructor: 1}`,
            `{carry_g: ${number(random, 0, 30)}, minutes: [1, 2]}`,
            `{id: "x"}`,
          ],
    ),
    why: quoted(text(random)),
  }),
};

const OFTEN = ['wash', 'wash', 'wash', 'wash', 'reading', 'top-up'];
const EVENT_KINDS = Object.keys(KINDS);
/** Filling takes an empty bath. */
const CALM_KINDS = EVENT_KINDS.filter((kind) => kind !== 'fill');

/** Now and then of an event that is not there. */
function idOf(random, ids) {
  return ids.length > 0 && (random.isCalm || chance(random, 0.95)) ? oneOf(random, ids) : 'nobody';
}

/** Their ids begin with a w. */
const washesOf = (ids) => ids.filter((id) => id.startsWith('w'));

/** The events of a shop, both baths filled first, in their order but for a few. */
export function drawEvents(random, count) {
  const ids = ['fill-d', 'fill-c'];
  const events = BATHS.map((bath, nth) => ({
    id: quoted(ids[nth]),
    at: timeAt(nth),
    what: 'fill',
    bath,
    solvent: 'ipa99',
    ml: '4000',
  }));
  let minute = 10;
  for (let nth = 0; nth < count; nth += 1) {
    minute += wholeBelow(random, chance(random, 0.1) ? 40_000 : 900);
    const drawn = oneOf(random, chance(random, 0.6) ? OFTEN : random.isCalm ? CALM_KINDS : EVENT_KINDS);
    const what = drawn === 'weighed' && washesOf(ids).length === 0 ? 'wash' : drawn;
    const id = `${what === 'wash' ? 'w' : 'e'}${nth}${'xyz'[wholeBelow(random, 3)]}`;
    events.push({
      id: quoted(id),
      at: timeOf(random, minute),
      what,
      ...KINDS[what](random, ids),
      ...(chance(random, 0.15) ? { by: quoted(text(random)) } : {}),
      ...(chance(random, 0.15) ? { note: quoted(text(random)) } : {}),
    });
    ids.push(id);
  }
  return events;
}

function timeOf(random, minute) {
  if (!random.isCalm && chance(random, 0.01)) return edgeDate(random);
  return timeAt(chance(random, 0.05) ? wholeBelow(random, Math.max(1, minute)) : minute);
}

/** One event on one line, in braces. */
export function lineOf(event) {
  return `{${Object.entries(event)
    .map(([key, value]) => `${key}: ${value}`)
    .join(', ')}}`;
}
