// What happens to liquids of many draws at once: standing in air, pouring, taking, soaking parts. One array a substance,
// one entry a draw. A draw that would run dry or fall under 40 wt% IPA is clamped without a word.
import { logThickening, solventVolume } from './liquid.mjs';

/**
 * @typedef {import('./steps.mjs').TubPlan} TubPlan
 * @typedef {import('./steps.mjs').Room} Room
 * @typedef {{resin: Float64Array, ipa: Float64Array, water: Float64Array}} Liquid grams
 */

const LN10 = Math.LN10;
/** Masses below this are as good as none, g. */
const TRACE = 1e-9;
const MOST_SHORT_STEPS = 400;

/** @param {number} size @returns {Liquid} */
export function emptyLiquid(size) {
  return { resin: new Float64Array(size), ipa: new Float64Array(size), water: new Float64Array(size) };
}

/** @param {Liquid} liquid @returns {Liquid} */
export function copyOf({ resin, ipa, water }) {
  return { resin: resin.slice(), ipa: ipa.slice(), water: water.slice() };
}

/** Volume of one draw in mL at 20 °C. @param {Liquid} liquid @param {number} j @param {Room} room */
export function volumeAt(liquid, j, room) {
  const solvent = liquid.ipa[j] + liquid.water[j];
  const fraction = solvent > 0 ? liquid.ipa[j] / solvent : 1;
  return liquid.resin[j] / room.resin.density + solvent * solventVolume(room.at20, fraction);
}

/**
 * Evaporation and uptake over some hours: explicit midpoint in equal steps of a day at most, shortened where a mass
 * would fall by more than 5 % of itself.
 * @param {Liquid} liquid
 * @param {number} hours
 * @param {{tub: TubPlan, room: Room, evaporation: Float64Array, moisture: Float64Array}} place
 */
export function stand(liquid, hours, { tub, room, evaporation, moisture }) {
  if (hours <= 0) return;
  const { resin, ipa, water } = liquid;
  const steps = Math.ceil(hours / 24 - 1e-12);
  const step = hours / steps;
  const { at20, humidity } = room;
  const resinVolume = 1 / room.resin.density;
  for (let j = 0; j < resin.length; j++) {
    const r = resin[j];
    let a = ipa[j];
    let w = water[j];
    if (a + w < TRACE) continue;
    const ipaRate = evaporation[j] * tub.ipa.rate;
    const waterRate = moisture[j] * tub.water.rate;
    for (let s = 0; s < steps; s++) {
      let left = step;
      for (let short = 0; left > 0 && short < MOST_SHORT_STEPS; short++) {
        let now = left;
        let midIpa = a;
        let midWater = w;
        for (let pass = 0; pass < 2; pass++) {
          const solvent = midIpa + midWater;
          const volume = r * resinVolume + solvent * solventVolume(at20, midIpa / solvent);
          const drop = tub.freeboard + ((tub.mark - volume) * 1e-6) / tub.area;
          const height = Math.max(drop, 0);
          const molesIpa = midIpa / 60.095;
          const molesWater = midWater / 18.015;
          const moles = molesIpa + molesWater + r / 300;
          const pull = 1 / (1.042 * molesIpa + 0.492 * molesWater);
          const ipaPull = 0.492 * molesWater * pull;
          const waterPull = 1.042 * molesIpa * pull;
          const ipaActivity = Math.exp(LN10 * 1.042 * ipaPull * ipaPull) * (molesIpa / moles);
          const waterActivity = Math.exp(LN10 * 0.492 * waterPull * waterPull) * (molesWater / moles);
          const ipaFlux = (ipaRate * ipaActivity) / (tub.ipa.still + tub.ipa.column * height);
          const waterFlux =
            (waterRate * (waterActivity - humidity)) / (tub.water.still + tub.water.column * height);
          if (pass === 0) {
            if (ipaFlux * now > 0.05 * midIpa) now = (0.05 * midIpa) / ipaFlux;
            if (waterFlux * now > 0.05 * midWater) now = (0.05 * midWater) / waterFlux;
            midIpa = a - (ipaFlux * now) / 2;
            midWater = w - (waterFlux * now) / 2;
          } else {
            a = Math.max(a - ipaFlux * now, TRACE);
            w = Math.max(w - waterFlux * now, TRACE);
          }
        }
        left -= now;
      }
    }
    ipa[j] = a;
    water[j] = w;
  }
}

/** Pours fresh solvent: the same volume into every draw, or each up to the mark. @param {Liquid} liquid @param {Room} room @param {{ml?: number, mark?: number, strength: number}} what */
export function pour(liquid, room, { ml, mark = 0, strength }) {
  const perMl = 1 / solventVolume(room.at20, strength);
  for (let j = 0; j < liquid.ipa.length; j++) {
    const volume = ml ?? Math.max(mark - volumeAt(liquid, j, room), 0);
    liquid.ipa[j] += volume * perMl * strength;
    liquid.water[j] += volume * perMl * (1 - strength);
  }
}

/** Takes a volume, given or what `volumeOf` says of each draw, and gives it to another bath if there is one. @param {Liquid} from @param {Room} room @param {(j: number, held: number) => number} volumeOf @param {Liquid} [into] */
export function take(from, room, volumeOf, into) {
  for (let j = 0; j < from.ipa.length; j++) {
    const held = volumeAt(from, j, room);
    const share = held > 0 ? Math.min(Math.max(volumeOf(j, held) / held, 0), 1) : 0;
    for (const key of /** @type {const} */ (['resin', 'ipa', 'water'])) {
      const moved = from[key][j] * share;
      from[key][j] -= moved;
      if (into) into[key][j] += moved;
    }
  }
}

/** @param {Liquid} liquid */
export function empty({ resin, ipa, water }) {
  resin.fill(0);
  ipa.fill(0);
  water.fill(0);
}

/**
 * One bath of a wash: film in, dissolving, film out.
 * @param {Liquid} liquid the bath
 * @param {Liquid} film on the parts: what they bring, then what they leave with
 * @param {Float64Array} rest undissolved resin on the parts, g
 * @param {{room: Room, stays: Float64Array, factor: Float64Array, wet: number, given: number | undefined, volumes: Float64Array}} how stays: share of resin a soak leaves undissolved; volumes: mL dragged out, written here
 */
export function soak(liquid, film, rest, { room, stays, factor, wet, given, volumes }) {
  const { at20, atRoom } = room;
  const { density, densityRoom, logThicker } = room.resin;
  for (let j = 0; j < rest.length; j++) {
    const u = rest[j] * stays[j];
    const r = liquid.resin[j] + film.resin[j] + rest[j] - u;
    const a = liquid.ipa[j] + film.ipa[j];
    const w = liquid.water[j] + film.water[j];
    rest[j] = u;
    const solvent = a + w;
    const fraction = a > 0.4 * solvent ? a / solvent : 0.4;
    const resinShare = r / (r + solvent);
    const volume = r / density + solvent * solventVolume(at20, fraction);
    let out = given ?? 0;
    if (given === undefined) {
      const atRoomVolume = solventVolume(atRoom, fraction);
      const lighter = (resinShare / densityRoom + (1 - resinShare) * atRoomVolume) / atRoomVolume;
      const thicker = Math.exp(resinShare * (logThicker - logThickening(fraction)));
      const cling = Math.sqrt(thicker * lighter);
      out = factor[j] * wet * (cling < 1 ? 1 : Math.min(cling, 3));
    }
    if (out > 0.99 * volume) out = 0.99 * volume;
    const share = out / volume;
    volumes[j] = out;
    film.resin[j] = r * share;
    film.ipa[j] = a * share;
    film.water[j] = w * share;
    liquid.resin[j] = r - film.resin[j];
    liquid.ipa[j] = a - film.ipa[j];
    liquid.water[j] = w - film.water[j];
  }
}
