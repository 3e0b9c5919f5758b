/** Pieces of small ledgers for the tests; the shop is invented. */
export const HEAD = `format: bathbook/1
shop:
  name: Cobble Hill Bench
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
solvents:
  ipa99: {ipa_wt_pct: 99.5}
`;

export const FILL =
  '  - {id: "k3f9", at: 2026-11-02T07:40:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000, by: "NB"}\n';
export const WASH =
  '  - {id: "k5q2", at: 2026-11-02T16:05:00-04:00, what: wash, parts: {model: 6, mask: 2}, minutes: [5, 4.5], by: "Zoë"}\n';

/** A ledger with these lines as its events. */
export function ledger(...lines: string[]): string {
  return `${HEAD}events:\n${lines.map((line) => (line.endsWith('\n') ? line : `  - {${line}}\n`)).join('')}`;
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}
