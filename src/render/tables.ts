/** Words and rows of the published tables and of strengths; used by `tables` and `strength`. */
import type { SgReference } from '../substance/hydrometer.ts';
import type { Flag } from '../substance/published.ts';
import type { Instruments, Reading, Strength, TableAnswer } from '../substance/strength.ts';
import { type Line, labelled } from './echo.ts';
import type { Paint } from './paint.ts';
import type { Table } from './table.ts';

const FLAG_WORDS: Record<Flag, string> = {
  column_bias: 'its whole column is off',
  reads_high: 'reads high',
  rounded: 'rounded',
};

/** What each table says, and how far that is from the model. */
export function answerTable(tables: readonly TableAnswer[], kind: Reading['kind']): Table {
  const asked = kind === 'wt' || kind === 'vol';
  const number = (value: number, digits: number) => value.toFixed(digits);
  return {
    head: ['table', asked ? 'g/mL' : 'wt%', 'minus model', ''],
    right: [1, 2],
    rows: tables.map(({ source, wtPct, value, difference, flags }) => [
      source,
      asked ? number(value, 4) : number(wtPct, 1),
      difference === null ? '-' : signed(difference, asked ? 4 : 1),
      flags.map((flag) => FLAG_WORDS[flag]).join(', '),
    ]),
  };
}

function signed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  if (Number(text) === 0) return text.replace('-', '');
  return value > 0 ? `+${text}` : text;
}

/** The strength in words: a value with its deviation, or a range. */
export function strengthWords({ wtPct, lowWtPct, highWtPct }: Strength): string {
  if (wtPct === null) return `${lowWtPct.toFixed(0)}–${highWtPct.toFixed(0)} wt%`;
  if (lowWtPct === highWtPct) return `${Number(wtPct.toFixed(2))} wt%`;
  return `${wtPct.toFixed(1)} wt% (${lowWtPct.toFixed(1)}–${highWtPct.toFixed(1)})`;
}

/** What was understood of a reading. */
export function readingWords({ kind, value: number, lastDigit, tempC, reference, glassC }: Reading): string {
  const value = lastDigit === undefined ? number : number.toFixed(Math.round(-Math.log10(lastDigit)));
  const what = {
    density: `density ${value} g/mL`,
    sg: `SG ${value} on the ${reference} scale`,
    index: `refractive index ${value}`,
    wt: `${value} wt%`,
    vol: `${value} vol% at 20 °C`,
  }[kind];
  const glass = glassC === undefined ? '' : `, glass made for ${Number(glassC.toFixed(1))} °C`;
  return `${what}, liquid at ${Number(tempC.toFixed(1))} °C${glass}`;
}

/** What instruments read in a liquid of the strength. */
export function instrumentLines(at: Instruments, tempC: number): Line[] {
  const sg = (Object.entries(at.sg) as [SgReference, number][]).map(
    ([scale, value]) => `${scale} ${value.toFixed(4)}`,
  );
  const here = tempC === 20 ? '' : `, ${at.density.toFixed(4)} at ${Number(tempC.toFixed(1))} °C`;
  return [
    ['by volume', `${at.volPct.toFixed(1)} vol% at 20 °C`],
    ['density', `${at.density20.toFixed(4)} g/mL at 20 °C${here}`],
    ['SG', sg.join(', ')],
    ['index', `${at.index.toFixed(4)} at ${Number(tempC.toFixed(1))} °C`],
  ];
}

/** Labelled lines for people, or one tab-separated record a line. */
export function told(
  lines: readonly Line[],
  view: { paint: Paint; width: number; onTerminal: boolean },
): string {
  if (view.onTerminal) return labelled(lines, view);
  return lines.map(([label, text]) => `${label || 'note'}\t${text}`).join('\n');
}

/** The tables in JSON. */
function answersDocument(tables: readonly TableAnswer[], kind: Reading['kind']): Record<string, unknown>[] {
  const asked = kind === 'wt' || kind === 'vol';
  return tables.map(({ source, wtPct, value, difference, flags }) => ({
    source,
    ipa_wt_pct: wtPct,
    ...(kind === 'index' ? { refractive_index: value } : { density_g_ml: value }),
    [asked ? 'less_model_g_ml' : 'less_model_wt_pct']: difference,
    flags,
  }));
}

/** What was read, and the strength, in JSON. */
export function strengthDocument(
  reading: Reading,
  found: Strength,
  at: Instruments | null,
): Record<string, unknown> {
  return {
    reading: {
      kind: reading.kind,
      value: reading.value,
      temp_c: reading.tempC,
      sg_ref: reading.reference ?? null,
      glass_c: reading.glassC ?? null,
    },
    basis: found.basis,
    ipa_wt_pct: found.wtPct,
    ipa_wt_pct_low: found.lowWtPct,
    ipa_wt_pct_high: found.highWtPct,
    ipa_vol_pct: at?.volPct ?? null,
    density_g_ml: found.density ?? at?.density ?? null,
    density_20c_g_ml: at?.density20 ?? null,
    refractive_index: at?.index ?? null,
    sg: at?.sg ?? null,
    tables: answersDocument(found.tables, reading.kind),
  };
}
