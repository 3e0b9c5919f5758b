/**
 * A shop as the model sees it: the header of the ledger laid over the generic catalogue, every default filled in,
 * names turned into places in arrays.
 */
import type { Agitation, Midrinse, Prerinse, Shape } from '../ledger/event.ts';
import type { BathHeader, Header, LimitsHeader, PartHeader, SolventHeader } from '../ledger/header.ts';
import { catalogue } from '../substance/catalogue.ts';
import { fractionFromVolume, mixtureDensity } from '../substance/mixture.ts';
import { resinViscosity } from '../substance/viscosity.ts';
import { type Air, roomAir, type TubAir, tubAir } from './air.ts';
import { partArea } from './load.ts';

type CataloguePart = PartHeader & { thin?: boolean; typical_dry_min?: number };

export interface Solvent {
  name: string;
  /** Mass fraction of IPA. */
  ipaFraction: number;
  /** g/mL at 20 °C. */
  density: number;
  /** In the shop's currency; absent when the header names none. */
  pricePerL?: number;
}

export interface Resin {
  name: string;
  /** g/mL at 20 °C. */
  density: number;
  /** mPa·s at 25 °C. */
  viscosity25: number;
  /** mPa·s at the room's temperature. */
  viscosityRoom: number;
  /** n_D at 20 °C. */
  index: number;
}

export interface Part {
  name: string;
  shape: Shape;
  volumeMl: number;
  areaCm2: number;
  /** Soft or thin enough that a long soak harms it. */
  thin: boolean;
  /** Usual drying time in air before light-curing, minutes. */
  dryMin: number;
}

/** Soon, change and never, in wt%. */
export type Limits = readonly [number, number, number];

export interface Tub {
  name: string;
  markMl: number;
  /** Volume at the brim; absent when the header does not say. */
  brimMl?: number;
  /** Open surface, m². */
  surfaceM2: number;
  freeboardM: number;
  /** Evaporation factor κ_ipa and moisture factor κ_water, prior medians. */
  evaporation: number;
  moisture: number;
  air: TubAir;
  limits: { resin: Limits; water: Limits; ageDays: number };
}

/** Volume at the brim [mL]: `tub_ml`, else the volume at the mark and the freeboard above it. */
export function brimOf(tub: Pick<Tub, 'brimMl' | 'markMl' | 'freeboardM' | 'surfaceM2'>): number {
  return tub.brimMl ?? tub.markMl + tub.freeboardM * tub.surfaceM2 * 1e6;
}

export interface Factors {
  carry: number;
  drag: number;
  dissolution: number;
}

export interface Shop {
  name: string;
  zone: string | undefined;
  currency: string;
  roomC: number;
  air: Air;
  partsUse: 'models' | 'body-contact';
  defaults: {
    resin: string;
    drainedMin: number;
    prerinse: Prerinse;
    midrinse: Midrinse;
    minutes: readonly number[];
    agitation: Agitation;
  };
  factors: Factors;
  tubs: Tub[];
  tubPlace: Map<string, number>;
  /** Places of the baths a wash goes through when it names none: dirty, then clean; else all, as the header lists them. */
  usualRoute: number[];
  solvents: Map<string, Solvent>;
  resins: Resin[];
  resinPlace: Map<string, number>;
  parts: Map<string, Part>;
}

/** Limits in wt%, common practice and the papers named in data/SOURCES.md; README.md of this room; the header overrides. */
const RESIN_LIMITS = {
  dirty: { models: [8, 10, 20], 'body-contact': [8, 10, 20] },
  clean: { models: [1.5, 2, 5], 'body-contact': [0.7, 1, 2] },
} as const;
const WATER_LIMITS: Limits = [5, 8, 12];
const AGE_LIMITS_DAYS = { dirty: 56, clean: 28 };

/**
 * Lays a header over the catalogue.
 *
 * @param header - a header that passed the schema
 * @returns the shop; never fails, since the schema has refused what could not be used
 */
export function openShop(header: Header): Shop {
  const { shop, factors } = header;
  const roomC = shop.room_c ?? 22;
  const air = roomAir(roomC, (shop.humidity_pct ?? 50) / 100);
  const partsUse = shop.parts_use ?? 'models';
  const resins = resinsOf(header, roomC);
  const names = Object.keys(header.baths);
  const tubs = names.map((name) =>
    tubOf({
      name,
      bath: header.baths[name]!,
      air,
      partsUse,
      last: names.at(-1) === name,
      limits: header.limits,
    }),
  );
  return {
    name: shop.name ?? '',
    zone: shop.timezone,
    currency: shop.currency ?? '',
    roomC,
    air,
    partsUse,
    defaults: {
      resin: shop.defaults?.resin ?? 'standard',
      drainedMin: shop.defaults?.drained_min ?? 10,
      prerinse: shop.defaults?.prerinse ?? 'none',
      midrinse: shop.defaults?.midrinse ?? 'none',
      minutes: shop.defaults?.minutes ?? [5, 5],
      agitation: shop.defaults?.agitation ?? 'still',
    },
    factors: { carry: factors?.carry ?? 1, drag: factors?.drag ?? 1, dissolution: factors?.dissolution ?? 1 },
    tubs,
    tubPlace: new Map(tubs.map((tub, place) => [tub.name, place])),
    usualRoute: usualRoute(names),
    solvents: solventsOf(header),
    resins,
    resinPlace: new Map(resins.map((resin, place) => [resin.name, place])),
    parts: partsOf(header),
  };
}

function tubOf(given: {
  name: string;
  bath: BathHeader;
  air: Air;
  partsUse: Shop['partsUse'];
  last: boolean;
  limits: LimitsHeader | undefined;
}): Tub {
  const { name, bath, limits } = given;
  const role = name === 'clean' || (name !== 'dirty' && given.last) ? 'clean' : 'dirty';
  const surfaceM2 = (bath.length_mm * bath.width_mm) / 1e6;
  return {
    name,
    markMl: bath.mark_ml,
    ...(bath.tub_ml === undefined ? {} : { brimMl: bath.tub_ml }),
    surfaceM2,
    freeboardM: bath.freeboard_mm / 1000,
    evaporation: bath.evaporation ?? 1,
    moisture: bath.moisture ?? 1,
    air: tubAir(given.air, surfaceM2, bath.lid_open_h ?? 1),
    limits: {
      resin: limits?.[`${role}_resin`] ?? RESIN_LIMITS[role][given.partsUse],
      water: limits?.[`${role}_water`] ?? WATER_LIMITS,
      ageDays: limits?.[`${role}_age_days`] ?? AGE_LIMITS_DAYS[role],
    },
  };
}

function solventsOf(header: Header): Map<string, Solvent> {
  const names = new Set([...Object.keys(catalogue.solvents), ...Object.keys(header.solvents ?? {})]);
  return new Map(
    [...names].map((name) => {
      const solvent = mergedSolvent(catalogue.solvents[name], header.solvents?.[name]);
      const ipaFraction =
        solvent.ipa_wt_pct === undefined
          ? fractionFromVolume((solvent.ipa_vol_pct ?? 100) / 100, 20)
          : solvent.ipa_wt_pct / 100;
      const price = solvent.price_per_l === undefined ? {} : { pricePerL: solvent.price_per_l };
      return [name, { name, ipaFraction, density: mixtureDensity(ipaFraction, 20), ...price }];
    }),
  );
}

function mergedSolvent(shipped: SolventHeader = {}, own: SolventHeader = {}): SolventHeader {
  const { ipa_wt_pct: _, ipa_vol_pct: __, ...rest } = shipped;
  const strength = own.ipa_wt_pct !== undefined || own.ipa_vol_pct !== undefined;
  return { ...(strength ? rest : shipped), ...own };
}

/** A part of the header over that of the catalogue; with another shape or volume, the old surface no longer holds. */
function mergedPart(shipped: CataloguePart | undefined, own: PartHeader | undefined): CataloguePart {
  if (!own) return shipped!;
  if (!shipped) return own;
  const { area_cm2: _, wall_mm: __, ...base } = shipped;
  const same = own.shape === shipped.shape && own.volume_ml === undefined;
  return { ...(same ? shipped : base), ...own };
}

/** The shop's usual resin first, then its own, then the rest: a bath keeps room only up to the last it has held. */
function resinsOf(header: Header, roomC: number): Resin[] {
  const standard = catalogue.resins.standard!;
  const all = { ...catalogue.resins, ...header.resins };
  const usual = header.shop.defaults?.resin ?? 'standard';
  const names = [...new Set([usual, ...Object.keys(header.resins ?? {}), ...Object.keys(all)])];
  return names.map((name) => {
    const resin = all[name]!;
    const base = catalogue.resins[name] ?? standard;
    const viscosity25 = resin.viscosity_mpa_s ?? base.viscosity_mpa_s!;
    return {
      name,
      density: resin.density_g_ml ?? base.density_g_ml!,
      viscosity25,
      viscosityRoom: resinViscosity(viscosity25, roomC),
      index: resin.refractive_index ?? base.refractive_index!,
    };
  });
}

function partsOf(header: Header): Map<string, Part> {
  const names = new Set([...Object.keys(catalogue.parts), ...Object.keys(header.parts ?? {})]);
  return new Map(
    [...names].map((name) => {
      const part = mergedPart(catalogue.parts[name], header.parts?.[name]);
      const sized = {
        name,
        shape: part.shape,
        volumeMl: part.volume_ml ?? 0,
        areaCm2: partArea(part),
        thin: part.thin ?? (part.shape === 'mask' || part.shape === 'sheet'),
        dryMin: part.typical_dry_min ?? (part.shape === 'hollow' ? 60 : 30),
      };
      return [name, sized];
    }),
  );
}

function usualRoute(names: string[]): number[] {
  const pair = [names.indexOf('dirty'), names.indexOf('clean')];
  return pair.includes(-1) ? names.map((_, place) => place) : pair;
}
