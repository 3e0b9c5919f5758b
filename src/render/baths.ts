/**
 * The pair at a glance: a column a bath on a terminal, a line a bath elsewhere.
 */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Status } from '../outlook/status.ts';
import { adviceText } from './advice.ts';
import { percent, trim, volume } from './format.ts';
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { aligned, tabSeparated } from './table.ts';
import { wrap } from './wrap.ts';

const UNCALIBRATED =
  'Estimates use default factors, not calibrated: carry-over alone is known to a factor of two.';

/** For people: name and time, the table, the advice, what the numbers rest on. */
export async function bathsText(
  status: Status,
  view: { paint: Paint; when: string; width: number },
): Promise<string> {
  const { estimates, shop, advice } = status;
  const title = printable([shop.name, view.when].filter(Boolean).join(', '));
  const table = await aligned(glance(status, view.paint), view.paint);
  const sentence = wrap(`Advice: ${adviceText(advice, estimates)}.`, view.width);
  return [
    title,
    '',
    table,
    '',
    view.paint.strong(sentence),
    view.paint.faint(wrap(UNCALIBRATED, view.width)),
  ].join('\n');
}

function glance({ estimates, shop }: Status, paint: Paint) {
  const row = (label: string, of: (bath: BathEstimate, place: number) => string) => [
    label,
    ...estimates.map(of),
  ];
  const known = (of: (bath: BathEstimate) => string) => (bath: BathEstimate) =>
    bath.resinWtPct === null ? '-' : of(bath);
  return {
    head: ['', ...estimates.map(({ bath }) => bath)],
    rows: [
      row('verdict', (bath) => paint.verdict(bath.verdict, verdictText(bath))),
      row(
        'resin',
        known((bath) => `${percent(bath.resinWtPct!.p50)} wt%`),
      ),
      row(
        '',
        known((bath) => `${percent(bath.resinGPerL!.p50)} g/L`),
      ),
      row(
        '',
        known((bath) => `${percent(bath.resinVolPct!.p50)} vol%`),
      ),
      row('soon / change / never', (bath) => limits(bath.limits.resin)),
      row(
        'water in solvent',
        known((bath) => `${percent(bath.waterWtPct!.p50)} wt%`),
      ),
      row('soon / change / never', (bath) => limits(bath.limits.water)),
      row('level', (bath, place) => level(bath, shop.tubs[place]!.markMl)),
      row(
        'age',
        known((bath) => `${Math.floor(bath.ageDays ?? 0)} of ${bath.limits.ageDays} days`),
      ),
      row('washes since change', (bath) => String(bath.washes)),
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

function level(bath: BathEstimate, markMl: number): string {
  return `${(bath.volumeMl.p50 / 1000).toFixed(2)} of ${volume(markMl)}`;
}

/** For a pipe: one bath a line under a head, base units. */
export function bathsRecords({ estimates }: Status): string {
  const value = (quantity: { p50: number } | null, digits: number) => quantity?.p50.toFixed(digits) ?? '';
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
    ]),
  });
}
