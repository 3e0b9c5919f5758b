// Whole simulated shops: a design, a truth drawn from the priors, and readings of that truth.
import { volumeAt } from './baths.mjs';
import { designShop, idOf, localOf, stamp } from './design.mjs';
import { medianDraws, Simulation } from './model.mjs';
import { massesOf, SIGHTS, typedLoad, typedReading } from './observe.mjs';
import { priorDraws } from './prior.mjs';
import { Random } from './random.mjs';
import { planOf } from './steps.mjs';

/**
 * @typedef {Record<string, any>} Plain
 * @typedef {import('./design.mjs').Design} Design
 * @typedef {{resinWtPct: number, waterWtPct: number, volumeMl: number}} Truth
 * @typedef {object} Shop
 * @property {Plain} header
 * @property {Plain[]} base events without readings
 * @property {Plain[]} readings in the order in which plans take them in
 * @property {string} clock
 * @property {Record<string, Truth>} truth of each bath at the clock
 */

/** Numbers of readings that a shop is judged with; each plan holds the one before. */
export const READINGS = [0, 1, 3, 10];
const MOST = READINGS[READINGS.length - 1];
const MINUTE = 60_000;

/** Redraw a design of which more than this share of prior draws is absurd, so that the truth need hardly ever be. */
const ABSURD_SHARE = 0.02;
const TRIED = 200;
const LEAST_FILL = 0.4;
const LEAST_IPA = 0.6;
const MOST_RESIN_PCT = 15;
/** Below this a residue or a wt% would often be typed as 0. */
const LEAST_RESIN_PCT = 0.35;

/** Which draws ever fall under 40 % of a mark or 60 wt% IPA, and their baths at the clock. @param {import('./steps.mjs').Plan} plan @param {import('./model.mjs').Draws} draws */
function runWatched(plan, draws) {
  const absurd = new Uint8Array(draws.size);
  const outcome = new Simulation(plan, draws).run(undefined, (tubs) => {
    tubs.forEach((liquid, k) => {
      for (let j = 0; j < draws.size; j++) {
        const solvent = liquid.ipa[j] + liquid.water[j];
        if (solvent === 0) continue;
        const isLow = volumeAt(liquid, j, plan.room) < LEAST_FILL * plan.tubs[k].mark;
        if (isLow || liquid.ipa[j] < LEAST_IPA * solvent) absurd[j] = 1;
      }
    });
  });
  return { ...outcome, absurd };
}

/** @param {import('./model.mjs').Liquid} liquid @param {number} j */
export function percentages({ resin, ipa, water }, j) {
  const solvent = ipa[j] + water[j];
  return { resinWtPct: (100 * resin[j]) / (resin[j] + solvent), waterWtPct: (100 * water[j]) / solvent };
}

/** @param {Design} design @param {Random} random @param {number} [tried] prior draws to judge it by */
export function isSensible({ header, events, clock }, random, tried = TRIED) {
  const plan = planOf(header, events, clock);
  let most = 0;
  new Simulation(plan, medianDraws(plan)).run((_, tubs) => {
    for (const liquid of tubs) most = Math.max(most, percentages(liquid, 0).resinWtPct || 0);
  });
  if (most > MOST_RESIN_PCT) return false;
  const { absurd } = runWatched(plan, priorDraws(plan, tried, random));
  return absurd.reduce((sum, one) => sum + one, 0) <= ABSURD_SHARE * tried;
}

/** @param {Random} random @returns {Design} */
function sensibleDesign(random) {
  for (;;) {
    const design = designShop(random);
    if (isSensible(design, random)) return design;
  }
}

const KINDS = [...Object.keys(SIGHTS), 'weighed'];

/** What a reading is taken with. @param {string} kind @param {Plain} header @param {Random} random @returns {Plain} */
function instrument(kind, header, random) {
  const room = header.shop.room_c;
  const near = Math.round(2 * random.between(room - 2, room + 2)) / 2;
  const temp = random.chance(0.6) ? { temp_c: random.chance(0.2) ? 20 : near } : {};
  switch (kind) {
    case 'density_g_ml':
      return { ...temp, ...(random.chance(0.5) ? { t_ref_c: 20 } : {}) };
    case 'sg': {
      const [sg_ref, t_ref_c] = random.pick([
        ['20/20', 20],
        ['25/25', 25],
        ['60/60F', 15.56],
      ]);
      return { sg_ref, ...temp, t_ref_c };
    }
    case 'brix':
    case 'refractive_index':
      return temp;
    case 'residue':
      return { residue: { sample_ml: random.pick([10, 10, 20, 25]) } };
    default:
      return {};
  }
}

/** @typedef {{kind: string, event: Plain}} Template */

/** A load worth weighing: to 0.01 g, half a gram is held to a few per cent. @param {Design} design @param {Random} random @param {Plain[]} washes @returns {Plain} */
function loadToWeigh({ header, events, clock }, random, washes) {
  const ids = new Set(washes.map(({ id }) => id));
  const loads = planOf(header, events, clock).steps.filter(({ event }) => ids.has(event.id));
  loads.sort((one, other) => other.carry - one.carry);
  const heavy = loads.filter(({ carry }) => carry >= 1);
  return (heavy.length > 0 ? random.pick(heavy) : loads[0]).event;
}

/** @param {Design} design @param {Random} random @param {string} kind @param {number} n @returns {Template} */
function template(design, random, kind, n) {
  const { header, events, clock } = design;
  const washes = events.filter(({ what }) => what === 'wash');
  const id = idOf(1000 + n);
  const late = washes.slice(Math.min(4, washes.length - 2));
  const near = random.pick(late);
  const end = localOf(clock);
  if (kind === 'weighed') {
    const load = loadToWeigh(design, random, late);
    const at = Math.min(localOf(load.at) + random.whole(60, 180) * MINUTE, end - MINUTE);
    return { kind, event: { id, at: stamp(at), what: 'weighed', wash: load.id } };
  }
  // Seconds keep it apart from every other event.
  const at = Math.min(localOf(near.at) + random.whole(5, 600) * MINUTE, end - MINUTE) + n * 1000 + 500;
  const bath = random.chance(0.55) ? 'dirty' : 'clean';
  return {
    kind,
    event: { id, at: stamp(at), what: 'reading', bath, ...instrument(kind, header, random) },
  };
}

/** Every kind once in seven of ten shops, any mixture in the others. @param {Random} random */
function kinds(random) {
  const any = () => random.pick(KINDS);
  const first = random.chance(0.7) ? random.shuffled(KINDS) : [];
  return [...first, ...Array.from({ length: MOST - first.length }, any)];
}

/** Weighed loads must differ, and a dry residue needs resin: judged by the median replay, never by the truth. @param {Template[]} list @param {Design} design @returns {Template[]} */
function fitting(list, { header, events, clock }) {
  const resinAt = (/** @type {Plain} */ event, /** @type {string} */ bath) => {
    const plan = planOf(header, [...events, { ...event, bath }], clock);
    const [look] = new Simulation(plan, medianDraws(plan)).run().looks;
    return look.liquid ? percentages(look.liquid, 0).resinWtPct : 0;
  };
  const weighed = new Set();
  return list.map(({ kind, event }) => {
    if (kind === 'weighed' && weighed.size === weighed.add(event.wash).size)
      return {
        kind: 'level_ml',
        event: { id: event.id, at: event.at, what: 'reading', bath: 'dirty' },
      };
    if (kind !== 'residue' && kind !== 'resin_wt_pct') return { kind, event };
    const bath = [event.bath, 'dirty'].find((one) => resinAt(event, one) >= LEAST_RESIN_PCT);
    if (bath) return { kind, event: { ...event, bath } };
    const { residue: _, ...rest } = event;
    return { kind: 'density_g_ml', event: rest };
  });
}

/** Mass of a load's parts once clean: 1.19 g/mL cured. @param {Plain} header @param {Plain} wash */
function partsG(header, wash) {
  const volumes = Object.entries(wash.parts).map(([name, count]) => header.parts[name].volume_ml * count);
  return 1.19 * volumes.reduce((sum, one) => sum + one, 0);
}

/** What was read, typed as a person would. @param {Template[]} templates @param {import('./model.mjs').Look[]} looks @param {{header: Plain, events: Plain[], room: import('./steps.mjs').Room, random: Random}} how */
export function typed(templates, looks, { header, events, room, random }) {
  return templates.map(({ kind, event }) => {
    const look = looks.find((one) => one.event.id === event.id);
    const error = random.normal();
    if (!look?.liquid) {
      const wash = events.find(({ id }) => id === event.wash);
      return typedLoad(event, look?.weighed?.[0] ?? 0, {
        error,
        partsG: partsG(header, wash ?? {}) * random.between(0.97, 1.03),
      });
    }
    return typedReading(kind, event, massesOf(look.liquid, 0), { room, error });
  });
}

/** Draws a truth that is not absurd, and looks at it. @param {Design} design @param {Template[]} templates @param {Random} random */
function observedTruth({ header, events, clock }, templates, random) {
  const plan = planOf(header, [...events, ...templates.map(({ event }) => event)], clock);
  for (;;) {
    const { tubs, looks, absurd } = runWatched(plan, priorDraws(plan, 1, random));
    if (absurd[0] === 1) continue;
    const readings = typed(templates, looks, { header, events, room: plan.room, random });
    const truth = Object.fromEntries(
      plan.tubs.map(({ name }, k) => [
        name,
        { ...percentages(tubs[k], 0), volumeMl: volumeAt(tubs[k], 0, plan.room) },
      ]),
    );
    return { readings, truth };
  }
}

/** Readings to be taken, without their values. @param {Design} design @param {Random} random */
export function templatesOf(design, random) {
  return fitting(
    kinds(random).map((kind, n) => template(design, random, kind, n)),
    design,
  );
}

/** The shop of a number under a seed, always the same. @param {number} seed @param {number} index @returns {Shop} */
export function makeShop(seed, index) {
  const random = new Random(seed, index, 1);
  const design = sensibleDesign(random);
  const templates = templatesOf(design, random);
  return {
    header: design.header,
    base: design.events,
    clock: design.clock,
    ...observedTruth(design, templates, random),
  };
}

/** The events of a shop with its first few readings, in order of time. @param {{base: Plain[], readings: Plain[]}} shop @param {number} count */
export function eventsWith(shop, count) {
  return [...shop.base, ...shop.readings.slice(0, count)].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
}
