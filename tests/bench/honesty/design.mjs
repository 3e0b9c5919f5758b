// An invented shop before anything is known of it: tubs, habits, weeks of washes, top-ups and changes of liquid.
import { rounded } from './observe.mjs';

/**
 * @typedef {import('./random.mjs').Random} Random
 * @typedef {Record<string, any>} Plain
 * @typedef {{header: Plain, events: Plain[], clock: string}} Design
 */

export const MINUTE = 60_000;
export const DAY = 24 * 60 * MINUTE;
/** All dates lie in winter, so the offset never changes. */
const OFFSET_H = -4;
export const FIRST_MONDAY = Date.parse('2025-11-03T00:00:00Z');

/** RFC 3339 at the shop's offset. @param {number} localMs local time as if it were UTC */
export function stamp(localMs) {
  return `${new Date(localMs).toISOString().slice(0, 19)}-04:00`;
}

/** Local milliseconds of a stamp. @param {string} iso */
export function localOf(iso) {
  return Date.parse(iso) + OFFSET_H * 60 * MINUTE;
}

/** @param {Random} random @param {number} mark @returns {Plain} */
function tub(random, mark) {
  const areaMm2 = (mark * 1000) / random.between(60, 130);
  const ratio = random.between(1.1, 1.6);
  const toFive = (/** @type {number} */ mm) => 5 * Math.round(mm / 5);
  return {
    mark_ml: mark,
    length_mm: toFive(Math.sqrt(areaMm2 * ratio)),
    width_mm: toFive(Math.sqrt(areaMm2 / ratio)),
    freeboard_mm: toFive(random.between(20, 60)),
    lid_open_h: rounded(0.5 * 8 ** random.uniform(), 1),
  };
}

/** @param {Random} random */
function usualWash(random) {
  return {
    resin: 'standard',
    drained_min: random.pick([5, 10, 10, 15, 30, 60]),
    prerinse: random.weighted({ none: 5, spray: 2, brush: 1.5, spin: 1.5 }),
    midrinse: random.weighted({ none: 6, spray: 2, brush: 2 }),
    minutes: random.pick([
      [5, 5],
      [5, 5],
      [3, 3],
      [4, 6],
      [10, 5],
      [3, 2],
      [8, 8],
    ]),
    agitation: random.weighted({ still: 3, hand: 3, stirred: 2.5, ultrasonic: 1.5 }),
  };
}

/** @param {Random} random @returns {Plain} */
export function headerOf(random) {
  const dirty = 250 * random.whole(4, 24);
  const other = 250 * Math.round((dirty * random.between(0.6, 1.4)) / 250);
  const clean = random.chance(0.6) ? dirty : Math.min(Math.max(other, 1000), 6000);
  const solvent = random.weighted({ ipa99: 7, ipa95: 2, ipa91: 1 });
  const strengths = {
    ipa99: { ipa_wt_pct: 99.5 },
    ipa95: { ipa_wt_pct: 95 },
    ipa91: { ipa_vol_pct: 91 },
  };
  return {
    format: 'bathbook/1',
    shop: {
      name: 'Simulated Bench',
      timezone: 'America/Halifax',
      currency: 'CAD',
      room_c: rounded(2 * random.between(18, 26), 0) / 2,
      humidity_pct: random.whole(30, 65),
      parts_use: 'models',
      defaults: usualWash(random),
    },
    baths: { dirty: tub(random, dirty), clean: tub(random, clean) },
    solvents: { [solvent]: strengths[solvent] },
    resins: { standard: { density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49 } },
    parts: {
      model: { shape: 'solid', volume_ml: 32 },
      'hollow-model': { shape: 'hollow', volume_ml: 12.5, wall_mm: 2 },
      die: { shape: 'small', volume_ml: 1.5 },
      mask: { shape: 'mask', volume_ml: 3 },
      splint: { shape: 'sheet', volume_ml: 5 },
    },
  };
}

/** @param {Random} random @param {number} most models that fit @returns {Plain} */
export function loadOf(random, most) {
  const some = (/** @type {number} */ share) =>
    Math.max(1, Math.round(most * share * random.between(0.4, 1)));
  switch (random.weighted({ model: 5, mixed: 2, hollow: 1, splint: 1, die: 1 })) {
    case 'model':
      return { model: some(1) };
    case 'mixed':
      return { model: some(0.7), mask: some(0.6) };
    case 'hollow':
      return { 'hollow-model': some(0.8) };
    case 'splint':
      return { splint: some(1.2) };
    default:
      return { die: some(4) };
  }
}

/** What one wash does otherwise than usual. @param {Random} random @returns {Plain} */
export function otherwise(random) {
  return {
    ...(random.chance(0.2) ? { drained_min: random.pick([3, 8, 20, 45, 720]) } : {}),
    ...(random.chance(0.08) ? { prerinse: random.pick(['none', 'spray']) } : {}),
    ...(random.chance(0.08)
      ? {
          minutes: random.pick([
            [2, 2],
            [6, 4],
            [12, 6],
          ]),
        }
      : {}),
  };
}

/** @param {Random} random @param {{start: number, days: number, mark: number}} when @returns {Plain[]} */
function washes(random, { start, days, mark }) {
  const pace = random.between(1, 4);
  const most = Math.max(1, (mark / 1000) * random.between(1.5, 4));
  const out = [];
  for (let day = 0; day < days; day++) {
    if (day % 7 > 4) continue;
    const count = Math.floor(pace + random.uniform());
    const minutes = random.shuffled(Array.from({ length: 32 }, (_, i) => 510 + 15 * i)).slice(0, count);
    for (const minute of minutes.sort((a, b) => a - b))
      out.push({
        at: start + day * DAY + (minute + random.whole(0, 6)) * MINUTE,
        what: 'wash',
        parts: loadOf(random, most),
        ...otherwise(random),
      });
  }
  return out;
}

/** Monday mornings, as the shop has it. @param {Random} random @param {{start: number, weeks: number, solvent: string}} when @returns {Plain[]} */
function topUps(random, { start, weeks, solvent }) {
  const often = { weekly: 0.95, 'now and then': 0.4, never: 0 }[
    random.weighted({ weekly: 6, 'now and then': 2, never: 5 })
  ];
  const out = [];
  for (let week = 1; week < weeks; week++)
    for (const [i, bath] of ['dirty', 'clean'].entries())
      if (random.chance(often))
        out.push({
          at: start + week * 7 * DAY + (450 + 2 * i) * MINUTE,
          what: 'top-up',
          bath,
          solvent,
          to: 'mark',
        });
  return out;
}

/** Late on working days, the last in time for a few more washes. @param {Random} random @param {{start: number, days: number, solvent: string}} when @returns {Plain[]} */
function changes(random, { start, days, solvent }) {
  const late = (/** @type {number} */ from, /** @type {number} */ to) => {
    const day = Math.floor(days * random.between(from, to));
    return start + (day - Math.max(0, (day % 7) - 4)) * DAY + 1050 * MINUTE;
  };
  switch (random.weighted({ none: 3, once: 3, twice: 2, refill: 2 })) {
    case 'once':
      return [{ at: late(0.3, 0.75), what: 'rotate', solvent }];
    case 'twice':
      return [
        { at: late(0.2, 0.45), what: 'rotate', solvent },
        { at: late(0.55, 0.8), what: 'rotate', solvent },
      ];
    case 'refill':
      return [{ at: late(0.3, 0.75), what: 'refill', bath: random.pick(['dirty', 'clean']), solvent }];
    default:
      return [];
  }
}

/** @param {Random} random @returns {Design} */
export function designShop(random) {
  const header = headerOf(random);
  const weeks = random.whole(3, 8);
  const start = FIRST_MONDAY + 7 * DAY * random.whole(0, 8);
  const solvent = Object.keys(header.solvents)[0];
  const days = 7 * weeks - random.whole(2, 5);
  const fills = ['dirty', 'clean'].map((bath, i) => ({
    at: start + (420 + 3 * i) * MINUTE,
    what: 'fill',
    bath,
    solvent,
    ml: header.baths[bath].mark_ml,
  }));
  const mark = Math.min(header.baths.dirty.mark_ml, header.baths.clean.mark_ml);
  const events = [
    ...fills,
    ...washes(random, { start, days, mark }),
    ...topUps(random, { start, weeks, solvent }),
    ...changes(random, { start, days, solvent }),
  ].sort((a, b) => a.at - b.at);
  const end = events[events.length - 1].at + random.whole(60, 1200) * MINUTE;
  return {
    header,
    events: events.map(({ at, ...rest }, i) => ({ id: idOf(i), at: stamp(at), ...rest })),
    clock: stamp(end),
  };
}

/** Four characters, never like a number. @param {number} n */
export function idOf(n) {
  return `e${n.toString(36).padStart(3, '0')}`;
}
