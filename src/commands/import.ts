import { setFlagsFromString } from 'node:v8';
import { planColumns } from '../exchange/plan.ts';
import { readRows } from '../exchange/rows.ts';
import { append } from '../ledger/append.ts';
import type { Problem } from '../ledger/problem.ts';
import { catalogue } from '../substance/catalogue.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault } from './fault.ts';
import { type Decided, decideImport, type Sheet } from './import-decide.ts';
import { type Imported, importDocument, importLines, summary, tellRejected } from './import-tell.ts';
import { importText } from './import-text.ts';
import { isDone } from './streams.ts';

/** More than this nobody reads at once. */
const MOST_PROBLEMS = 20;
/** From so many on, compiling pays. */
const MANY_ROWS = 2000;

/** `import`: events of a file that the ledger does not have; on a terminal they are shown first. */
export async function run([file = '']: string[], options: Options, context: Context): Promise<number> {
  const sheet = await readSheet(file, options);
  const dryRun = options.dryRun === true;
  const asks = context.canAsk && !dryRun && file !== '-';
  if (asks && !(await agreed({ file, sheet }, options, context))) return EXIT.done;
  const imported = await importSheet({ file, sheet, dryRun }, options, context);
  if (!asks) await tellRejected(imported, context);
  if (context.json) context.printJson('import', imported.decided.clockMs, importDocument(imported));
  else if (!context.quiet) context.print(importLines(imported, context, asks ? 'done' : 'all'));
  return imported.decided.rejected.length > 0 ? EXIT.data : EXIT.done;
}

/** Shows what would be added and asks. */
async function agreed(
  on: { file: string; sheet: Sheet },
  options: Options,
  context: Context,
): Promise<boolean> {
  const preview = await importSheet({ ...on, dryRun: true }, options, context);
  await tellRejected(preview, context);
  if (preview.decided.fresh.length === 0) return true;
  const shown = importLines(preview, context, 'ahead');
  if (context.json) context.note(shown);
  else context.print(shown);
  if (await context.confirm(`Add ${summary(preview.decided).split(',')[0]}?`)) return true;
  context.note('Nothing was written');
  return false;
}

async function readSheet(file: string, options: Options): Promise<Sheet> {
  const ending = /\.(csv|tsv|txt|ndjson|jsonl)$/i.exec(file)?.[1]?.toLowerCase();
  const byName = ending === undefined ? undefined : /json/.test(ending) ? 'ndjson' : 'csv';
  const format = (options.format as 'csv' | 'ndjson' | undefined) ?? byName;
  const rows = await readRows(importText(file), format);
  if ('message' in rows) throw new Fault([problemOf(rows)], EXIT.data, file);
  refuseEstimates(rows.columns, file);
  const list = (option: string) => (options[option] as string[] | undefined) ?? [];
  const plan = planColumns(rows.columns, {
    maps: list('map'),
    constants: list('set'),
    ignored: list('ignore'),
  });
  if (Array.isArray(plan)) throw new Fault(plan.map(problemOf), EXIT.usage, file);
  return { rows, plan };
}

/** Columns of our own that only estimates have: those of `export csv --what washes`, and of `--what states`. */
const ESTIMATES: readonly { what: string; columns: RegExp[] }[] = [
  { what: 'washes', columns: [/^from_defaults$/, /_before_resin_wt_pct$/] },
  { what: 'states', columns: [/_resin_g_per_l$/, /_resin_vol_pct$/] },
];

/** What the model made of a ledger is not what was logged, and would be logged as if it were. @throws Fault */
function refuseEstimates(columns: readonly string[], file: string): void {
  const found = ESTIMATES.find((table) =>
    table.columns.every((own) => columns.some((name) => own.test(name))),
  );
  if (!found) return;
  const problem = problemOf({
    message: `Cannot import a table of ${found.what} with the estimates of the model, it is for reading and not for logging`,
    help: 'export the entries themselves from that ledger, which can be read back: bathbook export csv --out events.csv',
  });
  throw new Fault([problem], EXIT.data, file);
}

function problemOf(wrong: { message: string; help: string; line?: number }): Problem {
  return { code: 'cannot-import', ...wrong, severity: 'error' };
}

/** All that is new in one write, or nothing. @throws Fault */
async function importSheet(
  { file, sheet, dryRun }: { file: string; sheet: Sheet; dryRun: boolean },
  options: Options,
  context: Context,
): Promise<Imported> {
  const { path } = context.ledger();
  // For a small ledger the engine was told not to optimise, which a long file takes twice as long for.
  if (sheet.rows.rows.length > MANY_ROWS) setFlagsFromString('--opt');
  let decided: Decided | undefined;
  let stopped: Problem[] = [];
  const done = await append(
    path,
    async (ledger) => {
      const outcome = await decideImport(ledger, sheet, options, context);
      if ('stopped' in outcome) {
        stopped = outcome.stopped;
        return { refused: stopped.slice(0, 1) };
      }
      decided = outcome;
      return { events: outcome.fresh.map(({ event }) => event) };
    },
    { catalogue, command: 'bathbook import', dryRun },
  );
  if (stopped.length > 0) {
    const told = stopped.slice(0, MOST_PROBLEMS);
    const ofLedger = told[0]!.code !== 'in-two-ways';
    throw new Fault(told, EXIT.data, ofLedger ? path : file, stopped.length - told.length);
  }
  await context.tell(done.notes, path);
  if (done.problems.length > 0 || !decided) {
    const { exitCodeOf } = await import('../ledger/problems.ts');
    throw new Fault(done.problems, exitCodeOf(done.problems) || EXIT.data, path);
  }
  if (!dryRun)
    isDone(
      `Imported all the same, ${done.lines.length} events; see: ${context.hint(`bathbook entries --last ${done.lines.length}`)}`,
    );
  return { ...sheet, decided, path, file, dryRun };
}
