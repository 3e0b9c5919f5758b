/**
 * The first section of the report: both baths, the advice, the next change.
 */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Report } from '../records/report.ts';
import { adviceText } from './advice.ts';
import { basisText } from './basis.ts';
import { verdictText } from './baths.ts';
import { banded, trim, volume } from './format.ts';
import type { Fact, ReportView, Section } from './report-view.ts';
import type { Table } from './table.ts';

const MS_PER_DAY = 86_400_000;

export function bathsSection(report: Report, view: ReportView): Section {
  const { estimates, advice } = report.status;
  return {
    title: 'Baths',
    blocks: [
      { kind: 'table', table: bathsTable(estimates) },
      {
        kind: 'facts',
        facts: [
          ['advice', adviceText(advice, estimates)],
          ...nextFacts(report, view),
          ['in brackets', `5 to 95 %, nine chances in ten. ${basisText(report.status)}`],
        ],
      },
    ],
  };
}

function bathsTable(estimates: readonly BathEstimate[]): Table {
  const row = (label: string, of: (bath: BathEstimate) => string) => [label, ...estimates.map(of)];
  const known = (of: (bath: BathEstimate) => string) => (bath: BathEstimate) =>
    bath.resinWtPct === null ? '-' : of(bath);
  return {
    head: ['', ...estimates.map(({ bath }) => bath)],
    rows: [
      row('verdict', verdictText),
      row(
        'resin, wt%',
        known(({ resinWtPct }) => banded(resinWtPct!)),
      ),
      row('limits', ({ limits }) => limitsText(limits.resin)),
      row(
        'water, wt%',
        known(({ waterWtPct }) => banded(waterWtPct!)),
      ),
      row('limits', ({ limits }) => limitsText(limits.water)),
      row('level, L', ({ volumeMl }) => banded(litres(volumeMl))),
      row('mark, L', ({ markMl }) => (markMl / 1000).toFixed(2)),
      row(
        'age, days',
        known(({ ageDays, limits }) => `${Math.floor(ageDays ?? 0)} of ${limits.ageDays}`),
      ),
      row('washes', ({ washes }) => `${washes} since change`),
    ],
  };
}

function limitsText([soon, change, never]: BathEstimate['limits']['resin']): string {
  return [soon, change, never].map((limit) => trim(limit, 2)).join(' / ');
}

function litres({ p05, p50, p95 }: Quantity): Quantity {
  return p05 === undefined || p95 === undefined
    ? { p50: p50 / 1000 }
    : { p05: p05 / 1000, p50: p50 / 1000, p95: p95 / 1000 };
}

/** When the next change is due at the shop's pace; nothing where it is due already, or none is in sight. */
function nextFacts({ outlook, status, judged }: Report, view: ReportView): Fact[] {
  if (!judged || !outlook?.limit || !outlook.days || outlook.past) return [];
  const { days, limit, change } = outlook;
  const date = (value: number) => view.day(status.clockMs + value * MS_PER_DAY);
  const { p05 = days.p50, p50, p95 = days.p50 } = days;
  const { limits } = status.shop.tubs[status.shop.tubPlace.get(limit.bath)!]!;
  const met =
    limit.what === 'level'
      ? `the ${limit.bath} bath runs dry`
      : `the ${limit.bath} bath reaches ${trim(limits[limit.what][1], 2)} wt% ${limit.what}`;
  const takes = change ? `; the change takes ${volume(change.solventMl)}` : '';
  return [
    [
      'next change',
      `${date(p50)} (${date(p05)} to ${date(p95)}): ${met}, at the recent pace and if nothing is topped up${takes}`,
    ],
  ];
}
