import { didYouMean } from '../ledger/near.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { type Exported, putOut } from './export-out.ts';
import { usage } from './fault.ts';

type Exporter = (options: Options, context: Context) => Promise<Exported>;

const FORMATS: Record<string, () => Promise<Exporter>> = {
  csv: async () => (await import('./export-csv.ts')).exportCsv,
  ndjson: async () => (await import('./export-events.ts')).exportNdjson,
  html: async () => (await import('./export-html.ts')).exportHtml,
  ics: async () => (await import('./export-ics.ts')).exportIcs,
  openmetrics: async () => (await import('./export-metrics.ts')).exportOpenMetrics,
  prometheus: async () => (await import('./export-metrics.ts')).exportTextMetrics,
};

/** Formats that a part of the ledger can be put into. */
const FILTERED = ['csv', 'ndjson', 'html'];

/** Options that only some formats have a use for; given with another they would be passed over in silence. */
const ONLY_FOR: Record<string, readonly string[]> = {
  what: ['csv', 'html'],
  bands: ['csv'],
  from: FILTERED,
  to: FILTERED,
  case: FILTERED,
  lot: FILTERED,
  by: FILTERED,
  lead: ['ics'],
  reading: ['ics'],
};

/** `export`: the ledger for other programs. */
export async function run([typed = '']: string[], options: Options, context: Context): Promise<number> {
  const format = typed.toLowerCase();
  const load = Object.hasOwn(FORMATS, format) ? FORMATS[format] : undefined;
  if (!load) {
    const names = Object.keys(FORMATS);
    throw usage(
      `Cannot export "${typed}"`,
      `${didYouMean(typed, names) ?? ''} The formats are ${names.join(', ')}`.trim(),
    );
  }
  for (const [option, formats] of Object.entries(ONLY_FOR))
    if (options[option] !== undefined && !formats.includes(format))
      throw usage(`Cannot use --${option} with ${format}`, `leave it out; it is for ${listed(formats)}`);
  return putOut(await (await load())(options, context), options, context);
}

function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
