/**
 * The formulas against every row of data/ they cover. The bounds are what data/SOURCES.md says of each source, in kg/m³
 * for densities; rows that page suspects are left out, and checked to be as far off as it says.
 */
import { describe, expect, it } from 'vitest';
import { ipaDensity, ipaVapourPressurePa } from '../../src/substance/isopropanol.ts';
import { mixtureDensityUnchecked } from '../../src/substance/mixture.ts';
import { solventIndex } from '../../src/substance/refraction.ts';
import { solventViscosity } from '../../src/substance/viscosity.ts';
import { waterDensity } from '../../src/substance/water.ts';
import { dataRows } from './data-rows.ts';
import type { Row } from './table.ts';

/** Half a unit in the last digit of the bounds. */
const ROUNDING = 0.005;

const of = (row: Row, column: string) => Number(row[column]);
const fraction = (row: Row) => of(row, 'wt_pct_ipa') / 100;
const temp = (row: Row) => of(row, 'temp_C');
const rms = (values: number[]) =>
  Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);
const most = (values: number[]) => Math.max(...values.map(Math.abs));

describe('ipa_water_density.csv', () => {
  const rows = dataRows('ipa_water_density.csv');
  // The suspects of ICT1928 are misprints of 3e-4, and counted in what is stated of it.
  const misses = (source: string, tempC: number, from = 40) =>
    rows
      .filter(
        (row) =>
          row.source === source &&
          temp(row) === tempC &&
          of(row, 'wt_pct_ipa') >= from &&
          (row.flag !== 'suspect' || source === 'ICT1928'),
      )
      .map((row) => 1000 * (of(row, 'density_g_per_mL') - mixtureDensityUnchecked(fraction(row), tempC)));

  // Source, °C, from wt%, number of rows, rms and greatest deviation as SOURCES.md states them.
  it.each([
    ['CHU1962', 25, 40, 6, 0.3, 0.42],
    ['GONZALEZ2008', 25, 40, 10, 0.19, 0.26],
    ['JCED2012', 25, 60, 9, 0.09, 0.12],
    ['ZAREI2008', 20, 40, 11, 0.37, 0.64],
    ['ZAREI2008', 50, 40, 11, 0.33, 0.7],
    ['FPE2013', 40, 40, 4, 0.5, 0.95],
    ['ICT1928', 30, 40, 61, 0.43, 0.59],
    ['ICT1928', 20, 40, 61, 1.0, 1.88],
  ] as const)('%s at %i °C', (source, tempC, from, count, statedRms, statedMost) => {
    const found = misses(source, tempC, from);
    expect(found).toHaveLength(count);
    expect(rms(found)).toBeLessThanOrEqual(statedRms + ROUNDING);
    expect(most(found)).toBeLessThanOrEqual(statedMost + ROUNDING);
  });

  it('CRC102, of the same parents as ICT1928 at 20 °C, lies as near', () => {
    expect(misses('CRC102', 20)).toHaveLength(4);
    expect(most(misses('CRC102', 20))).toBeLessThanOrEqual(1.88);
  });

  it('LEBO1921 lies within the scatter of 1e-3 of its raw points and the bias of its smoothed ones', () => {
    expect(rms(misses('LEBO1921', 20))).toBeLessThanOrEqual(1);
    expect(most(misses('LEBO1921S', 20))).toBeLessThanOrEqual(1.88);
  });

  it('ICT1928 at 20 °C leans as its flag says: heavy near 40 wt%, light near 85', () => {
    const at = (wtPct: number) => {
      const row = rows.find(
        (one) => one.source === 'ICT1928' && temp(one) === 20 && of(one, 'wt_pct_ipa') === wtPct,
      )!;
      return 1000 * (of(row, 'density_g_per_mL') - mixtureDensityUnchecked(wtPct / 100, 20));
    };
    // +1.9 at 40, –0.7 at 70, –1.4 at 85–90: SOURCES.md
    expect(at(40)).toBeCloseTo(1.9, 1);
    expect(at(70)).toBeCloseTo(-0.7, 1);
    expect(at(87)).toBeCloseTo(-1.4, 0);
  });

  it('the suspect rows of JCED2012 above 40 wt% are lighter than any row that is not', () => {
    const suspects = rows.filter(
      (row) => row.source === 'JCED2012' && row.flag === 'suspect' && fraction(row) >= 0.4,
    );
    expect(suspects).toHaveLength(2);
    for (const row of suspects) {
      const off = 1000 * (of(row, 'density_g_per_mL') - mixtureDensityUnchecked(fraction(row), 25));
      expect(off).toBeLessThan(
        -Math.max(...['CHU1962', 'GONZALEZ2008'].map((source) => most(misses(source, 25)))),
      );
    }
  });
});

describe('ipa_density.csv', () => {
  const rows = dataRows('ipa_density.csv');
  const inFit = ['DAOUDI2012', 'ILOUKHANI2009', 'JCT2018', 'JCT2019A', 'ZAREI2008'];
  const misses = (chosen: Row[]) =>
    chosen.map((row) => 1000 * (of(row, 'density_g_per_mL') - ipaDensity(temp(row))));

  it('its five sources of the fit: rms 0.06, at most 0.11 kg/m³', () => {
    const found = misses(rows.filter(({ source }) => inFit.includes(source!)));
    expect(found.length).toBeGreaterThanOrEqual(20);
    expect(rms(found)).toBeLessThanOrEqual(0.06 + ROUNDING);
    expect(most(found)).toBeLessThanOrEqual(0.11 + ROUNDING);
  });

  it('the other measurements at 15–40 °C lie within 0.4 kg/m³: traces of water', () => {
    const others = rows.filter(({ source, kind }) => kind === 'table' && !inFit.includes(source!));
    const inRange = others.filter((row) => temp(row) >= 15 && temp(row) <= 40);
    expect(inRange.length).toBeGreaterThanOrEqual(15);
    expect(most(misses(inRange))).toBeLessThanOrEqual(0.4);
  });

  it('FITQUAD is the formula itself, to its last digit', () => {
    expect(most(misses(rows.filter(({ source }) => source === 'FITQUAD')))).toBeLessThanOrEqual(0.0006);
  });

  it('engineering correlations read high between 10 and 30 °C', () => {
    const high = rows
      .filter(({ flag }) => flag === 'reads_high')
      .filter((row) => temp(row) >= 10 && temp(row) <= 30);
    expect(Math.min(...misses(high))).toBeGreaterThan(0.1);
    expect(Math.max(...misses(high))).toBeLessThanOrEqual(3.75);
  });
});

describe('water_density.csv', () => {
  const rows = dataRows('water_density.csv');
  const misses = (source: string) =>
    rows
      .filter((row) => row.source === source)
      .map((row) => 1000 * (of(row, 'density_g_per_mL') - waterDensity(temp(row))));

  it('TANAKA2001 is the formula itself; KELL1975 differs by at most 0.003, CRCOLD by 0.02–0.03 kg/m³', () => {
    expect(most(misses('TANAKA2001'))).toBeLessThanOrEqual(0.00051 + 0.0005);
    expect(most(misses('KELL1975'))).toBeLessThanOrEqual(0.003 + 0.001);
    expect(most(misses('CRCOLD'))).toBeLessThanOrEqual(0.035);
  });
});

describe('vapour_pressure.csv', () => {
  const rows = dataRows('vapour_pressure.csv');
  const ratios = (source: string, from: number, to: number) =>
    rows
      .filter((row) => row.source === source && temp(row) >= from && temp(row) <= to)
      .map((row) => of(row, 'pressure_Pa') / ipaVapourPressurePa(temp(row)) - 1);

  it('POLING is the formula itself', () => {
    expect(most(ratios('POLING', 10, 40))).toBeLessThanOrEqual(2e-5);
  });

  // How the others lie to it at 20–25 °C, per cent: SOURCES.md.
  it.each([
    ['PERRY101', -0.65, 0.15],
    ['DB101', 0, 0.15],
    ['NSRDS', 0.85, 0.95],
    ['POLINGW25', -5, -3.5],
    ['MCGARRY', -5, -3.5],
    ['VDIW', -5, -3.5],
    ['NIOSH0359', -1.6, 1.6],
    ['HSDB', -0.2, 0.2],
  ] as const)('%s lies %f to %f %% off at 20–25 °C', (source, low, high) => {
    const found = ratios(source, 20, 25);
    expect(found.length).toBeGreaterThan(0);
    for (const ratio of found) {
      expect(100 * ratio).toBeGreaterThanOrEqual(low);
      expect(100 * ratio).toBeLessThanOrEqual(high);
    }
  });

  it('STULL1947, pushed below its range, is 6.6 % low at 20 °C and not what the program uses', () => {
    expect(ratios('STULL1947', 20, 20)[0]).toBeCloseTo(-0.066, 3);
  });
});

describe('viscosity.csv', () => {
  const rows = dataRows('viscosity.csv').filter((row) => temp(row) >= 15);
  const misses = (chosen: Row[]) =>
    chosen.map((row) => solventViscosity(fraction(row), temp(row)) / of(row, 'viscosity_mPa_s') - 1);

  it('dry isopropanol within 3 % at 15–35 °C and 4 % at 40', () => {
    const dry = rows.filter((row) => fraction(row) === 1);
    expect(dry.length).toBeGreaterThanOrEqual(20);
    expect(most(misses(dry.filter((row) => temp(row) <= 35)))).toBeLessThanOrEqual(0.03);
    expect(most(misses(dry.filter((row) => temp(row) > 35)))).toBeLessThanOrEqual(0.04);
  });

  it('mixtures at 25 °C, GONZALEZ2008, within 3 %', () => {
    const found = rows.filter((row) => row.source === 'GONZALEZ2008' && fraction(row) >= 0.4);
    expect(found).toHaveLength(7);
    expect(most(misses(found))).toBeLessThanOrEqual(0.03);
  });

  it('mixtures at 20–40 °C, PANG2007P, within the deviation that the formula states', () => {
    const found = rows.filter((row) => row.source === 'PANG2007P' && fraction(row) >= 0.4);
    expect(found).toHaveLength(45);
    for (const [tempC, share] of [
      [20, 0.05],
      [25, 0.05],
      [30, 0.07],
      [35, 0.13],
      [40, 0.13],
    ] as const) {
      expect(most(misses(found.filter((row) => temp(row) === tempC)))).toBeLessThanOrEqual(share);
    }
  });
});

describe('refractive_index.csv', () => {
  const rows = dataRows('refractive_index.csv').filter((row) => fraction(row) >= 0.399 && temp(row) <= 40);
  const misses = (chosen: Row[]) =>
    chosen.map((row) => of(row, 'refractive_index_nD') - solventIndex(fraction(row), temp(row)));

  it('CHU1962 and the measurements of dry isopropanol within 0.0006', () => {
    const others = ['CRC102', 'HERRAEZ2006P'];
    const found = rows.filter(({ source }) => !others.includes(source!));
    expect(found.length).toBeGreaterThanOrEqual(15);
    expect(most(misses(found.filter((row) => temp(row) <= 25)))).toBeLessThanOrEqual(0.00061);
    expect(most(misses(found.filter((row) => temp(row) > 25)))).toBeLessThanOrEqual(0.001);
  });

  it('CRC102 within 0.0006 but for its suspect row, which is 0.002 low', () => {
    const crc = rows.filter(({ source }) => source === 'CRC102');
    expect(most(misses(crc.filter(({ flag }) => flag !== 'suspect')))).toBeLessThanOrEqual(0.00061);
    expect(misses(crc.filter(({ flag }) => flag === 'suspect'))[0]).toBeCloseTo(-0.002, 3);
  });

  it('HERRAEZ2006P reads 0.0007 to 0.0012 high from 40 wt% up', () => {
    const found = misses(rows.filter(({ source }) => source === 'HERRAEZ2006P'));
    expect(found).toHaveLength(9);
    expect(Math.min(...found)).toBeGreaterThan(0.0004);
    expect(Math.max(...found)).toBeLessThanOrEqual(0.0014);
  });
});
