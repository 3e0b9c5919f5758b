import type { LedgerEvent } from './event.ts';
import { writeLine } from './line.ts';
import { type Catalogue, knownNames } from './names.ts';
import type { Problem } from './problem.ts';
import type { LedgerFile } from './read.ts';
import { scanEvent } from './scan.ts';
import { quickCheck } from './sound.ts';

interface Prepared {
  lines: string[];
  problems: Problem[];
}

/** The lines for new events, each checked as it would be when read, and read back; or why they cannot be written. */
export async function prepareLines(
  file: LedgerFile,
  events: LedgerEvent[],
  catalogue?: Catalogue,
): Promise<Prepared> {
  const known = file.header === null ? null : knownNames(file.header, catalogue);
  const taken = new Set(file.events.map((written) => written.event.id));
  const prepared: Prepared = { lines: [], problems: [] };
  for (const event of events) {
    if (
      quickCheck(event, known) === null &&
      (await import('./check-event.ts')).checkEvent(event, known) === null
    ) {
      const { explainEvent } = await import('./check-event.ts');
      const findings = explainEvent(event, known, () => undefined);
      prepared.problems.push(
        ...findings.map(({ path: _, atKey: __, ...told }): Problem => ({ ...told, severity: 'error' })),
      );
      continue;
    }
    const line = indented(writeLine(event), file.indent);
    if (taken.has(event.id) || !readsBack(line, event)) {
      prepared.problems.push(notReadBack(event));
    }
    taken.add(event.id);
    prepared.lines.push(line);
  }
  return prepared;
}

function indented(line: string, indent: number | null): string {
  return indent === null ? line : ' '.repeat(indent) + line.trimStart();
}

/** What is written here the scanner reads; a line that it does not is written wrong. */
function readsBack(line: string, event: LedgerEvent): boolean {
  return sameData(scanEvent(line, 0, line.length), event);
}

/** Equal as data: the order of keys does not matter. */
function sameData(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) {
    return Object.is(a, b) || (a === 0 && b === 0);
  }
  const keys = Object.keys(a);
  return (
    Array.isArray(a) === Array.isArray(b) &&
    keys.length === Object.keys(b).length &&
    keys.every((key) => sameData((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]))
  );
}

function notReadBack(event: LedgerEvent): Problem {
  return {
    code: 'not-read-back',
    message: `Cannot write the ${event.what} "${event.id}", the line would not be read back as the same event`,
    help: 'Nothing was written; this is a fault of the program, please report it with the command you typed',
    severity: 'error',
  };
}
