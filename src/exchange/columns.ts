/** The columns of exchanged events: every key of every kind of event, in base units, and how its values are written. */
import type { Kind } from '../substance/units.ts';

/**
 * How the values of a column are written in a cell.
 *
 * `word`: one of a ledger's own words or names, capitals and blanks forgiven; `parts`: counts by name, `6 model; 2 mask`;
 * `texts` and `numbers`: lists with semicolons; `map`: JSON.
 */
type CellKind = 'text' | 'word' | 'time' | 'number' | 'truth' | 'parts' | 'texts' | 'numbers' | 'map';

export interface Column {
  name: string;
  kind: CellKind;
  /** What kind of quantity it is, where a cell or a heading may name a unit. */
  quantity?: Kind;
  /** Where it stands in an event, when not under its own name. */
  path?: readonly [key: string, inner: string];
}

const column = (name: string, kind: CellKind, quantity?: Kind): Column =>
  quantity === undefined ? { name, kind } : { name, kind, quantity };
const number = (name: string, quantity?: Kind): Column => column(name, 'number', quantity);

/** In the order in which they are written. */
export const EVENT_COLUMNS: readonly Column[] = [
  column('id', 'text'),
  column('at', 'time'),
  column('what', 'word'),
  column('bath', 'word'),
  column('solvent', 'word'),
  number('ml', 'volume'),
  column('from', 'word'),
  column('to', 'word'),
  column('all', 'truth'),
  column('into', 'text'),
  column('parts', 'parts'),
  number('volume_ml', 'volume'),
  number('area_cm2', 'area'),
  column('resin', 'word'),
  number('drained_min', 'duration'),
  column('prerinse', 'word'),
  column('midrinse', 'word'),
  column('minutes', 'numbers', 'duration'),
  column('agitation', 'word'),
  column('baths', 'texts'),
  number('carry_g', 'mass'),
  number('carry_ml', 'volume'),
  column('drag_ml', 'numbers', 'volume'),
  number('trapped_g', 'mass'),
  column('cases', 'texts'),
  column('lot', 'text'),
  column('hollow', 'truth'),
  column('estimated', 'truth'),
  number('density_g_ml'),
  number('sg'),
  column('sg_ref', 'text'),
  number('brix'),
  number('refractive_index'),
  { name: 'residue_sample_ml', kind: 'number', quantity: 'volume', path: ['residue', 'sample_ml'] },
  { name: 'residue_dry_g', kind: 'number', quantity: 'mass', path: ['residue', 'dry_g'] },
  number('resin_wt_pct'),
  number('level_ml', 'volume'),
  number('weight_g', 'mass'),
  number('temp_c', 'temperature'),
  number('t_ref_c', 'temperature'),
  number('sd'),
  column('wash', 'text'),
  number('wet_g', 'mass'),
  number('clean_g', 'mass'),
  column('result', 'word'),
  number('received_ml', 'volume'),
  number('counted_ml', 'volume'),
  number('price'),
  column('supplier_note', 'text'),
  column('container', 'text'),
  column('action', 'word'),
  number('capacity_l'),
  column('method', 'word'),
  column('of', 'text'),
  column('set', 'map'),
  column('why', 'text'),
  column('logged', 'time'),
  column('by', 'text'),
  column('note', 'text'),
];

/** By name; with `residue`, which NDJSON has in one piece. */
export const COLUMN_OF: ReadonlyMap<string, Column> = new Map(
  [...EVENT_COLUMNS, column('residue', 'map')].map((one) => [one.name, one]),
);
