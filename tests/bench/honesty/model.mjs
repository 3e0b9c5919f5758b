// The bath model of src/bath/README.md for many draws of the factors at once, written from the equations alone.
import { copyOf, empty, emptyLiquid, pour, soak, stand, take, volumeAt } from './baths.mjs';

/**
 * @typedef {import('./steps.mjs').Plan} Plan
 * @typedef {import('./steps.mjs').Step} Step
 * @typedef {import('./baths.mjs').Liquid} Liquid
 * @typedef {object} Draws
 * @property {number} size
 * @property {Float64Array} carry κ_c
 * @property {Float64Array} drag κ_d
 * @property {Float64Array} dissolution κ_τ
 * @property {Float64Array[]} evaporation κ_ipa of each tub
 * @property {Float64Array[]} moisture κ_water of each tub
 * @property {(wash: number) => Float64Array} scatter factor on c, of the wash of this number
 * @typedef {{carry: Float64Array, drag: Float64Array[], left: Float64Array}} Wash g into the first bath, mL out of each, g left on the parts
 * @typedef {{event: Record<string, any>, liquid?: Liquid, weighed?: Float64Array}} Look the bath at a reading, or the loss of a weighed load
 * @typedef {{tubs: Liquid[], looks: Look[]}} Outcome
 */

const BASKET_ML = 5;

/** Runs a ledger's steps for all draws. */
export class Simulation {
  /**
   * @param {Plan} plan
   * @param {Draws} draws
   */
  constructor(plan, draws) {
    this.plan = plan;
    this.draws = draws;
    this.tubs = plan.tubs.map(() => emptyLiquid(draws.size));
    /** @type {Map<number, Float64Array>} */
    this.undissolved = new Map();
    /** @type {Map<string, Float64Array>} */
    this.losses = new Map();
    this.weighed = new Set(
      plan.steps.filter(({ kind }) => kind === 'weighed').map(({ event }) => event.wash),
    );
    this.washes = 0;
    /** @type {Look[]} */
    this.looks = [];
  }

  /**
   * To the clock.
   * @param {(step: Step, tubs: Liquid[], wash: Wash | undefined) => unknown} [after] told of each event that moves liquid; the run ends when it says `false`
   * @param {(tubs: Liquid[]) => void} [before] told of the baths before each event, and at the clock
   * @returns {Outcome}
   */
  run(after, before) {
    for (const step of this.plan.steps) {
      if (step.kind === 'reading') this.read(step);
      else if (step.kind === 'weighed')
        this.looks.push({ event: step.event, weighed: this.losses.get(step.event.wash) });
      else {
        this.standAll(step.hours);
        before?.(this.tubs);
        const wash = step.kind === 'wash' ? this.wash(step) : this.move(step);
        if (after?.(step, this.tubs, wash) === false) return { tubs: this.tubs, looks: this.looks };
      }
    }
    this.standAll(this.plan.restHours);
    before?.(this.tubs);
    return { tubs: this.tubs, looks: this.looks };
  }

  /** @param {number} index */
  placeOf(index) {
    return {
      tub: this.plan.tubs[index],
      room: this.plan.room,
      evaporation: this.draws.evaporation[index],
      moisture: this.draws.moisture[index],
    };
  }

  /** @param {number} hours */
  standAll(hours) {
    this.tubs.forEach((liquid, index) => {
      stand(liquid, hours, this.placeOf(index));
    });
  }

  /** A reading cuts no interval: a copy of the bath stands up to it. @param {Step} step */
  read(step) {
    const liquid = copyOf(this.tubs[step.tub]);
    stand(liquid, step.hours, this.placeOf(step.tub));
    this.looks.push({ event: step.event, liquid });
  }

  /** Share of resin that a soak of so many time constants leaves undissolved. @param {number} constants */
  staysAfter(constants) {
    const known = this.undissolved.get(constants);
    if (known) return known;
    const stays = this.draws.dissolution.map((factor) => Math.exp(-constants / factor));
    this.undissolved.set(constants, stays);
    return stays;
  }

  /** @param {Step} step @returns {Wash} */
  wash(step) {
    const { size, carry, drag: factor } = this.draws;
    const scatter = this.draws.scatter(this.washes++);
    const rest = new Float64Array(size);
    for (let j = 0; j < size; j++)
      rest[j] = step.given ?? (carry[j] * step.carry + step.trapped) * scatter[j];
    const entered = rest.slice();
    const film = emptyLiquid(size);
    /** @type {Float64Array[]} */
    const drag = [];
    step.tubs.forEach((/** @type {number} */ index, /** @type {number} */ k) => {
      if (k > 0 && step.midrinse > 0) for (let j = 0; j < size; j++) rest[j] *= 1 - step.midrinse;
      const volumes = new Float64Array(size);
      const stays = this.staysAfter(step.soak[k]);
      const wet = step.wet + BASKET_ML;
      const given = step.drag?.[k];
      soak(this.tubs[index], film, rest, { room: this.plan.room, stays, factor, wet, given, volumes });
      drag.push(volumes);
    });
    const left = rest.map((one, j) => one + film.resin[j]);
    if (this.weighed.has(step.event.id))
      this.losses.set(
        step.event.id,
        entered.map((one, j) => one - left[j]),
      );
    return { carry: entered, drag, left };
  }

  /** @param {Step} step @returns {undefined} */
  move(step) {
    const { room, tubs } = this.plan;
    const { event, strength } = step;
    const liquid = this.tubs[step.tub];
    const mark = tubs[step.tub]?.mark;
    if (step.kind === 'rotate') return this.rotate(step);
    if (step.kind === 'drain')
      take(liquid, room, (_, held) => (event.all ? held : (event.ml ?? held - mark)));
    else if (event.from === 'clean') this.topUpFromClean(step);
    else {
      if (step.kind === 'refill') empty(liquid);
      pour(liquid, room, { ml: event.ml ?? (event.to === 'mark' ? undefined : mark), mark, strength });
    }
    return undefined;
  }

  /** @param {Step} step */
  topUpFromClean({ tub, event }) {
    const { room, tubs } = this.plan;
    const into = this.tubs[tub];
    const clean = this.tubs[tubs.findIndex(({ name }) => name === 'clean')];
    take(clean, room, (j) => event.ml ?? tubs[tub].mark - volumeAt(into, j, room), into);
  }

  /** @param {Step} step @returns {undefined} */
  rotate({ event, strength }) {
    const { room, tubs } = this.plan;
    const [dirty, clean] = ['dirty', 'clean'].map((wanted) => tubs.findIndex(({ name }) => name === wanted));
    empty(this.tubs[dirty]);
    take(this.tubs[clean], room, () => tubs[dirty].mark, this.tubs[dirty]);
    empty(this.tubs[clean]);
    pour(this.tubs[dirty], room, { mark: tubs[dirty].mark, strength });
    pour(this.tubs[clean], room, { ml: event.ml ?? tubs[clean].mark, strength });
    return undefined;
  }
}

/** Draws that all have every factor at its median: the plain replay. @param {Plan} plan @param {number} [size] @returns {Draws} */
export function medianDraws(plan, size = 1) {
  const all = (/** @type {number} */ value) => new Float64Array(size).fill(value);
  const ones = all(1);
  const [carry, drag, dissolution] = plan.factors;
  return {
    size,
    carry: all(carry),
    drag: all(drag),
    dissolution: all(dissolution),
    evaporation: plan.tubs.map((tub) => all(tub.evaporation)),
    moisture: plan.tubs.map((tub) => all(tub.moisture)),
    scatter: () => ones,
  };
}
