/**
 * What a load of parts brings along, README.md 2.
 */
import type { Agitation, Midrinse, Prerinse, WashEvent } from '../ledger/event.ts';
import type { PartHeader } from '../ledger/header.ts';
import type { Shop } from './shop.ts';

export interface Load {
  /** Place of its resin in `shop.resins`. */
  resin: number;
  /** Places of the baths it goes through, in order. */
  baths: number[];
  /** Number of parts; 0 when the wash names none. */
  parts: number;
  areaCm2: number;
  /** NaN when neither parts nor a volume were named. */
  volumeMl: number;
  /** Resin film on arrival, before the carry-over factor and any pre-rinse, g. */
  filmG: number;
  /** Share of the film that the pre-rinse takes off. */
  prerinseShare: number;
  trappedG: number;
  /** Carry-over given outright, g. */
  givenCarryG?: number;
  /** Soak over dissolution time, t/τ, for each bath. */
  soaks: number[];
  /** Share of the undissolved resin that brushing or spraying takes off between two baths. */
  midrinseShare: number;
  /** Drag-out of one dip before the drag-out factor and the viscosity multiplier, mL. */
  dragMl: number;
  /** Drag-out given outright for each bath, mL. */
  givenDragMl?: number[];
  /** How many equal loads, one after the other, this stands for; its film, drag-out and surface are theirs together. 1 when absent. */
  times?: number;
  /** Logged from memory: how many there were, and of what, is not sure. */
  estimated?: true;
}

/**
 * Share of the film that a rinse takes off before the first bath. Engineering guess, range 0.3–0.85 (spin 0.4–0.9);
 * data/SOURCES.md, DEFAULTS.
 */
export const PRERINSE_SHARE: Record<Prerinse, number> = { none: 0, spray: 0.6, brush: 0.6, spin: 0.7 };

/** Share of the undissolved resin that is taken off between two baths. Same basis. */
export const MIDRINSE_SHARE: Record<Midrinse, number> = { none: 0, spray: 0.6, brush: 0.6 };

/** Dissolution time τ by agitation [min], × or ÷ 2. Same basis. */
export const DISSOLUTION_MIN: Record<Agitation, number> = {
  still: 6,
  hand: 3.5,
  stirred: 1.9,
  ultrasonic: 1.2,
};

/** Texture, supports and raft on top of the geometric area, 1.05–1.4. Same basis. */
export const TEXTURE = 1.2;

/** Drag-out of open and of cup-like or hollow parts after a 10 s drip [mL/m²], 20–160 and 50–400. Same basis. */
export const DRAG_ML_PER_M2 = { open: 60, cup: 120 };

/** Liquid that the basket or tray takes out at each dip [mL], 1–20. Same basis. */
export const BASKET_ML = 5;

/**
 * Resin film on a part that has drained [mg/cm²].
 *
 *     f = clamp( 22 sqrt(µ/400)/sqrt(t), 2, 40 )
 *
 * µ: viscosity of the resin at the room's temperature, mPa·s; t: minutes drained, tilted (0 gives 40).
 * A gravity-drained wall film, (2/3) sqrt(µ H/(ρ g t)), times 2.2 for edges, drops and horizontal faces.
 * Known to a factor of 2 at best: no measured value is published. [1, 2]
 *
 * Example: 400 mPa·s, 10 min → 6.96 mg/cm².
 *
 * 1. JEFFREYS1930, data/SOURCES.md.  2. Multiplier and clamp: engineering guess, data/SOURCES.md, DEFAULTS.
 */
export function filmMgPerCm2(viscosityMpaS: number, drainedMin: number): number {
  if (drainedMin <= 0) return 40;
  return Math.min(40, Math.max(2, (22 * Math.sqrt(viscosityMpaS / 400)) / Math.sqrt(drainedMin)));
}

/**
 * Surface of a part [cm²] from its volume V [mL] and shape, unless its area is given.
 *
 *     solid 8.5 V^(2/3)   small 7 V^(2/3)   sheet 10 V   mask 8 V   hollow 2 V/wall (wall in cm)
 *
 * Fits to voxel arches: solid k 7.8–9.0, sheets 7–13 cm²/mL; data/SOURCES.md, DEFAULTS.
 * Example: a 32 mL solid arch → 85.7 cm²; 12.5 mL with 2 mm walls → 125 cm².
 */
export function partArea(part: PartHeader): number {
  if (part.area_cm2 !== undefined) return part.area_cm2;
  const volumeMl = part.volume_ml ?? 0;
  switch (part.shape) {
    case 'solid':
      return solidArea(volumeMl);
    case 'small':
      return 7 * volumeMl ** (2 / 3);
    case 'sheet':
      return 10 * volumeMl;
    case 'mask':
      return 8 * volumeMl;
    case 'hollow':
      return (2 * volumeMl) / ((part.wall_mm ?? 2) / 10);
    default:
      return part.shape satisfies never;
  }
}

/** Surface of a compact solid [cm²], 8.5 V^(2/3). */
export function solidArea(volumeMl: number): number {
  return 8.5 * volumeMl ** (2 / 3);
}

/**
 * Works out the load of a wash, with the shop's defaults where the wash is silent.
 *
 * @param wash - a wash whose names exist in the shop
 */
export function loadOf(wash: WashEvent, shop: Shop): Load {
  const { defaults } = shop;
  const resin = shop.resinPlace.get(wash.resin ?? defaults.resin) ?? 0;
  const kind = shop.resins[resin]!;
  const size = sizeOf(wash, shop);
  const film = filmMgPerCm2(kind.viscosityRoom, wash.drained_min ?? defaults.drainedMin);
  const baths = routeOf(wash, shop);
  const tau = DISSOLUTION_MIN[wash.agitation ?? defaults.agitation];
  const load: Load = {
    resin,
    baths,
    parts: size.parts,
    areaCm2: size.areaCm2,
    volumeMl: size.volumeMl,
    filmG: (TEXTURE * size.areaCm2 * film) / 1000,
    prerinseShare: PRERINSE_SHARE[wash.prerinse ?? defaults.prerinse],
    trappedG: wash.trapped_g ?? 0,
    soaks: soakMinutes(wash, shop).map((minutes) => minutes / tau),
    midrinseShare: MIDRINSE_SHARE[wash.midrinse ?? defaults.midrinse],
    dragMl: size.dragMl + BASKET_ML,
  };
  if (wash.carry_g !== undefined) load.givenCarryG = wash.carry_g;
  else if (wash.carry_ml !== undefined) load.givenCarryG = wash.carry_ml * kind.density;
  if (wash.drag_ml !== undefined) load.givenDragMl = wash.drag_ml;
  if (wash.estimated === true) load.estimated = true;
  return load;
}

/** Places of the baths a wash goes through; dirty then clean unless it says otherwise. */
function routeOf(wash: WashEvent, shop: Shop): number[] {
  if (wash.baths) return wash.baths.map((name) => shop.tubPlace.get(name)!);
  return shop.usualRoute;
}

/** Minutes in each bath of the route; the default pair belongs to dirty and clean by name. */
export function soakMinutes(wash: WashEvent, shop: Shop): readonly number[] {
  if (wash.minutes) return wash.minutes;
  const { minutes } = shop.defaults;
  if (!wash.baths) return shop.usualRoute.map((_, step) => minutes[step] ?? minutes.at(-1)!);
  return wash.baths.map((name) => {
    const step = shop.usualRoute.indexOf(shop.tubPlace.get(name)!);
    return minutes[name === 'clean' && minutes.length === 2 ? 1 : step] ?? minutes.at(-1)!;
  });
}

interface Size {
  parts: number;
  areaCm2: number;
  volumeMl: number;
  dragMl: number;
}

/** Area, volume and drag-out of the load, basket left out. */
function sizeOf(wash: WashEvent, shop: Shop): Size {
  const size: Size = { parts: 0, areaCm2: 0, volumeMl: 0, dragMl: 0 };
  if (wash.parts) {
    for (const name in wash.parts) {
      const count = wash.parts[name]!;
      const part = shop.parts.get(name)!;
      const cup = wash.hollow === true || part.shape === 'hollow';
      size.parts += count;
      size.areaCm2 += part.areaCm2 * count;
      size.volumeMl += part.volumeMl * count;
      size.dragMl += dragOf(part.areaCm2 * count, cup);
    }
    return size;
  }
  size.volumeMl = wash.volume_ml ?? Number.NaN;
  size.areaCm2 = wash.area_cm2 ?? solidArea(wash.volume_ml ?? 0);
  size.dragMl = dragOf(size.areaCm2, wash.hollow === true);
  return size;
}

function dragOf(areaCm2: number, cup: boolean): number {
  return (areaCm2 * (cup ? DRAG_ML_PER_M2.cup : DRAG_ML_PER_M2.open)) / 10_000;
}
