/** Both baths right after each event, one row an event. */
import { figuresOf } from '../bath/figures.ts';
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { believe } from '../belief/believe.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Entry } from '../ledger/event.ts';
import { bandsOf } from '../outlook/estimate.ts';
import type { Value } from './cell.ts';
import { type ExchangeTable, estimate } from './table.ts';

/** Of each bath; grams, mL at 20 °C, per cent. Water is that in the solvent, resin left out. */
const FIGURES = {
  volume_ml: 'volumeMl',
  resin_g: 'resinG',
  ipa_g: 'ipaG',
  water_g: 'waterG',
  resin_wt_pct: 'resinWtPct',
  resin_g_per_l: 'resinGPerL',
  resin_vol_pct: 'resinVolPct',
  water_wt_pct: 'waterWtPct',
} as const;
/** Those that come with the 5 and 95 % points, where bands are asked for. */
const BANDED = ['volume_ml', 'resin_wt_pct', 'water_wt_pct'] as const;

/** At best estimate; with `bands`, which take about a millisecond an event, the 5 and 95 % points as well. */
export function statesTable(
  shop: Shop,
  entries: readonly Entry[],
  on: { clockMs: number; wanted(entry: Entry): boolean; bands: boolean },
): { table: ExchangeTable; refused: ReturnType<typeof believe>['replayed']['refused'] } {
  const rows: Record<string, Value>[] = [];
  const { replayed } = believe(shop, entries, on.clockMs, {
    watchRecords: true,
    watch: (step, { ensemble }) => {
      if (on.wanted(step.entry)) rows.push(stateRow(step, shop, on.bands ? ensemble : undefined));
    },
  });
  return { table: { columns: columnsOf(shop, on.bands), rows }, refused: replayed.refused };
}

function columnsOf(shop: Shop, bands: boolean): string[] {
  const banded: readonly string[] = bands ? BANDED : [];
  const figures = Object.keys(FIGURES).flatMap((name) =>
    banded.includes(name) ? [name, `${name}_p05`, `${name}_p95`] : [name],
  );
  return ['id', 'at', 'what', ...shop.tubs.flatMap(({ name }) => figures.map((one) => `${name}_${one}`))];
}

function stateRow({ entry, baths }: Step, shop: Shop, ensemble: Ensemble | undefined): Record<string, Value> {
  const { id, at, what } = entry.event;
  const row: Record<string, Value> = { id, at, what };
  const seen = ensemble?.at(entry.atMs);
  shop.tubs.forEach(({ name }, place) => {
    const bath = baths[place]!;
    const figures = figuresOf(bath, shop.resins, shop.roomC);
    for (const [column, key] of Object.entries(FIGURES)) row[`${name}_${column}`] = estimate(figures[key]);
    const bands = seen && bandsOf(shop, bath, place, seen);
    for (const column of bands ? BANDED : []) {
      const band = bands![FIGURES[column]];
      row[`${name}_${column}_p05`] = estimate(band?.p05);
      row[`${name}_${column}_p95`] = estimate(band?.p95);
    }
  });
  return row;
}
