/** What an import did, or would do: for people and for programs. */
import type { Plan } from '../exchange/plan.ts';
import { adviceText } from '../render/advice.ts';
import { bathDocument } from '../render/documents.ts';
import { changeLines, type Line, labelled } from '../render/echo.ts';
import { count } from '../render/format.ts';
import { printable } from '../render/printable.ts';
import type { Context } from './context.ts';
import type { Decided, Sheet } from './import-decide.ts';

export interface Imported extends Sheet {
  decided: Decided;
  /** Of the ledger, and of the file. */
  path: string;
  file: string;
  dryRun: boolean;
}

/** More than this nobody reads at once. */
const MOST_TOLD = 20;
/** So many commands can still be typed. */
const MOST_UNDONE = 3;

/** The counts, what was understood, the baths before and after, how to undo; `done`: the middle was shown before. */
export function importLines(
  imported: Imported,
  context: Context,
  shown: 'all' | 'ahead' | 'done' = 'all',
): string {
  const { decided, dryRun } = imported;
  const lines: Line[] = [
    [dryRun ? 'would add' : 'added', summary(decided)],
    ...(shown === 'done' ? [] : understood(imported, context)),
    ...(dryRun
      ? shown === 'ahead'
        ? []
        : [['', 'dry run, nothing was written'] as const]
      : undoLines(imported, context)),
  ];
  return labelled(lines, context);
}

function understood(imported: Imported, context: Context): Line[] {
  const { decided, plan } = imported;
  return [
    ...columnLines(imported),
    ...(plan.unread.length > 0 ? [['not read', printable(plan.unread.join(', '))] as const] : []),
    ...assumed(imported).map((text, nth): Line => [nth === 0 ? 'assumed' : '', text]),
    ...alikeLines(decided),
    ...bathLines(decided, context),
  ];
}

function bathLines({ fresh, change, shop }: Decided, { paint }: Context): Line[] {
  if (!change || fresh.length === 0) return [];
  const { before, after } = change;
  const { estimates } = after;
  return [
    ...changeLines(before.replayed.baths, after.replayed.baths, {
      shop,
      estimates,
      was: before.estimates,
      paint,
    }),
    ['advice', adviceText(after.advice, estimates)],
  ];
}

/** 12 new, 30 already present, 1 rejected. */
export function summary({ fresh, present, rejected }: Decided): string {
  return `${fresh.length} new, ${present} already present, ${rejected.length} rejected`;
}

/** Where columns go, unless the file is our own. */
function columnLines({ plan, rows }: Imported): Line[] {
  if (plan.own || rows.format === 'ndjson') return [];
  return [['columns', columnsOf(plan, rows.columns).map(columnWords).join('; ')]];
}

function columnWords({ column, key, unit }: ReturnType<typeof columnsOf>[number]): string {
  const plain = column === key ? printable(column) : `${printable(column)} → ${key}`;
  return unit === null ? plain : `${plain} in ${printable(unit)}`;
}

function columnsOf(plan: Plan, columns: readonly string[]) {
  const named = (key: 'date' | 'time') =>
    plan[key] === undefined ? [] : [{ column: columns[plan[key]]!, key, unit: null }];
  return [
    ...named('date'),
    ...named('time'),
    ...plan.sources.map(({ heading, column, part, unit }) => ({
      column: heading,
      key: part === undefined ? column.name : `parts.${part}`,
      unit: unit ?? null,
    })),
  ];
}

function assumed({ plan, decided }: Imported): string[] {
  const keys = [...plan.sources, ...plan.constants].map(({ column }) => column.name);
  return [
    ...(keys.includes('what') ? [] : ['every row is a wash']),
    ...(decided.untimed > 0
      ? [
          `${count(decided.untimed, 'new row has', 'new rows have')} no time of day and ${decided.untimed === 1 ? 'is' : 'are'} taken at 12:00`,
        ]
      : []),
  ];
}

/** What may be a double in other words is for a person to judge. */
function alikeLines({ alike }: Decided): Line[] {
  if (alike.length === 0) return [];
  const named = alike.slice(0, 3).map(({ line, id }) => `line ${line} and ${id}`);
  const more = alike.length > 3 ? `, and ${alike.length - 3} more` : '';
  return [
    [
      'doubles?',
      `of the same moment and kind as an entry that says something else: ${named.join(', ')}${more}`,
    ],
  ];
}

function undoLines({ decided: { fresh } }: Imported, context: Context): Line[] {
  if (fresh.length === 0) return [];
  if (fresh.length > MOST_UNDONE)
    return [['to undo', `${context.hint('bathbook undo')}, once for each of the ${fresh.length} new lines`]];
  const commands = fresh.map(({ event }) => context.hint(`bathbook undo ${event.id}`)).reverse();
  return commands.map((command, nth) => [nth === 0 ? 'to undo' : '', command]);
}

/** Rejected lines with their reasons, to stderr. */
export async function tellRejected(
  { decided: { rejected }, file }: Imported,
  context: Context,
): Promise<void> {
  const told = rejected.slice(0, MOST_TOLD).map((one) => ({ ...one, severity: 'error' as const }));
  await context.tell(told, file);
  if (rejected.length > MOST_TOLD)
    context.note(`and ${rejected.length - MOST_TOLD} more rejected; --json has them all`);
}

/** Of `bathbook/import/1`. */
export function importDocument(imported: Imported): Record<string, unknown> {
  const { decided, plan, rows, path, file, dryRun } = imported;
  const { fresh, present, rejected, change } = decided;
  return {
    ledger: path,
    file,
    format: rows.format,
    dry_run: dryRun,
    columns: columnsOf(plan, rows.columns),
    not_read: plan.unread,
    assumed: assumed(imported),
    new: fresh.length,
    present,
    rejected,
    alike: decided.alike,
    events: fresh.map(({ line, event }) => ({ line, event })),
    baths: change ? change.after.estimates.map(bathDocument) : null,
  };
}
