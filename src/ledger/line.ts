import type { EventKind, LedgerEvent } from './event.ts';
import { plainDecimal } from './plain-decimal.ts';
import { isPlainKey, isPlainWord } from './plain-word.ts';
import { parseTime } from './time.ts';

/** Values under these keys are always quoted, so that no lot or case number is ever read as a number. */
const QUOTED = new Set([
  'id',
  'of',
  'wash',
  'by',
  'note',
  'why',
  'lot',
  'cases',
  'into',
  'container',
  'supplier_note',
  'sg_ref',
]);
const TIMES = new Set(['at', 'logged']);

/** The order in which the keys of each kind are written, between those that every event has. */
const KEY_ORDER: Record<EventKind, readonly string[]> = {
  fill: ['bath', 'solvent', 'ml'],
  wash: [
    'parts',
    'volume_ml',
    'area_cm2',
    'resin',
    'drained_min',
    'prerinse',
    'midrinse',
    'minutes',
    'agitation',
    'baths',
    'carry_g',
    'carry_ml',
    'drag_ml',
    'trapped_g',
    'cases',
    'lot',
    'hollow',
    'estimated',
  ],
  'top-up': ['bath', 'solvent', 'from', 'ml', 'to'],
  drain: ['bath', 'ml', 'to', 'all', 'into'],
  rotate: ['solvent', 'ml', 'into'],
  refill: ['bath', 'solvent', 'ml', 'into'],
  reading: [
    'bath',
    'density_g_ml',
    'sg',
    'sg_ref',
    'brix',
    'refractive_index',
    'residue',
    'resin_wt_pct',
    'level_ml',
    'weight_g',
    'temp_c',
    't_ref_c',
    'sd',
  ],
  weighed: ['wash', 'wet_g', 'clean_g'],
  inspect: ['wash', 'result', 'parts', 'cases'],
  stock: ['solvent', 'received_ml', 'counted_ml', 'lot', 'price', 'supplier_note'],
  waste: ['container', 'action', 'capacity_l', 'ml'],
  reclaim: ['container', 'ml', 'method', 'solvent'],
  void: ['of', 'why'],
  amend: ['of', 'set', 'why'],
};

/** Keys that every event may have besides its id, time and kind. */
const LAST_KEYS = ['logged', 'by', 'note'];

/** The keys of events of all kinds. */
export const EVENT_KEYS: ReadonlySet<string> = new Set([
  'id',
  'at',
  'what',
  ...Object.values(KEY_ORDER).flat(),
  ...LAST_KEYS,
]);

/** The event as the one line a ledger holds it in, without the newline, its keys in the order of the schema. */
export function writeLine(event: LedgerEvent): string {
  return `  - ${writeMap(inOrder(event), '')}`;
}

/** Any map in the one-line form; for help texts that show how a line should look. */
export function writeFlow(map: Record<string, unknown>): string {
  return writeMap(map, '');
}

function inOrder(event: LedgerEvent): Record<string, unknown> {
  const ordered: Record<string, unknown> = {};
  const values = event as unknown as Record<string, unknown>;
  for (const key of keyOrder(event.what)) {
    if (values[key] !== undefined) {
      ordered[key] = values[key];
    }
  }
  return ordered;
}

/** The keys of a kind of event in the order they are written. */
export function keyOrder(what: EventKind): string[] {
  return ['id', 'at', 'what', ...KEY_ORDER[what], ...LAST_KEYS];
}

function writeMap(map: Record<string, unknown>, under: string): string {
  const entries = Object.entries(map)
    .filter(([, value]) => value !== undefined)
    .map(
      ([key, value]) =>
        `${isPlainKey(key) ? key : quote(key)}: ${writeValue(value, under === 'parts' ? '' : key)}`,
    );
  return `{${entries.join(', ')}}`;
}

function writeValue(value: unknown, key: string): string {
  if (typeof value === 'number') {
    return plainDecimal(value);
  }
  if (typeof value === 'string') {
    return writeText(value, key);
  }
  if (Array.isArray(value)) {
    return `[${value.map((one) => writeValue(one, key)).join(', ')}]`;
  }
  return typeof value === 'object' && value !== null
    ? writeMap(value as Record<string, unknown>, key)
    : String(value);
}

function writeText(value: string, key: string): string {
  const plain = TIMES.has(key) ? !Number.isNaN(parseTime(value)) : !QUOTED.has(key) && isPlainWord(value);
  return plain ? value : quote(value);
}

/** A JSON string with everything escaped that YAML or a terminal could take amiss. */
function quote(text: string): string {
  return JSON.stringify(text).replaceAll(
    /[\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
