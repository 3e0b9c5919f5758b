/**
 * One wash through one or more baths, README.md 3.
 */
import { mixtureDensity } from '../substance/mixture.ts';
import { resinDensity } from '../substance/resin.ts';
import { bathViscosity, solventViscosity } from '../substance/viscosity.ts';
import type { Load } from './load.ts';
import type { Factors, Shop } from './shop.ts';
import {
  addResin,
  type Bath,
  bathVolume,
  copyBath,
  emptyFilm,
  type Film,
  ipaFraction,
  isBeyondModel,
  isEmpty,
  leaveEmpty,
  moveShare,
  resinFraction,
  resinMean,
} from './state.ts';
import type { Tally } from './tally.ts';

export interface WashOutcome {
  /** Resin that entered the first bath, g. */
  carryG: number;
  /** Volume at 20 °C that left each bath on the load, mL. */
  dragMl: number[];
  /** Resin that dissolved in each bath, g, and the share of the bath that left on the load. */
  dissolvedG: number[];
  shares: number[];
  /** Resin on the parts once dry: all of it, and of it what never dissolved, g. */
  residueG: number;
  undissolvedG: number;
  /** The same over the surface, µg/cm²; NaN when the area is not known. */
  residueUgPerCm2: number;
  areaCm2: number;
}

/** Why a wash cannot be: the bath (its place) and what is wrong with it. */
export interface WashRefusal {
  bath: number;
  why: 'empty' | 'dry' | 'weak' | 'runs-dry';
  /** For `runs-dry`: what the load would carry out and what there is, mL. */
  dragMl?: number;
  holdsMl?: number;
}

/**
 * Carry-over into the first bath [g] and what a pre-rinse kept from it.
 *
 *     c = κ_c (1.2 A f/1000)(1 − η_pre) + trapped
 *
 * A carry-over given with the wash replaces it outright.
 */
export function carryOf(load: Load, carryFactor: number): { carryG: number; trayG: number } {
  if (load.givenCarryG !== undefined) return { carryG: load.givenCarryG, trayG: 0 };
  const film = carryFactor * load.filmG;
  return { carryG: film * (1 - load.prerinseShare) + load.trappedG, trayG: film * load.prerinseShare };
}

/**
 * How much more a loaded bath clings to parts than its solvent alone [–].
 *
 *     g = clamp( sqrt( (µ/ρ)_bath / (µ/ρ)_solvent ), 1, 3 ),   ln µ = w_r ln µ_r + (1 − w_r) ln µ_s
 *
 * Both at the room's temperature. A gravity-drained film grows with the root of µ/ρ (JEFFREYS1930, data/SOURCES.md);
 * logarithmic mixing is from memory, unverified; the clamp is an engineering choice.
 */
export function clingMultiplier(bath: Bath, { resins, roomC }: Pick<Shop, 'resins' | 'roomC'>): number {
  const fraction = resinFraction(bath);
  if (fraction === 0) return 1;
  const weak = ipaFraction(bath);
  const solvent = solventViscosity(weak, roomC);
  const resin = resinMean(bath, resins, 'viscosityRoom');
  const thicker =
    bathViscosity({ resinFraction: fraction, resinViscosity: resin, solventViscosity: solvent }) / solvent;
  // ρ_solvent/ρ_bath, from 1/ρ_bath = w_r/ρ_r + (1 − w_r)/ρ_solvent.
  const solventGPerMl = mixtureDensity(weak, roomC);
  const resinGPerMl = resinDensity(resinMean(bath, resins, 'density'), roomC);
  const lighter = 1 + fraction * (solventGPerMl / resinGPerMl - 1);
  return Math.min(3, Math.max(1, Math.sqrt(thicker * lighter)));
}

/**
 * Takes a load through its baths and keeps the tallies.
 *
 * At each bath: the film from the bath before mixes in; what dissolves in the soak, u (1 − exp(−t/(κ_τ τ))), joins the
 * bath; the load leaves with D_k mL of it; between two baths a rinse takes a share of what is undissolved to the tray.
 *
 * @returns the outcome, or why the wash cannot be, in which case baths and tallies may be half-changed: the caller restores
 */
export function washLoad(
  baths: Bath[],
  load: Load,
  shop: Shop,
  factors: Factors,
  tally: Tally,
): WashOutcome | WashRefusal {
  const { carryG, trayG } = carryOf(load, factors.carry);
  tally.in.resin += carryG + trayG;
  tally.tray.resin += trayG;
  let undissolved = carryG;
  let film: Film = emptyFilm();
  const dragMl: number[] = [];
  const dissolvedG: number[] = [];
  const shares: number[] = [];
  const many = load.times ?? 1;
  for (let step = 0; step < load.baths.length; step += 1) {
    const place = load.baths[step]!;
    const bath = baths[place]!;
    const before = many > 1 ? copyBath(bath) : bath;
    if (isEmpty(bath)) return { bath: place, why: bath.dry ? 'dry' : 'empty' };
    moveAll(film, bath);
    const dissolved = undissolved * -Math.expm1(-load.soaks[step]! / factors.dissolution);
    addResin(bath, load.resin, dissolved);
    undissolved -= dissolved;
    if (isBeyondModel(bath)) return { bath: place, why: 'weak' };
    const holdsMl = bathVolume(bath, shop.resins);
    const drag = load.givenDragMl?.[step] ?? factors.drag * meanCling(before, bath, shop) * load.dragMl;
    if (drag > holdsMl) return { bath: place, why: 'runs-dry', dragMl: drag, holdsMl };
    film = emptyFilm();
    if (many === 1) moveShare(bath, drag / holdsMl, film);
    else moveMany(bath, before, shop, { many, dragMl: drag, holdsMl, into: film });
    if (isEmpty(bath)) leaveEmpty(bath);
    dragMl.push(drag);
    dissolvedG.push(dissolved);
    shares.push(drag / holdsMl);
    bath.washes += 1;
    if (step < load.baths.length - 1) {
      const rinsed = undissolved * load.midrinseShare;
      undissolved -= rinsed;
      tally.tray.resin += rinsed;
    }
  }
  const residueG = undissolved + filmResin(film);
  tally.parts.resin += residueG;
  tally.parts.ipa += film.ipaG;
  tally.parts.water += film.waterG;
  return {
    carryG,
    dragMl,
    dissolvedG,
    shares,
    residueG,
    undissolvedG: undissolved,
    areaCm2: load.areaCm2,
    residueUgPerCm2: (residueG / load.areaCm2) * 1e6,
  };
}

/** The cling of a bath, or of one that several loads change: the mean of first and last. */
function meanCling(before: Bath, bath: Bath, shop: Shop): number {
  const last = clingMultiplier(bath, shop);
  return before === bath || isBeyondModel(before) ? last : (clingMultiplier(before, shop) + last) / 2;
}

/**
 * Takes the films of several equal loads out of a bath, to which what they bring has been added all together.
 *
 * Each load adds a_i and then takes the share s of what is there, so after n of them, for each mass
 *
 *     m = m_0 (1 − s)^n + Σ a_i (1 − s) [1 − (1 − s)^n]/(n s),   s = D/V̄
 *
 * a geometric series, with the film D of one load and the mean volume V̄ that a load finds; one load is (m_0 + a)(1 − s).
 *
 * @param before - the bath without what was added
 */
function moveMany(
  bath: Bath,
  before: Bath,
  shop: Shop,
  on: { many: number; dragMl: number; holdsMl: number; into: Film },
): void {
  const { many, dragMl, holdsMl, into } = on;
  const beforeMl = bathVolume(before, shop.resins);
  const meanMl = beforeMl + ((many + 1) * (holdsMl - beforeMl) - (many - 1) * dragMl) / (2 * many);
  const share = Math.min(1, dragMl / many / meanMl);
  const oldStays = (1 - share) ** many;
  const newStays = share > 0 ? ((1 - share) * (1 - oldStays)) / (many * share) : 1;
  moveShare(bath, 1 - newStays, into);
  const more = newStays - oldStays;
  before.resin.forEach((grams, place) => {
    bath.resin[place]! -= more * grams;
    addResin(into, place, more * grams);
  });
  bath.ipaG -= more * before.ipaG;
  bath.waterG -= more * before.waterG;
  into.ipaG += more * before.ipaG;
  into.waterG += more * before.waterG;
}

function filmResin(film: Film): number {
  let sum = 0;
  for (const grams of film.resin) sum += grams;
  return sum;
}

function moveAll(film: Film, bath: Bath): void {
  for (let place = 0; place < film.resin.length; place += 1) addResin(bath, place, film.resin[place]!);
  bath.ipaG += film.ipaG;
  bath.waterG += film.waterG;
}
