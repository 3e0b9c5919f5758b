import { type AppendOptions, changedMeanwhile, withLedger } from './append.ts';
import { changeKeeping } from './append-aside.ts';
import { killPoint } from './append-kill-point.ts';
import type { Written } from './event.ts';
import { lineAt } from './event-lines.ts';
import type { Problem } from './problem.ts';
import { type LedgerFile, readLedger } from './read.ts';

/** Whether to cut the last event off, worked out while the ledger is locked. */
export type CutDecision = { cut: true } | { refused: Problem[] };

export interface CutLast {
  /** The line that was cut off; null when nothing was. */
  line: string | null;
  /** Where the copy is. */
  copy: string | null;
  problems: Problem[];
}

/**
 * Cuts the last event off a ledger, when its line is the very last one and nothing refers to it, and keeps a copy in
 * `<ledger>.undone`. In every other case the event must be voided instead (code "not-last-line").
 */
export async function cutLast(
  path: string,
  decide: (file: LedgerFile, last: Written) => Promise<CutDecision>,
  options: AppendOptions = {},
): Promise<CutLast> {
  const done = await withLedger(path, options, async (open, isOurs): Promise<CutLast> => {
    const file = await readLedger(open.bytes, options.catalogue);
    const errors = file.problems.filter((problem) => problem.severity === 'error');
    if (errors.length > 0) {
      return kept(errors);
    }
    const last = file.events.at(-1);
    const start = last === undefined ? -1 : startOfLast(file, last);
    if (last === undefined || start < 0) {
      return kept([last === undefined ? nothingToUndo() : notLastLine(last)]);
    }
    const decision = await decide(file, last);
    if ('refused' in decision) {
      return kept(decision.refused);
    }
    if (!isOurs() || !open.isUnchanged()) {
      return kept([changedMeanwhile(path)]);
    }
    const line = file.text.slice(start, lineAt(file.text, start, last.line).end);
    const copy = `${open.path}.undone`;
    if (options.dryRun !== true) {
      const mark = open.bytes[0] === 0xef ? 3 : 0;
      const length = mark + Buffer.byteLength(file.text.slice(0, start), 'utf8');
      changeKeeping(open, { path: copy, bytes: Buffer.from(`${line}\n`, 'utf8') }, () => open.cut(length));
      KILL_POINT: killPoint('last line cut');
    }
    return { line, copy, problems: [] };
  });
  return 'lines' in done ? kept(done.problems) : done;
}

function kept(problems: Problem[]): CutLast {
  return { line: null, copy: null, problems };
}

/** Where the last event's line starts, or -1 when something follows it or refers to it. */
function startOfLast({ text, events, tail }: LedgerFile, last: Written): number {
  const { id } = last.event;
  const isNamed = events.some(
    ({ event }) => ('of' in event && event.of === id) || ('wash' in event && event.wash === id),
  );
  const kept = text.trimEnd();
  const start = kept.lastIndexOf('\n') + 1;
  const isLast = kept.slice(0, start).split('\n').length === last.line;
  return isLast && !isNamed && tail !== 'torn' ? start : -1;
}

function nothingToUndo(): Problem {
  return {
    code: 'nothing-to-undo',
    message: 'Cannot undo, the ledger has no events',
    help: 'Log one first, like: bathbook fill dirty 4 L ipa99',
    severity: 'error',
  };
}

function notLastLine({ event, line }: Written): Problem {
  return {
    code: 'not-last-line',
    message: `Cannot cut off the ${event.what} "${event.id}" of line ${line}, something stands after it or refers to it`,
    help: `Void it instead: bathbook void ${event.id} --why "entered wrong"`,
    line,
    severity: 'error',
  };
}
