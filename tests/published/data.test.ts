/** The tables of data/: every row names a source that data/SOURCES.md defines, and every number is one. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { defined, mentioned, SOURCES_TEXT } from './sources.ts';
import { type Row, readTable } from './table.ts';

const DATA = new URL('../../data/', import.meta.url);
const SOURCE = new URL('../../src/', import.meta.url);

/** Columns that hold numbers, with the range a slip of the decimal point would leave; `?` allows an empty field. */
const NUMBERS: Record<string, Record<string, [number, number, '?'?]>> = {
  ipa_water_density: { temp_C: [0, 60], wt_pct_ipa: [0, 100], density_g_per_mL: [0.74, 1.001] },
  ipa_density: { temp_C: [0, 60], density_g_per_mL: [0.74, 0.81] },
  water_density: { temp_C: [0, 60], density_g_per_mL: [0.98, 1.0001] },
  viscosity: { temp_C: [0, 60], wt_pct_ipa: [0, 100], viscosity_mPa_s: [0.5, 6] },
  refractive_index: { temp_C: [0, 60], wt_pct_ipa: [0, 100], refractive_index_nD: [1.33, 1.38] },
  vapour_pressure: { temp_C: [0, 90], pressure_Pa: [1000, 110_000], pressure_mmHg: [8, 820] },
  surface_tension: { temp_C: [0, 60], wt_pct_ipa: [0, 100], surface_tension_mN_per_m: [19, 76] },
  dragout_table: {
    low_gal_per_1000ft2: [0.1, 30, '?'],
    high_gal_per_1000ft2: [0.1, 30, '?'],
    low_mL_per_m2_equals_um: [1, 1000],
    high_mL_per_m2_equals_um: [1, 1000],
    low_mL_per_100cm2: [0.01, 10],
    high_mL_per_100cm2: [0.01, 10],
  },
  limits: {},
};
/** Every word that a flag or kind may be, defined in data/SOURCES.md under "How to read this page". */
const WORD_COLUMNS = ['flag', 'kind', 'range_of_validity', 'status'];
const tables = readdirSync(DATA).filter((name) => name.endsWith('.csv'));
const rowsOf = (name: string): Row[] => readTable(`../../data/${name}`);

describe('data/*.csv', () => {
  it('are the tables known here', () => {
    expect(tables.toSorted()).toEqual(
      Object.keys(NUMBERS)
        .map((name) => `${name}.csv`)
        .toSorted(),
    );
  });

  it.each(tables)('%s: each row has a source that SOURCES.md defines', (name) => {
    const rows = rowsOf(name);
    expect(rows.length).toBeGreaterThan(5);
    expect(rows.map((row) => row.source!).filter((id) => !defined.has(id))).toEqual([]);
  });

  it.each(tables)('%s: each number is one, inside its range', (name) => {
    const wrong = Object.entries(NUMBERS[name.slice(0, -4)]!).flatMap(([column, [low, high, mayBeEmpty]]) =>
      rowsOf(name)
        .map((row) => row[column]!)
        .filter((text) => !(mayBeEmpty && text === ''))
        .filter((text) => !/^\d+(\.\d+)?$/.test(text) || Number(text) < low || Number(text) > high)
        .map((text) => `${column} ${text}`),
    );
    expect(wrong).toEqual([]);
  });

  it.each(tables)('%s: each flag, kind and status is explained', (name) => {
    const explained = SOURCES_TEXT.slice(0, SOURCES_TEXT.indexOf('## The tables'));
    const words = rowsOf(name).flatMap((row) => WORD_COLUMNS.map((column) => row[column] ?? ''));
    expect(
      [...new Set(words)].filter(
        (word) => word !== '' && !new RegExp(`^\\|.*\\b${word}\\b.*\\|.*\\|$`, 'm').test(explained),
      ),
    ).toEqual([]);
  });

  it('gives pressures alike in Pa and mmHg (1 mmHg = 133.322 Pa, definition)', () => {
    const apart = rowsOf('vapour_pressure.csv').filter(
      (row) => Math.abs(Number(row.pressure_Pa) / (Number(row.pressure_mmHg) * 133.322) - 1) > 0.001,
    );
    expect(apart).toEqual([]);
  });

  it('gives drag-out alike in its three units (1 US gal/1000 ft² = 40.746 mL/m², definition)', () => {
    for (const row of rowsOf('dragout_table.csv')) {
      for (const end of ['low', 'high']) {
        const perM2 = Number(row[`${end}_mL_per_m2_equals_um`]);
        expect(Number(row[`${end}_mL_per_100cm2`])).toBeCloseTo(perM2 / 100, 2);
        const gallons = row[`${end}_gal_per_1000ft2`]!;
        if (gallons !== '') expect(perM2 / (Number(gallons) * 40.746)).toBeCloseTo(1, 2);
      }
    }
  });
});

describe('SOURCES.md', () => {
  it('defines no id twice, each with a letter for confidence', () => {
    const lines = SOURCES_TEXT.split('\n').filter((line) => line.startsWith('- **'));
    expect(lines.filter((line) => !/^- \*\*[^*]+\*\* · ([A-D]|–)[^·]* · ./.test(line))).toEqual([]);
    const ids = lines.flatMap(mentioned);
    expect(ids.filter((id, place) => ids.indexOf(id) !== place)).toEqual([]);
    expect(ids.length).toBeGreaterThan(100);
  });

  it('defines the sources of the check tables', () => {
    const unknown = readdirSync(new URL('.', import.meta.url))
      .filter((name) => name.endsWith('.csv'))
      .flatMap((name) =>
        readTable(name).flatMap((row) =>
          (row.source ?? '')
            .split(';')
            .filter((id) => id !== '' && !defined.has(id))
            .map((id) => `${name}: ${id}`),
        ),
      );
    expect([...new Set(unknown)]).toEqual([]);
  });

  it('defines the sources that the formulas cite with @see', () => {
    const cited = (readdirSync(SOURCE, { recursive: true }) as string[])
      .filter((name) => name.endsWith('.ts'))
      .flatMap((name) => [...readFileSync(new URL(name, SOURCE), 'utf8').matchAll(/@see (.+)$/gm)])
      .flatMap(([, text]) => text!.match(/\b[A-Z][A-Z0-9]{3,}\b/g) ?? []);
    expect(cited).toContain('TANAKA2001');
    expect([...new Set(cited)].filter((id) => !defined.has(id))).toEqual([]);
  });
});
