/** A shop at one moment as metrics, in base units: litres, grams, seconds, ratios. */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Outlook } from '../outlook/outlook.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Status } from '../outlook/status.ts';
import { VERDICTS } from '../outlook/verdict.ts';
import type { Stock } from '../records/stock.ts';
import type { Waste } from '../records/waste.ts';
import { type MetricFamily, stateSamples } from './openmetrics.ts';

export interface Measured {
  status: Status;
  outlook: Outlook | null;
  stock: readonly Stock[];
  waste: Waste;
  /** The start of the month of the clock, in the shop's zone. */
  monthStartMs: number;
  lastEventMs: number | null;
  events: number;
  /** Every event can have happened, and no bath is empty or beyond the data. */
  judged: boolean;
  versions: { program: string; model: string };
}

type Labels = Readonly<Record<string, string>>;
type Samples = MetricFamily['samples'];

const SECONDS_PER_DAY = 86_400;

export function metricFamilies(on: Measured): MetricFamily[] {
  return [...ledgerFamilies(on), ...bathFamilies(on.status), ...aheadFamilies(on), ...recordFamilies(on)];
}

function ledgerFamilies({ status, lastEventMs, events, judged, versions }: Measured): MetricFamily[] {
  return [
    {
      name: 'bathbook_build',
      type: 'info',
      help: 'Versions of the program and of its equations.',
      samples: [{ labels: { version: versions.program, model: versions.model }, value: 1 }],
    },
    gauge('bathbook_as_of_timestamp', 'seconds', 'The moment these metrics are of.', [
      { value: Math.floor(status.clockMs / 1000) },
    ]),
    gauge(
      'bathbook_last_event_timestamp',
      'seconds',
      'When the latest event that counts happened.',
      lastEventMs === null ? [] : [{ value: Math.floor(lastEventMs / 1000) }],
    ),
    gauge('bathbook_events', undefined, 'Events that count.', [{ value: events }]),
    gauge(
      'bathbook_judged',
      undefined,
      '0 where a bath is empty or beyond the data, or the ledger is at odds.',
      [{ value: judged ? 1 : 0 }],
    ),
  ];
}

function bathFamilies({ estimates }: Status): MetricFamily[] {
  const each = (of: (bath: BathEstimate) => Quantity | null, factor: number): Samples =>
    estimates.flatMap((bath) => banded({ bath: bath.bath }, of(bath), factor));
  const one = (of: (bath: BathEstimate) => number | null): Samples =>
    estimates.flatMap((bath) => {
      const value = of(bath);
      return value === null ? [] : [{ labels: { bath: bath.bath }, value }];
    });
  return [
    gauge(
      'bathbook_bath_resin',
      'ratio',
      'Estimated mass fraction of resin.',
      each((bath) => bath.resinWtPct, 0.01),
    ),
    gauge(
      'bathbook_bath_resin_limit',
      'ratio',
      'Limits of the mass fraction of resin.',
      estimates.flatMap(({ bath, limits }) => limitSamples(bath, limits.resin)),
    ),
    gauge(
      'bathbook_bath_water',
      'ratio',
      'Estimated mass fraction of water in the solvent, resin left out.',
      each((bath) => bath.waterWtPct, 0.01),
    ),
    gauge(
      'bathbook_bath_volume',
      'liters',
      'Estimated volume at 20 °C.',
      each((bath) => bath.volumeMl, 0.001),
    ),
    gauge(
      'bathbook_bath_resin',
      'grams',
      'Estimated mass of resin.',
      each((bath) => bath.resinG, 1),
    ),
    gauge(
      'bathbook_bath_washes',
      undefined,
      'Washes since the bath was changed.',
      one(({ washes }) => washes),
    ),
    gauge(
      'bathbook_bath_age',
      'seconds',
      'Since the oldest solvent in the bath was poured.',
      one(({ ageDays }) => (ageDays === null ? null : ageDays * SECONDS_PER_DAY)),
    ),
    {
      name: 'bathbook_bath_verdict',
      type: 'stateset',
      help: 'What to make of the bath.',
      samples: estimates.flatMap(({ bath, verdict }) =>
        stateSamples('bathbook_bath_verdict', VERDICTS, { is: verdict, labels: { bath } }),
      ),
    },
  ];
}

function aheadFamilies({ status: { left }, outlook }: Measured): MetricFamily[] {
  const loads = left && {
    p50: left.loads,
    ...(left.p05 === undefined || left.p95 === undefined ? {} : { p05: left.p05, p95: left.p95 }),
  };
  return [
    gauge('bathbook_loads_left', undefined, 'Loads until the first limit is met.', banded({}, loads, 1)),
    gauge(
      'bathbook_until_limit',
      'seconds',
      "Time until the first limit is met, at the shop's pace.",
      banded({}, outlook?.days ?? null, SECONDS_PER_DAY),
    ),
  ];
}

function recordFamilies({ stock, waste, monthStartMs }: Measured): MetricFamily[] {
  const month = waste.months.find((one) => one.monthStartMs === monthStartMs);
  const open = waste.containers.filter(({ closed }) => closed === null);
  const held = (of: (one: (typeof open)[number]) => number): Samples =>
    open.map((one) => ({ labels: { container: one.container ?? '' }, value: of(one) }));
  return [
    gauge(
      'bathbook_stock',
      'liters',
      'Solvent on hand; below 0 where a receipt is missing.',
      stock.flatMap(({ solvent, onHandMl }) =>
        onHandMl === null ? [] : [{ labels: { solvent }, value: onHandMl / 1000 }],
      ),
    ),
    gauge(
      'bathbook_waste_held',
      'liters',
      'Waste in containers that are in use; without a container where none was named.',
      held(({ heldMl }) => heldMl / 1000),
    ),
    gauge(
      'bathbook_waste_held',
      'grams',
      'The same by mass.',
      held(({ grams }) => grams.resin + grams.ipa + grams.water),
    ),
    gauge('bathbook_waste_this_month', 'liters', 'Liquid drained to waste this calendar month.', [
      { value: month?.litres ?? 0 },
    ]),
    gauge('bathbook_waste_this_month', 'grams', 'Liquid and tray resin to waste this calendar month.', [
      { value: (month?.kg ?? 0) * 1000 },
    ]),
  ];
}

/** The unit ends the name. */
function gauge(stem: string, unit: string | undefined, help: string, samples: Samples): MetricFamily {
  return unit === undefined
    ? { name: stem, type: 'gauge', help, samples }
    : { name: `${stem}_${unit}`, type: 'gauge', unit, help, samples };
}

/** The best estimate and, where there is a band, its ends. */
function banded(labels: Labels, quantity: Quantity | null, factor: number): Samples {
  if (quantity === null) return [];
  return (['p05', 'p50', 'p95'] as const).flatMap((estimate) => {
    const value = quantity[estimate];
    return value === undefined ? [] : [{ labels: { ...labels, estimate }, value: value * factor }];
  });
}

function limitSamples(bath: string, limits: readonly [number, number, number]): Samples {
  return (['soon', 'change', 'never'] as const).map((limit, place) => ({
    labels: { bath, limit },
    value: limits[place]! / 100,
  }));
}
