/**
 * The head of a ledger: the shop, its baths, and what it adds to the catalogue. Units as in `event.ts`;
 * lengths in mm, prices in the shop's currency.
 */
import type { Agitation, Midrinse, Prerinse, Shape } from './event.ts';

export interface Header {
  format: 'bathbook/1';
  shop: ShopHeader;
  /** Prior medians of the carry-over, drag-out and dissolution factors. */
  factors?: { carry?: number; drag?: number; dissolution?: number };
  baths: Record<string, BathHeader>;
  /** Overrides of the limits as [soon, change, never], wt%, or for ages a number of days. */
  limits?: LimitsHeader;
  solvents?: Record<string, SolventHeader>;
  resins?: Record<string, ResinHeader>;
  parts?: Record<string, PartHeader>;
}

interface ShopHeader {
  name?: string;
  timezone?: string;
  currency?: string;
  /** Room temperature, 10–40 °C. */
  room_c?: number;
  humidity_pct?: number;
  parts_use?: 'models' | 'body-contact';
  defaults?: {
    resin?: string;
    drained_min?: number;
    prerinse?: Prerinse;
    midrinse?: Midrinse;
    /** Soak in the dirty and in the clean bath. */
    minutes?: number[];
    agitation?: Agitation;
  };
}

export interface BathHeader {
  mark_ml: number;
  length_mm: number;
  width_mm: number;
  /** From the surface at the mark up to the rim. */
  freeboard_mm: number;
  lid_open_h?: number;
  /** Evaporation factor; 0 switches evaporation off. */
  evaporation?: number;
  /** Moisture factor; 0 switches water uptake and loss off. */
  moisture?: number;
  /** Volume at the brim. */
  tub_ml?: number;
}

type Triple = [number, number, number];

export interface LimitsHeader {
  dirty_resin?: Triple;
  clean_resin?: Triple;
  dirty_water?: Triple;
  clean_water?: Triple;
  dirty_age_days?: number;
  clean_age_days?: number;
}

export interface SolventHeader {
  ipa_wt_pct?: number;
  ipa_vol_pct?: number;
  price_per_l?: number;
}

export interface ResinHeader {
  density_g_ml?: number;
  /** At 25 °C. */
  viscosity_mpa_s?: number;
  refractive_index?: number;
}

export interface PartHeader {
  shape: Shape;
  volume_ml?: number;
  area_cm2?: number;
  /** Wall of a hollow part, default 2 mm. */
  wall_mm?: number;
}
