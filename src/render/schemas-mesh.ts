/** What the document of a wash says of files that its parts were measured from. */
import { listOf, NUMBER, object, oneOf, orNull, type Schema, TEXT, TRUTH, WHOLE } from './schema-parts.ts';

const FILE = object({
  file: TEXT,
  count: WHOLE,
  format: oneOf('binary STL', 'ASCII STL', '3MF'),
  unit: oneOf('micron', 'millimeter', 'centimeter', 'inch', 'foot', 'meter'),
  unit_stated: { ...TRUTH, description: 'the file says its unit' },
  triangles: WHOLE,
  flat_triangles: WHOLE,
  box_mm: { type: 'array', items: NUMBER, minItems: 3, maxItems: 3 },
  volume_ml: {
    ...orNull(NUMBER),
    description: 'solid, of one part; null where the surface does not enclose one',
  },
  area_cm2: { ...NUMBER, description: 'outside, of one part' },
  pieces: WHOLE,
  voids: { ...WHOLE, description: 'hollows without an opening' },
  void_ml: NUMBER,
  open_edges: WHOLE,
  turned_edges: { ...WHOLE, description: 'edges between triangles that face different ways' },
  inside_out: WHOLE,
  crossing: { ...WHOLE, description: 'pairs of pieces that run into one another' },
  buried: { ...WHOLE, description: 'pieces within solid, not counted' },
  buried_ml: NUMBER,
  looked: oneOf('all', 'pieces', 'sums'),
  warnings: listOf(TEXT),
});

export const MESH_KEYS: Record<string, Schema> = {
  'mesh?': listOf(FILE),
  'part_line?': { ...TEXT, description: 'for the head of the ledger, under parts' },
};
