/**
 * The numbers behind the charts, as tables: a line a day, a week or a month.
 */
import type { Tub } from '../../bath/shop.ts';
import type { Looked } from '../../records/series.ts';
import type { Bin, BinKind } from '../../records/series-bins.ts';
import { banded, trim } from '../format.ts';
import type { ReportView } from '../report-view.ts';
import type { Charts } from './charts.ts';
import { element, type Markup } from './markup.ts';
import { tableOf } from './table.ts';

type View = Pick<ReportView, 'day' | 'month'>;

/** Of the days ahead, one in so many. */
const AHEAD_STEP = 7;

export function bathNumbers(tub: Tub, place: number, charts: Charts, view: View): Markup {
  const { series, binKind, ahead } = charts;
  const { looked } = series.baths[place]!;
  const rows = series.loads.bins.map((bin) => {
    const last = lastIn(looked, Math.min(bin.endMs, series.window.toMs));
    const done = series.turns.filter(
      ({ atMs, baths }) => baths.includes(place) && atMs >= bin.startMs && atMs < bin.endMs,
    );
    return [
      binText(bin, binKind, view),
      last?.banded ? banded(last.banded.resin) : 'empty',
      last?.banded ? banded(last.banded.water) : 'empty',
      doneText(done.map(({ what }) => what)),
    ];
  });
  const coming = ahead
    .filter((_, at) => at > 0 && (at % AHEAD_STEP === 0 || at === ahead.length - 1))
    .flatMap(({ atMs, resinWtPct, waterWtPct }) => {
      const [resin, water] = [resinWtPct[place], waterWtPct[place]];
      return resin && water
        ? [[view.day(atMs - 1), banded(resin), banded(water), 'ahead, nothing changed']]
        : [];
    });
  return tableOf({
    caption: `${tub.name} bath at the end of each ${binKind}`,
    head: [binKind, 'resin, wt%', 'water, wt%', 'what was done'],
    rows: [...rows, ...coming],
  });
}

export function loadNumbers({ series, binKind }: Charts, view: View): Markup {
  const rows = series.loads.bins
    .filter(({ loads }) => loads > 0)
    .map((bin) => [binText(bin, binKind, view), String(bin.loads), residueText(bin.least, bin.most)]);
  return tableOf({
    caption: `washes of each ${binKind}`,
    head: [binKind, 'washes', 'residue, µg/cm²'],
    rows: rows.length > 0 ? rows : [['none', '0', '-']],
  });
}

/** From the least to the most, µg/cm². */
export function residueText(least: number | null, most: number | null): string {
  if (least === null || most === null) return '-';
  const [low, high] = [least, most].map((value) => trim(value, value < 10 ? 1 : 0));
  return low === high ? low! : `${low} to ${high}`;
}

function lastIn(looked: readonly Looked[], untilMs: number): Looked | undefined {
  let [low, high] = [0, looked.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (looked[middle]!.atMs > untilMs) high = middle;
    else low = middle + 1;
  }
  return looked[low - 1];
}

function binText({ startMs }: Bin, kind: BinKind, { day, month }: View): string {
  if (kind === 'day') return day(startMs);
  if (kind === 'week') return `week from ${day(startMs)}`;
  return kind === 'month' ? month(startMs) : `year from ${month(startMs)}`;
}

/** Each kind once, with how many times. */
function doneText(kinds: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const kind of kinds) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts].map(([kind, times]) => (times > 1 ? `${kind} ${times} times` : kind)).join(', ');
}

/** Closed until somebody asks. */
export function numbersOf(tables: readonly Markup[]): Markup {
  return element(
    'details',
    {},
    element('summary', {}, 'The numbers of the charts, as tables'),
    element('div', { class: 'numbers' }, tables),
  );
}
