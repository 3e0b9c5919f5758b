/** A small ledger to begin with. */
export const HEAD = `format: bathbook/1
shop:
  name: Cove Street Bench
  timezone: America/Halifax
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
events:
`;

export const LINES = [
  '  - {id: "fill2", at: 2025-03-03T08:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000}',
  '  - {id: "fill3", at: 2025-03-03T08:05:00-04:00, what: fill, bath: clean, solvent: ipa99, ml: 4000, note: "é"}',
  '  - {id: "wash4", at: 2025-03-03T09:20:00-04:00, what: wash, parts: {crown: 2}, by: "NB"}',
];

export function ledgerOf(lines) {
  return HEAD + lines.map((line) => `${line}\n`).join('');
}
