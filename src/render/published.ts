/** The published densities side by side, in coarse steps. */
import { mixtureDensity, volumeFraction } from '../substance/mixture.ts';
import { columnsAt, DENSITY_COLUMNS, valueAt } from '../substance/published.ts';
import type { Table } from './table.ts';

const STEPS_WT = [0, 10, 20, 30, 40, 50, 60, 65, 70, 75, 80, 85, 88, 91, 95, 99, 100];

export interface PublishedRow {
  wtPct: number;
  volPct: number | null;
  model: number | null;
  tables: Record<string, number | null>;
}

/** Densities in g/mL at a temperature: the model from 40 wt% up, and each table between its own rows. */
export function publishedRows(tempC: number): PublishedRow[] {
  const columns = columnsAt(DENSITY_COLUMNS, tempC);
  return STEPS_WT.map((wtPct) => {
    const modelled = wtPct >= 40;
    return {
      wtPct,
      volPct: modelled ? volumeFraction(wtPct / 100, 20) * 100 : null,
      model: modelled ? mixtureDensity(wtPct / 100, tempC) : null,
      tables: Object.fromEntries(columns.map((column) => [column.source, valueAt(column, wtPct)])),
    };
  });
}

/** Published densities side by side, a column a source. */
export function publishedTable(rows: readonly PublishedRow[]): Table {
  const sources = Object.keys(rows[0]?.tables ?? {});
  const density = (value: number | null) => value?.toFixed(4) ?? '-';
  return {
    head: ['wt%', 'vol%', 'model', ...sources],
    right: [0, 1, 2, ...sources.map((_, column) => column + 3)],
    rows: rows.map(({ wtPct, volPct, model, tables }) => [
      String(wtPct),
      volPct?.toFixed(1) ?? '-',
      density(model),
      ...sources.map((source) => density(tables[source]!)),
    ]),
  };
}
