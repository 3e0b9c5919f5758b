/** `export openmetrics` and `export prometheus`: the shop at this moment for a monitoring system. */

import { stockOf } from '../records/stock.ts';
import { wasteOf } from '../records/waste.ts';
import { MODEL_VERSION } from '../render/json.ts';
import { type MetricFamily, openMetrics, textMetrics } from '../render/openmetrics.ts';
import { metricFamilies } from '../render/openmetrics-families.ts';
import { aheadOf, lookAhead } from './ahead.ts';
import type { Context } from './context.ts';
import { LEAD_DAYS } from './days.ts';
import type { Options } from './definition.ts';
import { isJudged } from './due.ts';
import type { Exported } from './export-out.ts';
import { monthStarts } from './report-clock.ts';
import { tellRefused } from './tell.ts';
import { VERSION } from './version.ts';

export async function exportOpenMetrics(_options: Options, context: Context): Promise<Exported> {
  return metricsOf(context, 'openmetrics', openMetrics);
}

export async function exportTextMetrics(_options: Options, context: Context): Promise<Exported> {
  return metricsOf(context, 'prometheus', textMetrics);
}

async function metricsOf(
  context: Context,
  format: string,
  write: (families: readonly MetricFamily[]) => string,
): Promise<Exported> {
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const ahead = aheadOf(opened);
  const { status, movements, pace } = ahead;
  await tellRefused(context, opened, status.replayed.refused);
  const monthStartOf = monthStarts();
  const families = metricFamilies({
    status,
    outlook: pace ? lookAhead(ahead, opened, { pace, leadDays: LEAD_DAYS }).outlook : null,
    stock: stockOf(shop, settled.entries, movements, clockMs),
    waste: wasteOf(settled.entries, movements, clockMs, monthStartOf),
    monthStartMs: monthStartOf(clockMs),
    lastEventMs: settled.entries.at(-1)?.atMs ?? null,
    events: settled.entries.length,
    judged: isJudged(status),
    versions: { program: VERSION, model: MODEL_VERSION },
  });
  return { clockMs, text: () => write(families), data: () => ({ format, metrics: families }) };
}
