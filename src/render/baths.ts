/**
 * The pair at a glance: a column a bath on a terminal, a line a bath elsewhere.
 */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Status } from '../outlook/status.ts';
import { adviceText } from './advice.ts';
import { basisHint } from './basis.ts';
import { banded, trim } from './format.ts';
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { aligned, isTight, type Table, tabSeparated, withBandsBelow } from './table.ts';
import { wrap } from './wrap.ts';

/** For people: name and time, the table, the advice, what the numbers rest on. */
export async function bathsText(
  status: Status,
  view: { paint: Paint; when: string; width: number },
): Promise<string> {
  const { estimates, shop, advice } = status;
  const title = printable([shop.name, view.when].filter(Boolean).join(', '));
  const figures = glance(status, view.paint);
  const isTooWide = isTight(glance(status, PLAIN), view.width);
  const table = await aligned(isTooWide ? withBandsBelow(figures) : figures, view.paint);
  const sentence = wrap(`Advice: ${adviceText(advice, estimates)}.`, view.width);
  return [
    title,
    '',
    table,
    '',
    view.paint.strong(sentence),
    view.paint.faint(wrap(`In brackets: 5 to 95 %, nine chances in ten. ${basisHint(status)}.`, view.width)),
  ].join('\n');
}

/** Without colour, which takes no room. */
const PLAIN: Pick<Paint, 'verdict'> = { verdict: (word, text = word) => text };

function glance({ estimates }: Status, paint: Pick<Paint, 'verdict'>): Table {
  const row = (label: string, of: (bath: BathEstimate) => string) => [label, ...estimates.map(of)];
  const known = (of: (bath: BathEstimate) => string) => (bath: BathEstimate) =>
    bath.resinWtPct === null ? '-' : of(bath);
  return {
    head: ['', ...estimates.map(({ bath }) => bath)],
    rows: [
      row('verdict', (bath) => paint.verdict(bath.verdict, verdictText(bath))),
      row(
        'resin, wt%',
        known((bath) => banded(bath.resinWtPct!)),
      ),
      row(
        'resin, g/L',
        known((bath) => banded(bath.resinGPerL!, 1)),
      ),
      row(
        'resin, vol%',
        known((bath) => banded(bath.resinVolPct!)),
      ),
      row('limits', (bath) => limits(bath.limits.resin)),
      row(
        'water, wt%',
        known((bath) => banded(bath.waterWtPct!)),
      ),
      row('limits', (bath) => limits(bath.limits.water)),
      row('level, L', (bath) => banded(inLitres(bath.volumeMl))),
      row('mark, L', (bath) => (bath.markMl / 1000).toFixed(2)),
      row(
        'age, days',
        known((bath) => `${Math.floor(bath.ageDays ?? 0)} of ${bath.limits.ageDays}`),
      ),
      row('washes', (bath) => String(bath.washes)),
    ],
  };
}

/** The verdict in a word, and why. */
export function verdictText(bath: BathEstimate): string {
  if (bath.dry) return 'stop (dried out)';
  if (bath.resinWtPct === null) return 'stop (empty)';
  if (bath.beyondModel) return 'stop (below 40 wt% IPA)';
  return bath.because === 'none' ? bath.verdict : `${bath.verdict} (${bath.because})`;
}

function limits([soon, change, never]: BathEstimate['limits']['resin']): string {
  return [soon, change, never].map((limit) => trim(limit, 2)).join(' / ');
}

function inLitres({ p05, p50, p95 }: Quantity): Quantity {
  if (p05 === undefined || p95 === undefined) return { p50: p50 / 1000 };
  return { p05: p05 / 1000, p50: p50 / 1000, p95: p95 / 1000 };
}

/** For a pipe: one bath a line under a head, base units. */
export function bathsRecords({ estimates }: Status): string {
  const value = (quantity: Quantity | null, digits: number) => quantity?.p50.toFixed(digits) ?? '';
  const ends = (quantity: Quantity | null, digits: number) =>
    [quantity?.p05, quantity?.p95].map((end) => end?.toFixed(digits) ?? '');
  return tabSeparated({
    head: [
      'bath',
      'verdict',
      'because',
      'resin_wt_pct',
      'resin_g_per_l',
      'resin_vol_pct',
      'water_wt_pct',
      'volume_ml',
      'age_days',
      'washes',
      'resin_wt_pct_p05',
      'resin_wt_pct_p95',
      'water_wt_pct_p05',
      'water_wt_pct_p95',
      'volume_ml_p05',
      'volume_ml_p95',
    ],
    rows: estimates.map((bath) => [
      bath.bath,
      bath.verdict,
      bath.because,
      value(bath.resinWtPct, 3),
      value(bath.resinGPerL, 2),
      value(bath.resinVolPct, 3),
      value(bath.waterWtPct, 2),
      value(bath.volumeMl, 0),
      bath.ageDays?.toFixed(1) ?? '',
      String(bath.washes),
      ...ends(bath.resinWtPct, 3),
      ...ends(bath.waterWtPct, 2),
      ...ends(bath.volumeMl, 0),
    ]),
  });
}
