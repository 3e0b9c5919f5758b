// The figures of the honesty bench as two tables of plain text.
import { plusMinus } from './measure.mjs';

/** @typedef {import('./measure.mjs').Cell} Cell @typedef {import('./measure.mjs').Figures} Figures */

/** @param {number} share */
export function percent(share) {
  return Number.isFinite(share) ? (100 * share).toFixed(1) : '-';
}

/** @param {number} value @param {number} decimals */
export function fixed(value, decimals) {
  return Number.isFinite(value) ? value.toFixed(decimals) : '-';
}

/** Columns as wide as their widest cell, numbers to the right. @param {string[][]} rows */
export function aligned(rows) {
  const widths = rows[0].map((_, i) => Math.max(...rows.map((row) => row[i].length)));
  return rows
    .map((row) =>
      row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join('  '),
    )
    .join('\n');
}

/** @param {Cell[]} cells */
function resinTable(cells) {
  const head = ['resin wt%', 'readings', 'shops', '5–95 %', '25–75 %', 'p95/p05', 'score'];
  const exactHead = [
    'exact: shops',
    '5–95 %',
    '25–75 %',
    'p95/p05',
    'score',
    'difference',
    '±',
    'ESS',
    'worst',
  ];
  const rows = cells.map(
    ({ bath, readings, judged, exact, difference, differenceSe, essMedian, essWorst }) => [
      bath,
      String(readings),
      ...[judged, exact].flatMap(({ shops, cover90, cover50, width, score }) => [
        String(shops),
        percent(cover90),
        percent(cover50),
        fixed(width, 2),
        fixed(score, 3),
      ]),
      fixed(difference, 3),
      fixed(1.96 * differenceSe, 3),
      fixed(essMedian, 0),
      fixed(essWorst, 0),
    ],
  );
  return aligned([[...head, ...exactHead], ...rows]);
}

/** @param {Cell[]} cells */
function waterTable(cells) {
  const head = ['water wt%', 'readings', 'shops', '5–95 %', '25–75 %', 'exact: shops', '5–95 %', '25–75 %'];
  const rows = cells.map(({ bath, readings, judged, exact }) => [
    bath,
    String(readings),
    ...[judged, exact].flatMap(({ shops, water90, water50 }) => [
      String(shops),
      percent(water90),
      percent(water50),
    ]),
  ]);
  return aligned([head, ...rows]);
}

/** @param {Figures} figures */
export function report({ cells, problems, lost }) {
  const sizes = [cells[0].judged.shops, cells[0].exact.shops].filter((shops) => shops > 0);
  const chance = sizes.map((shops) => {
    const [wide, narrow] = [0.9, 0.5].map(
      (share) => `${percent(share)} ± ${percent(plusMinus(share, shops))}`,
    );
    return `  ${shops} shops: ${wide} and ${narrow} %`;
  });
  const notes = [
    'Coverage of an honest band by chance alone, 95 % of the time:',
    ...chance,
    'Score: mean ln density of ln(resin wt%) at the truth; difference over the shops both have, ± 1.96 standard errors.',
    ...(lost > 0 ? [`Scores that are no number: ${lost}`] : []),
    ...(problems.length > 0 ? [`Not judged: ${problems.length}`, ...problems.slice(0, 5)] : []),
  ];
  return `${resinTable(cells)}\n\n${waterTable(cells)}\n\n${notes.join('\n')}`;
}
