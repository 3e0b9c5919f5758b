// Simulated shops whose ledger is cut some day, and the day on which the true baths then meet the first change limit.
import { DAY, FIRST_MONDAY, headerOf, idOf, loadOf, localOf, MINUTE, otherwise, stamp } from './design.mjs';
import { medianDraws, Simulation } from './model.mjs';
import { priorDraws } from './prior.mjs';
import { Random } from './random.mjs';
import { isSensible, percentages, templatesOf, typed } from './shops.mjs';
import { planOf } from './steps.mjs';

/**
 * @typedef {Record<string, any>} Plain
 * @typedef {{agitation: 'still' | 'stirred', pace: 'regular' | 'ragged', air: 'usual' | 'strong'}} Case
 * @typedef {{share: number, bath: string, what: string}} Near how near the nearest limit is: 1 is at it
 * @typedef {{atMs: number, bath: string, what: string}} Met
 * @typedef {object} DatedShop
 * @property {Case} kind
 * @property {Plain} header
 * @property {Plain[]} base events up to the clock without readings
 * @property {Plain[]} readings in the order in which they are taken in
 * @property {string} clock
 * @property {{days: number, bath: string | null, what: string | null}} truth days from the clock to the first limit, 0 when it is past; Infinity when none is met in a year
 */

/** The most readings that a shop is judged with. */
const MOST_READINGS = 3;
const YEAR = 365;
/** Prior draws that a design is judged by. */
const TRIED = 50;
/** Days of washing behind and ahead together; the longest life of a pair of baths that is worth a date. */
const ALL_DAYS = 700;
const LONGEST_LIFE = 150;
const HALF_HOUR = 30 * MINUTE;
/** Change limits of a shop that prints models, wt% of the bath and of the solvent. */
const CHANGE = { dirty: { resin: 10, water: 8 }, clean: { resin: 2, water: 8 } };

/** The cases take turns, so that each is met equally often; strong evaporation in one shop of four. @param {number} index @returns {Case} */
function caseOf(index) {
  return {
    agitation: index % 2 === 0 ? 'still' : 'stirred',
    pace: (index >> 1) % 2 === 0 ? 'regular' : 'ragged',
    air: (index >> 2) % 4 === 0 ? 'strong' : 'usual',
  };
}

/** @param {Random} random @param {Case} kind @returns {Plain} */
function header(random, { agitation, air }) {
  const made = headerOf(random);
  const [least, most] = air === 'strong' ? [4, 9] : [0.5, 2.5];
  for (const bath of ['dirty', 'clean'])
    made.baths[bath].lid_open_h = Math.round(10 * random.between(least, most)) / 10;
  if (air === 'strong') made.shop.room_c = random.whole(24, 27);
  made.shop.defaults.agitation = agitation;
  // Weaker solvent is past its change limit from the start.
  made.solvents = { ipa: { ipa_wt_pct: random.chance(0.1) ? 96 : 99.5 } };
  return made;
}

/** How many loads a day brings on average, Monday first: a shop's habit. @param {Random} random */
function weekOf(random) {
  const pace = random.between(0.8, 3.5);
  const saturday = random.chance(0.2) ? 0.4 : 0;
  return [1, 1, 1, 1, 0.8, saturday, 0].map((share) => pace * share * random.between(0.5, 1.5));
}

/** @param {Random} random @param {number} mean */
function poisson(random, mean) {
  const least = Math.exp(-mean);
  let count = 0;
  for (let product = random.uniform(); product > least; product *= random.uniform()) count++;
  return count;
}

/** All washes of a shop, behind and ahead. @param {Random} random @param {{start: number, mark: number, pace: Case['pace']}} on @returns {Plain[]} */
function washesOf(random, { start, mark, pace }) {
  const week = weekOf(random);
  const most = Math.max(1, (mark / 1000) * random.between(1.5, 4));
  const out = [];
  for (let day = 0; day < ALL_DAYS; day++) {
    const mean = week[day % 7];
    const count = pace === 'ragged' ? poisson(random, mean) : Math.floor(mean + random.uniform());
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

/** Monday mornings. @param {Random} random @param {number} start @returns {Plain[]} */
function topUpsOf(random, start) {
  const often = random.pick([0, 0, 0.4, 0.95]);
  const out = [];
  for (let week = 1; week < ALL_DAYS / 7; week++)
    for (const [i, bath] of ['dirty', 'clean'].entries())
      if (random.chance(often))
        out.push({
          at: start + week * 7 * DAY + (450 + 2 * i) * MINUTE,
          what: 'top-up',
          bath,
          solvent: 'ipa',
          to: 'mark',
        });
  return out;
}

/** @param {Plain[]} events with local times as numbers @returns {Plain[]} */
function written(events) {
  return events
    .toSorted((a, b) => a.at - b.at)
    .map(({ at, ...rest }, i) => ({ id: idOf(2000 + i), at: stamp(at), ...rest }));
}

/** The limit that is nearest in the first draw. @param {import('./model.mjs').Liquid[]} liquids @param {import('./steps.mjs').Plan} plan @returns {Near} */
function nearest(liquids, { tubs }) {
  let near = { share: 0, bath: '', what: '' };
  liquids.forEach((liquid, k) => {
    const { name } = tubs[k];
    const limits = CHANGE[/** @type {'dirty' | 'clean'} */ (name)];
    const { resinWtPct, waterWtPct } = percentages(liquid, 0);
    const shares = { resin: resinWtPct / limits.resin, water: waterWtPct / limits.water };
    for (const [what, share] of Object.entries(shares))
      if (share > near.share) near = { share, bath: name, what };
  });
  return near;
}

/**
 * Runs the first draw to the first limit after a moment: the time within a stretch in the air, or of the wash that meets it.
 * @param {import('./steps.mjs').Plan} plan
 * @param {import('./model.mjs').Draws} draws
 * @param {number} fromMs a limit that was met earlier is met then
 * @returns {{met: Met | null, looks: import('./model.mjs').Look[]}}
 */
function untilLimit(plan, draws, fromMs) {
  /** @type {Met | null} */
  let met = null;
  let left = { share: 0, bath: '', what: '' };
  let stood = left;
  const { looks } = new Simulation(plan, draws).run(
    ({ event, hours }, liquids) => {
      const atMs = Date.parse(event.at);
      const before = left;
      left = nearest(liquids, plan);
      if (atMs <= fromMs) return true;
      if (stood.share < 1 && left.share < 1) return true;
      const part = stood.share < 1 ? 0 : (stood.share - 1) / Math.max(stood.share - before.share, 1e-12);
      const { bath, what } = stood.share < 1 ? left : stood;
      met = { atMs: Math.max(fromMs, atMs - Math.min(1, part) * hours * 60 * MINUTE), bath, what };
      return false;
    },
    (liquids) => {
      stood = nearest(liquids, plan);
    },
  );
  return { met, looks };
}

/**
 * A ledger up to a moment in the first half of the baths' life, and the washes that follow. The moment hangs on what the ledger
 * says alone, the life of the plain replay with every factor at its median: a moment that hung on the true life would tell of it.
 * @param {Random} random @param {Case} kind
 */
function designOf(random, kind) {
  const head = header(random, kind);
  const start = FIRST_MONDAY + 7 * DAY * random.whole(0, 8);
  const marks = ['dirty', 'clean'].map((bath) => head.baths[bath].mark_ml);
  const fills = ['dirty', 'clean'].map((bath, i) => ({
    at: start + (420 + 3 * i) * MINUTE,
    what: 'fill',
    bath,
    solvent: 'ipa',
    ml: marks[i],
  }));
  const washes = washesOf(random, { start, mark: Math.min(...marks), pace: kind.pace });
  const behind = [...fills, ...washes, ...topUpsOf(random, start)];
  let from = start;
  for (let turns = random.weighted({ 0: 4, 1: 3, 2: 2 }); ; turns--) {
    const all = written(behind);
    const plan = planOf(head, all, stamp(start + ALL_DAYS * DAY));
    const { met } = untilLimit(plan, medianDraws(plan), Date.parse(stamp(from)));
    if (!met) return null;
    const end = localOf(new Date(met.atMs).toISOString());
    if (end - from > LONGEST_LIFE * DAY || end - start > (ALL_DAYS - YEAR) * DAY) return null;
    if (turns > 0) {
      const evening = Math.floor((end - start) / DAY) * DAY + start + 1110 * MINUTE;
      behind.push({ at: evening, what: 'rotate', solvent: 'ipa' });
      from = evening;
      continue;
    }
    return cutAt(from + random.between(0, 0.5) * (end - from), { header: head, behind, washes });
  }
}

/** @param {number} wanted @param {{header: Plain, behind: Plain[], washes: Plain[]}} on */
function cutAt(wanted, { header, behind, washes }) {
  const latest = washes.findLast(({ at }) => at <= wanted);
  if (!latest) return null;
  const cut = MINUTE * Math.ceil(Math.max(wanted, latest.at + HALF_HOUR) / MINUTE);
  const events = written(behind.filter(({ at }) => at <= cut));
  const ahead = washes.filter(({ at }) => at > cut && at < cut + YEAR * DAY);
  return {
    design: { header, events, clock: stamp(cut) },
    ahead: ahead.map(({ at, ...rest }, i) => ({ id: idOf(20_000 + i), at: stamp(at), ...rest })),
  };
}

/** The shop of a number under a seed, always the same. @param {number} seed @param {number} index @returns {DatedShop} */
export function makeDatedShop(seed, index) {
  const random = new Random(seed, index, 2);
  const kind = caseOf(index);
  for (;;) {
    const made = designOf(random, kind);
    if (made && isSensible(made.design, random, TRIED)) return { kind, ...withTruth(made, random) };
  }
}

/** @param {{design: import('./design.mjs').Design, ahead: Plain[]}} made @param {Random} random */
function withTruth({ design, ahead }, random) {
  const { header, events, clock } = design;
  const templates = templatesOf(design, random).slice(0, MOST_READINGS);
  const clockMs = Date.parse(clock);
  const all = [...events, ...ahead, ...templates.map(({ event }) => event)];
  const plan = planOf(header, all, stamp(localOf(clock) + YEAR * DAY));
  const { met, looks } = untilLimit(plan, priorDraws(plan, 1, random), clockMs);
  const readings = typed(templates, looks, { header, events, room: plan.room, random });
  const { atMs, bath, what } = met ?? { atMs: Infinity, bath: null, what: null };
  return { header, base: events, readings, clock, truth: { days: (atMs - clockMs) / DAY, bath, what } };
}
