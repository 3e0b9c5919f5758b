// A ledger's header and events turned into the steps that the simulator runs: names looked up, temperature-only parts
// of the equations worked out once. One resin kind; no corrections (void, amend).
import { fractionOfVolPct, ipaViscosity, resinDensity, resinViscosity, solventAt } from './liquid.mjs';

/**
 * @typedef {Record<string, any>} Plain header and events as src/ledger/FORMAT.md defines them
 * @typedef {object} TubPlan
 * @property {string} name
 * @property {number} mark mL
 * @property {number} area open surface, m²
 * @property {number} freeboard m, at the mark
 * @property {number} evaporation median of κ_ipa
 * @property {number} moisture median of κ_water
 * @property {Air} ipa
 * @property {Air} water
 * @typedef {object} Air
 * @property {number} rate g/h for a transfer of 1 m/s and a driving activity of 1
 * @property {number} still s/m, resistance of the air above the rim
 * @property {number} column s/m per metre of air column below the rim
 * @typedef {object} Room
 * @property {number} tempC
 * @property {number} humidity 0 to 1
 * @property {import('./liquid.mjs').SolventAt} at20
 * @property {import('./liquid.mjs').SolventAt} atRoom
 * @property {{density: number, index: number, densityRoom: number, logThicker: number}} resin
 * @typedef {{kind: string, hours: number, event: Plain} & Plain} Step
 * @typedef {object} Plan
 * @property {Room} room
 * @property {TubPlan[]} tubs
 * @property {Step[]} steps
 * @property {number} restHours from the last move of liquid to the clock
 * @property {[number, number, number]} factors medians of κ_c, κ_d, κ_τ
 */

const GAS = 8.314462618;
const WIND = 0.15;
const ETA = { none: 0, spray: 0.6, brush: 0.6, spin: 0.7 };
const TAU = { still: 6, hand: 3.5, stirred: 1.9, ultrasonic: 1.2 };
const STANDARD = { density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49 };
const PARTS = {
  model: { shape: 'solid', volume_ml: 32 },
  'hollow-model': { shape: 'hollow', volume_ml: 12.5, wall_mm: 2 },
  die: { shape: 'small', volume_ml: 1.5 },
  mask: { shape: 'mask', volume_ml: 3 },
  splint: { shape: 'sheet', volume_ml: 5 },
  tray: { shape: 'sheet', volume_ml: 20 },
  guide: { shape: 'sheet', volume_ml: 6 },
  crown: { shape: 'small', volume_ml: 0.6 },
};

/** @type {Record<string, (volume: number, wall: number) => number>} */
const AREA = {
  solid: (volume) => 8.5 * volume ** (2 / 3),
  small: (volume) => 7 * volume ** (2 / 3),
  sheet: (volume) => 10 * volume,
  mask: (volume) => 8 * volume,
  hollow: (volume, wall) => (2 * volume) / (wall / 10),
};

/** @param {number} moleMass @param {number} diffusivity @param {number} pressure @param {{area: number, lidOpenH: number, kelvin: number}} tub @returns {Air} */
function airOver(moleMass, diffusivity, pressure, { area, lidOpenH, kelvin }) {
  const reach = Math.sqrt(area / Math.PI);
  const spread = diffusivity * (kelvin / 295.15) ** 1.75;
  const transfer = Math.max(0.017565 * WIND ** 0.78 * moleMass ** (-1 / 3), (4 * spread) / (Math.PI * reach));
  const duty = (lidOpenH + (24 - lidOpenH) * 0.05) / 24;
  const concentration = (pressure * moleMass) / (GAS * kelvin);
  return { rate: 3600 * area * concentration * duty, still: 1 / transfer, column: 0.3 / spread };
}

/** @param {string} name @param {Plain} tub @param {number} tempC @returns {TubPlan} */
function tubPlan(name, tub, tempC) {
  const kelvin = tempC + 273.15;
  const area = (tub.length_mm * tub.width_mm) / 1e6;
  const at = { area, lidOpenH: tub.lid_open_h ?? 1, kelvin };
  return {
    name,
    mark: tub.mark_ml,
    area,
    freeboard: tub.freeboard_mm / 1000,
    evaporation: tub.evaporation ?? 1,
    moisture: tub.moisture ?? 1,
    ipa: airOver(60.095, 1.01e-5, 10 ** (10.24268 - 1580.92 / (kelvin - 53.54)), at),
    water: airOver(18.015, 2.5e-5, 10 ** (10.19621 - 1730.63 / (kelvin - 39.724)), at),
  };
}

/** @param {Plain} header @returns {Plain} */
function resinOf(header) {
  const name = header.shop?.defaults?.resin ?? 'standard';
  return header.resins?.[name] ?? STANDARD;
}

/** @param {Plain} header @returns {Room} */
function roomOf(header) {
  const tempC = header.shop?.room_c ?? 22;
  const resin = resinOf(header);
  const viscosity = resinViscosity(resin.viscosity_mpa_s, tempC);
  return {
    tempC,
    humidity: (header.shop?.humidity_pct ?? 50) / 100,
    at20: solventAt(20),
    atRoom: solventAt(tempC),
    resin: {
      density: resin.density_g_ml,
      index: resin.refractive_index ?? 1.49,
      densityRoom: resinDensity(resin.density_g_ml, tempC),
      logThicker: Math.log(viscosity / ipaViscosity(tempC)),
    },
  };
}

/** @param {Plain} header @param {Plain} event @returns {{area: number, wet: number}} cm²; mL of film before basket and factors */
function partsOf(header, event) {
  const cup = (/** @type {boolean} */ isHollow) => (isHollow || event.hollow === true ? 120 : 60);
  if (event.parts === undefined) {
    const area = event.area_cm2 ?? AREA.solid(event.volume_ml, 0);
    return { area, wet: (area * cup(false)) / 1e4 };
  }
  let area = 0;
  let wet = 0;
  for (const [name, count] of Object.entries(event.parts)) {
    const part = header.parts?.[name] ?? PARTS[/** @type {keyof typeof PARTS} */ (name)];
    const one = part.area_cm2 ?? AREA[part.shape](part.volume_ml, part.wall_mm ?? 2);
    area += one * count;
    wet += (one * count * cup(part.shape === 'hollow')) / 1e4;
  }
  return { area, wet };
}

/** mg/cm² left on parts after draining. @param {number} viscosity mPa·s @param {number} minutes */
function filmLeft(viscosity, minutes) {
  const film = minutes > 0 ? (22 * Math.sqrt(viscosity / 400)) / Math.sqrt(minutes) : 40;
  return Math.min(Math.max(film, 2), 40);
}

/** @param {Plain} header @param {Plain} event @returns {Plain} */
function washStep(header, event) {
  const defaults = header.shop?.defaults ?? {};
  const names = Object.keys(header.baths);
  const baths = /** @type {string[]} */ (event.baths ?? ['dirty', 'clean']);
  const usual = /** @type {number[]} */ (defaults.minutes ?? [5, 5]);
  const minutes = event.minutes ?? baths.map((bath) => usual[bath === 'clean' ? 1 : 0]);
  const tau = TAU[/** @type {keyof typeof TAU} */ (event.agitation ?? defaults.agitation ?? 'still')];
  const eta = (/** @type {string} */ key) =>
    ETA[/** @type {keyof typeof ETA} */ (event[key] ?? defaults[key] ?? 'none')];
  const resin = resinOf(header);
  const viscosity = resinViscosity(resin.viscosity_mpa_s, header.shop?.room_c ?? 22);
  const { area, wet } = partsOf(header, event);
  const film = filmLeft(viscosity, event.drained_min ?? defaults.drained_min ?? 10);
  return {
    tubs: baths.map((bath) => names.indexOf(bath)),
    area,
    wet,
    carry: ((1.2 * area * film) / 1000) * (1 - eta('prerinse')),
    trapped: event.trapped_g ?? 0,
    given: event.carry_g ?? (event.carry_ml === undefined ? undefined : event.carry_ml * resin.density_g_ml),
    drag: event.drag_ml,
    soak: minutes.map((/** @type {number} */ one) => one / tau),
    midrinse: eta('midrinse'),
  };
}

const MOVES = new Set(['fill', 'wash', 'top-up', 'drain', 'rotate', 'refill']);
const LOOKS = new Set(['reading', 'weighed']);

/** @param {Plain} header @param {Plain[]} events @param {string} clockIso @returns {Plan} */
export function planOf(header, events, clockIso) {
  const tubs = Object.entries(header.baths).map(([name, tub]) =>
    tubPlan(name, tub, header.shop?.room_c ?? 22),
  );
  const ordered = events
    .map((event) => ({ event, time: Date.parse(event.at) }))
    .filter(({ event }) => MOVES.has(event.what) || LOOKS.has(event.what))
    .sort((one, other) => one.time - other.time);
  let last = ordered[0].time;
  let strength = 0;
  const steps = ordered.map(({ event, time }) => {
    const hours = (time - last) / 3.6e6;
    if (MOVES.has(event.what)) last = time;
    const solvent = header.solvents?.[event.solvent];
    if (solvent) strength = solvent.ipa_wt_pct / 100 || fractionOfVolPct(solvent.ipa_vol_pct);
    return {
      kind: event.what,
      hours,
      event,
      strength,
      tub: event.bath === undefined ? -1 : tubs.findIndex(({ name }) => name === event.bath),
      ...(event.what === 'wash' ? washStep(header, event) : {}),
    };
  });
  const { carry = 1, drag = 1, dissolution = 1 } = header.factors ?? {};
  return {
    room: roomOf(header),
    tubs,
    steps,
    restHours: (Date.parse(clockIso) - last) / 3.6e6,
    factors: [carry, drag, dissolution],
  };
}
