// Readings as noisy looks at a bath: what a person would type, and how far a draw is from what was typed.
// Standard deviations are instrument and model together.
import { bathDensity, bathIndex, bathVolume, brixOfIndex, indexOfBrix, waterDensity } from './liquid.mjs';

/**
 * @typedef {Record<string, any>} Event
 * @typedef {import('./liquid.mjs').Masses} Masses
 * @typedef {import('./steps.mjs').Room} Room
 * @typedef {object} Sight
 * @property {(event: Event, held: Masses, room: Room) => number} sees what the instrument would show, in the unit compared
 * @property {(event: Event) => number} read what was typed, in the unit compared
 * @property {(event: Event, compared: number) => number} sd of what was read
 * @property {(event: Event, compared: number, held: Masses, room: Room) => Event} type the event with a value as a person would type it
 */

const DENSITY_SD = Math.hypot(0.001, 0.0007);
const INDEX_SD = Math.hypot(0.0003, 0.0006);
const GLASS = 25e-6;
/** Reference temperature in °C of a specific gravity. */
const SG_REF = { '20/20': 20, '25/25': 25, '60/60F': (60 - 32) / 1.8 };

/** @param {number} value @param {number} decimals */
export function rounded(value, decimals) {
  return Number(value.toFixed(decimals));
}

/** @param {Event} event @param {Room} room */
function temperature(event, room) {
  return event.temp_c ?? room.tempC;
}

/** What a hydrometer shows over the density it floats in: glass made for another temperature. @param {Event} event @param {number} tempC */
function glass(event, tempC) {
  return event.t_ref_c === undefined ? 1 : 1 - GLASS * (tempC - event.t_ref_c);
}

/** @param {Event} event */
function sgWater(event) {
  return waterDensity(SG_REF[/** @type {keyof typeof SG_REF} */ (event.sg_ref)]);
}

/** @param {Masses} held */
function resinShare({ resin, ipa, water }) {
  return resin / (resin + ipa + water);
}

/** @param {Event} event @param {Masses} held @param {Room} room */
function shownDensity(event, held, room) {
  const tempC = temperature(event, room);
  return bathDensity(held, room.resin, tempC) / glass(event, tempC);
}

/** @param {Event} event @param {Masses} held @param {Room} room */
function shownIndex(event, held, room) {
  return bathIndex(held, room.resin, temperature(event, room));
}

/** Grams of bath in the sample of a dry residue. @param {Event} event @param {Masses} held @param {Room} room */
function sampleG(event, held, room) {
  return event.residue.sample_ml * bathDensity(held, room.resin, temperature(event, room));
}

/** @type {Record<string, Sight>} */
export const SIGHTS = {
  density_g_ml: {
    sees: shownDensity,
    read: (event) => event.density_g_ml,
    sd: () => DENSITY_SD,
    type: (event, compared) => ({ ...event, density_g_ml: rounded(compared, 4) }),
  },
  sg: {
    sees: shownDensity,
    read: (event) => event.sg * sgWater(event),
    sd: () => DENSITY_SD,
    type: (event, compared) => ({ ...event, sg: rounded(compared / sgWater(event), 4) }),
  },
  brix: {
    sees: shownIndex,
    read: (event) => indexOfBrix(event.brix),
    sd: () => INDEX_SD,
    type: (event, compared) => ({ ...event, brix: rounded(brixOfIndex(compared), 1) }),
  },
  refractive_index: {
    sees: shownIndex,
    read: (event) => event.refractive_index,
    sd: () => INDEX_SD,
    type: (event, compared) => ({ ...event, refractive_index: rounded(compared, 4) }),
  },
  residue: {
    // Compared in mass fraction, so what was typed depends on the density of the draw: see deviation.
    sees: (_, held) => resinShare(held),
    read: (event) => event.residue.dry_g,
    sd: () => 0.002,
    type: (event, compared, held, room) => ({
      ...event,
      residue: {
        ...event.residue,
        dry_g: rounded(Math.max(compared, 0) * sampleG(event, held, room), 3),
      },
    }),
  },
  resin_wt_pct: {
    sees: (_, held) => 100 * resinShare(held),
    read: (event) => event.resin_wt_pct,
    sd: () => 0.2,
    type: (event, compared) => ({ ...event, resin_wt_pct: rounded(Math.max(compared, 0), 2) }),
  },
  level_ml: {
    sees: (_, held, room) => bathVolume(held, room.resin),
    read: (event) => event.level_ml,
    sd: (_, compared) => 0.03 * compared,
    type: (event, compared) => ({ ...event, level_ml: 10 * rounded(compared / 10, 0) }),
  },
  weight_g: {
    sees: (_, { resin, ipa, water }) => resin + ipa + water,
    read: (event) => event.weight_g,
    sd: () => 5,
    type: (event, compared) => ({ ...event, weight_g: rounded(compared, 1) }),
  },
};

const WEIGHED_SD = 0.05;

/** Which kind of reading an event is. @param {Event} event */
function kindOf(event) {
  if (event.what === 'weighed') return 'weighed';
  const kind = Object.keys(SIGHTS).find((key) => event[key] !== undefined);
  if (kind === undefined) throw new Error(`No reading in event ${event.id}`);
  return kind;
}

/** @param {import('./baths.mjs').Liquid} liquid @param {number} j @returns {Masses} */
export function massesOf({ resin, ipa, water }, j) {
  return { resin: resin[j], ipa: ipa[j], water: water[j] };
}

/**
 * How many standard deviations what was typed lies from what each draw would show.
 * @param {import('./model.mjs').Look} look
 * @param {Room} room
 * @returns {Float64Array}
 */
export function deviations({ event, liquid, weighed }, room) {
  if (weighed) {
    const lost = event.wet_g - event.clean_g;
    return weighed.map((one) => (lost - one) / (WEIGHED_SD * lost));
  }
  if (!liquid) throw new Error('A look with neither bath nor load');
  const kind = kindOf(event);
  const { sees, read, sd } = SIGHTS[kind];
  const typed = read(event);
  return liquid.resin.map((_, j) => {
    const held = massesOf(liquid, j);
    const value = kind === 'residue' ? typed / sampleG(event, held, room) : typed;
    return (value - sees(event, held, room)) / sd(event, value);
  });
}

/**
 * The event a person would write who looks at this bath, with a given error in standard deviations.
 * @param {string} kind
 * @param {Event} event without its value
 * @param {Masses} held
 * @param {{room: Room, error: number}} look
 */
export function typedReading(kind, event, held, { room, error }) {
  const { sees, sd, type } = SIGHTS[kind];
  const true_ = sees(event, held, room);
  return type(event, true_ + error * sd(event, true_), held, room);
}

/** A weighed load as typed: the load before the first bath, and washed and dry. @param {Event} event @param {number} lost g @param {{error: number, partsG: number}} look */
export function typedLoad(event, lost, { error, partsG }) {
  const clean = rounded(partsG, 2);
  return { ...event, wet_g: rounded(clean + lost * (1 + WEIGHED_SD * error), 2), clean_g: clean };
}
