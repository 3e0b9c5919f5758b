/**
 * The events of a ledger, as plain data.
 *
 * Keys are the ledger's own. Units: `ml` mL of liquid at 20 °C, `*_g` grams, `area_cm2` cm², `*_min` and `minutes`
 * minutes, `*_c` °C, `*_pct` per cent. Times are RFC 3339 texts with an offset. The ranges each value must keep are
 * in `schema.ts`, which refuses anything else before an event reaches the rest of the program.
 */

export const PRERINSES = ['none', 'spray', 'brush', 'spin'] as const;
export type Prerinse = (typeof PRERINSES)[number];

export const MIDRINSES = ['none', 'spray', 'brush'] as const;
export type Midrinse = (typeof MIDRINSES)[number];

export const AGITATIONS = ['still', 'hand', 'stirred', 'ultrasonic'] as const;
export type Agitation = (typeof AGITATIONS)[number];

export const RESULTS = ['ok', 'sticky', 'cloudy', 'soft', 'cracked', 'residue'] as const;
export type InspectResult = (typeof RESULTS)[number];

export const SHAPES = ['solid', 'small', 'sheet', 'mask', 'hollow'] as const;
export type Shape = (typeof SHAPES)[number];

export const SG_REFS = ['20/20', '25/25', '60/60F'] as const;

interface Common {
  id: string;
  at: string;
  by?: string;
  note?: string;
  /** When the entry was typed, if that was not when it happened. */
  logged?: string;
}

export interface FillEvent extends Common {
  what: 'fill';
  bath: string;
  solvent: string;
  ml: number;
}

export interface WashEvent extends Common {
  what: 'wash';
  parts?: Record<string, number>;
  volume_ml?: number;
  area_cm2?: number;
  resin?: string;
  drained_min?: number;
  prerinse?: Prerinse;
  midrinse?: Midrinse;
  /** Soak in each bath, in the order of `baths`. */
  minutes?: number[];
  agitation?: Agitation;
  baths?: string[];
  carry_g?: number;
  carry_ml?: number;
  /** Drag-out of each bath, in the order of `baths`. */
  drag_ml?: number[];
  trapped_g?: number;
  cases?: string[];
  lot?: string;
  hollow?: boolean;
  /** Counted or measured by memory: one of "about five"; its resin is less sure. */
  estimated?: boolean;
}

export interface TopUpEvent extends Common {
  what: 'top-up';
  bath: string;
  solvent?: string;
  ml?: number;
  to?: 'mark';
  from?: 'stock' | 'clean';
}

export interface DrainEvent extends Common {
  what: 'drain';
  bath: string;
  ml?: number;
  to?: 'mark';
  all?: true;
  into?: string;
}

export interface RotateEvent extends Common {
  what: 'rotate';
  solvent?: string;
  ml?: number;
  into?: string;
}

export interface RefillEvent extends Common {
  what: 'refill';
  bath: string;
  solvent?: string;
  ml?: number;
  into?: string;
}

export interface ReadingEvent extends Common {
  what: 'reading';
  bath: string;
  density_g_ml?: number;
  sg?: number;
  sg_ref?: (typeof SG_REFS)[number];
  brix?: number;
  refractive_index?: number;
  residue?: { sample_ml: number; dry_g: number };
  resin_wt_pct?: number;
  level_ml?: number;
  weight_g?: number;
  temp_c?: number;
  t_ref_c?: number;
  sd?: number;
}

export interface WeighedEvent extends Common {
  what: 'weighed';
  wash: string;
  wet_g: number;
  clean_g: number;
}

export interface InspectEvent extends Common {
  what: 'inspect';
  wash?: string;
  result: InspectResult;
  parts?: Record<string, number>;
  cases?: string[];
}

export interface StockEvent extends Common {
  what: 'stock';
  solvent: string;
  received_ml?: number;
  counted_ml?: number;
  lot?: string;
  price?: number;
  supplier_note?: string;
}

export interface WasteEvent extends Common {
  what: 'waste';
  container: string;
  action: 'opened' | 'emptied' | 'collected';
  capacity_l?: number;
  ml?: number;
}

export interface ReclaimEvent extends Common {
  what: 'reclaim';
  container: string;
  ml: number;
  method: 'settled' | 'distilled';
  solvent: string;
}

export interface VoidEvent extends Common {
  what: 'void';
  of: string;
  why: string;
}

export interface AmendEvent extends Common {
  what: 'amend';
  of: string;
  set: Record<string, unknown>;
  why: string;
}

/** Events that move liquid or parts; each one cuts the evaporation interval. */
export type MovingEvent = FillEvent | WashEvent | TopUpEvent | DrainEvent | RotateEvent | RefillEvent;
/** Events that are kept on record and move nothing. */
export type RecordEvent = ReadingEvent | WeighedEvent | InspectEvent | StockEvent | WasteEvent | ReclaimEvent;
export type Correction = VoidEvent | AmendEvent;
export type LedgerEvent = MovingEvent | RecordEvent | Correction;
export type EventKind = LedgerEvent['what'];

/** An event as it stands in the file. */
export interface Written<E extends LedgerEvent = LedgerEvent> {
  event: E;
  /** `event.at` in milliseconds since 1970-01-01T00:00Z. */
  atMs: number;
  /** Line in the file, from 1. */
  line: number;
  /** Place among the events of the file, from 0. */
  place: number;
}

/** An event that counts, corrections applied. Entries are ordered by `atMs`, then by `place`. */
export interface Entry extends Written<MovingEvent | RecordEvent> {
  /** Ids of the amends that shaped it, in the order they were applied; absent when there are none. */
  amendedBy?: string[];
}
