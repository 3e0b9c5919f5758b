// The figures of the dates as a table of plain text.
import { plusMinus } from './measure.mjs';
import { aligned, fixed, percent } from './table.mjs';

/** @param {import('./dates-measure.mjs').DateFigures} figures @param {number} seed */
export function dateReport({ cells, problems }, seed) {
  const head = [
    'days to the first limit',
    'readings',
    'shops',
    '5–95 %',
    'earlier',
    'later',
    'before p50',
    'p50, d',
    'p95−p05, d',
    'p95/p05',
    'bath',
    'past',
    'none stated',
    'none true',
  ];
  const rows = cells.map((cell) => [
    cell.name,
    String(cell.readings),
    String(cell.shops),
    ...[cell.cover90, cell.early, cell.late, cell.beforeMiddle].map(percent),
    ...[cell.middle, cell.width].map((days) => fixed(days, 1)),
    fixed(cell.ratio, 2),
    ...[cell.bath, cell.past, cell.noneStated, cell.noneTrue].map(percent),
  ]);
  const most = cells[0].shops;
  const notes = [
    `By chance alone, 95 % of the time, ${most} shops: ${percent(0.9)} ± ${percent(plusMinus(0.9, most))} %. Goal 85–95 %. Shares in %; p50 and widths are medians.`,
    'Earlier, later: the true day lies before p05, after p95. Bath: the first is the one named. Past: met before the clock, the true day is 0.',
    ...(problems.length > 0 ? [`Not judged: ${problems.length}`, ...problems.slice(0, 5)] : []),
    `Dates: seed ${seed}`,
  ];
  return `${aligned([head, ...rows])}\n\n${notes.join('\n')}`;
}
