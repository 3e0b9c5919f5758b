import type { Line } from '../render/echo.ts';
import { publishedRows, publishedTable } from '../render/published.ts';
import { aligned, type Table, tabSeparated } from '../render/table.ts';
import {
  answerTable,
  instrumentLines,
  readingWords,
  strengthDocument,
  strengthWords,
  told,
} from '../render/tables.ts';
import { MIXTURE_RANGE } from '../substance/mixture.ts';
import { instrumentsAt, type Reading, type Strength } from '../substance/strength.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault } from './fault.ts';
import { readingOf, round, strengthOrFault, temperatureOf } from './reading-options.ts';

const SOURCES_NOTE =
  'Sources of the tables, and what is known to be wrong with them: data/SOURCES.md. Densities in g/mL; the model holds from 40 wt% up.';

/** `tables`: the published tables, or one value looked up in all of them. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const reading = readingOf(options);
  if (reading) await lookUp(reading, context);
  else await list(temperatureOf(options, 'temp'), context);
  return EXIT.done;
}

async function lookUp(reading: Reading, context: Context): Promise<void> {
  const found = strengthOrFault(reading);
  const at = found.wtPct === null ? null : instrumentsAt(found.wtPct, reading.tempC);
  if (context.json) {
    context.printJson('tables', await context.clockMs(), strengthDocument(reading, found, at));
    return;
  }
  const lines: Line[] = [
    ['asked', readingWords(reading)],
    ['strength', `${strengthWords(found)}${found.basis === 'tables' ? ', from the tables alone' : ''}`],
    ...(at ? instrumentLines(at, reading.tempC) : densityLine(found)),
  ];
  context.print(`${told(lines, context)}\n${context.onTerminal ? '\n' : ''}`);
  await printTable(answerTable(found.tables, reading.kind), context);
  if (found.tables.length === 0) context.note('No published table covers this temperature and strength');
}

/** Below 40 wt% the mean of the tables. */
function densityLine({ density }: Strength): Line[] {
  return density === null ? [] : [['density', `${density.toFixed(4)} g/mL`]];
}

async function list(tempC: number | undefined, context: Context): Promise<void> {
  const { lowestC, highestC } = MIXTURE_RANGE;
  if (tempC !== undefined && !(tempC >= lowestC && tempC <= highestC)) {
    const message = `Cannot show tables at ${round(tempC, 1)} °C, the data hold for ${lowestC}–${highestC} °C`;
    const help = 'give a temperature in that range';
    throw new Fault([{ code: 'outside-data', message, help, severity: 'error' }], EXIT.data);
  }
  const temperatures = tempC === undefined ? [20, 25] : [tempC];
  if (context.json) {
    const tables = temperatures.map((temp) => ({ temp_c: temp, rows: publishedRows(temp).map(rowDocument) }));
    context.printJson('tables', await context.clockMs(), { published: tables });
    return;
  }
  for (const temp of temperatures) {
    const heading = context.paint.strong(`g/mL at ${round(temp, 1)} °C`);
    if (context.onTerminal) context.print(heading);
    const { head, rows, right } = publishedTable(publishedRows(temp));
    if (context.onTerminal)
      context.print(`${await aligned({ head, rows, right: right! }, context.paint, context.width)}\n\n`);
    else
      context.print(
        tabSeparated({ head: ['temp_c', ...head], rows: rows.map((row) => [String(temp), ...row]) }),
      );
  }
  context.note(SOURCES_NOTE);
}

function rowDocument({ wtPct, volPct, model, tables }: ReturnType<typeof publishedRows>[number]) {
  return { ipa_wt_pct: wtPct, ipa_vol_pct: volPct, model_g_ml: model, tables_g_ml: tables };
}

async function printTable(table: Table, context: Context): Promise<void> {
  if (table.rows.length === 0) return;
  context.print(context.onTerminal ? await aligned(table, context.paint) : tabSeparated(table));
}
