import { Collector } from './collector.ts';
import { findConflict } from './conflict.ts';
import { decodeLedger } from './decode.ts';
import type { Written } from './event.ts';
import type { Header } from './header.ts';
import { type Catalogue, knownNames } from './names.ts';
import { placed } from './place.ts';
import type { Problem } from './problem.ts';
import { EventReader } from './read-events.ts';
import { readHead } from './read-head.ts';
import { findEvents, type Split } from './split.ts';

/** A ledger as it stands in the file. */
export interface LedgerFile {
  /** Null when the head could not be read. */
  header: Header | null;
  /** In the order of the file; only those that passed every check. */
  events: Written[];
  /** At most 20, in the order of the file. */
  problems: Problem[];
  /** How many problems there are beyond those told. */
  moreProblems: number;
  newline: '\n' | '\r\n';
  /** How the last line ends; a torn one was left by an interrupted append and does not count. */
  tail: 'whole' | 'no-newline' | 'torn';
  /** How many events were not in the plain form and went to the `yaml` package. */
  slowEvents: number;
  /** Blanks before the dash of each event; null when there is none yet. */
  indent: number | null;
  /** True when the list of events is written `[]`. */
  emptyList: boolean;
  /** The text that was read, without byte order mark and torn tail. */
  text: string;
}

/** Reads a whole ledger. Names of solvents, resins and parts are checked when the catalogue is given. */
export async function readLedger(bytes: Uint8Array, catalogue?: Catalogue): Promise<LedgerFile> {
  const { text, tail, tailLine, problem } = await decodeLedger(bytes);
  const out = new Collector();
  const file: LedgerFile = {
    header: null,
    events: [],
    problems: [],
    moreProblems: 0,
    newline: text.charCodeAt(text.indexOf('\n') - 1) === 13 ? '\r\n' : '\n',
    tail,
    slowEvents: 0,
    indent: null,
    emptyList: false,
    text,
  };
  if (problem !== undefined) {
    out.add(problem);
  } else if (!/^[^\S\n]*[^\s#]/m.test(text)) {
    out.add(emptyFile());
  } else {
    await readText(file, out, catalogue);
  }
  if (tail === 'torn') {
    out.add(tornTail(tailLine));
  }
  file.problems = out.sorted();
  file.moreProblems = out.more;
  return file;
}

async function readText(file: LedgerFile, out: Collector, catalogue: Catalogue | undefined): Promise<void> {
  const { text } = file;
  const split = findEvents(text);
  const head = text.slice(0, split?.start ?? text.length);
  const conflict = findConflict(head);
  if (conflict === undefined) {
    file.header = await readHead(head, out, catalogue);
  } else {
    out.add(conflict);
  }
  if (out.problems.some((one) => one.code === 'newer-format')) {
    return;
  }
  if (split === null) {
    out.add(noEvents(text));
    return;
  }
  if (split.form === 'other') {
    out.add(notAList(text, split));
    return;
  }
  file.emptyList = split.form === 'empty-list';
  const known = file.header === null ? null : knownNames(file.header, catalogue);
  const reader = new EventReader(text, known, out);
  await reader.read(split);
  file.events = reader.events;
  file.slowEvents = reader.slowEvents;
  file.indent = reader.indent;
  if (file.emptyList && reader.indent !== null) {
    out.add(notAList(text, split));
  }
}

function emptyFile(): Problem {
  return {
    code: 'empty-file',
    message: 'Cannot read the ledger, the file is empty',
    help: 'Delete the file and make a ledger with: bathbook setup',
    line: 1,
    severity: 'error',
  };
}

function tornTail(line: number): Problem {
  return {
    code: 'torn-tail',
    message: `Ignored line ${line}, which an interrupted write left incomplete`,
    help: 'The next command that writes moves it to a file of its own; log that event again if it is missing',
    line,
    severity: 'warning',
  };
}

function noEvents(text: string): Problem {
  const last = text.trimEnd();
  const first = /^ *- *\{/m.exec(last);
  const start = first?.index ?? last.lastIndexOf('\n') + 1;
  const end = first === null ? last.length : start + first[0].length;
  return placed(
    { text, firstLine: 1 },
    {
      code: 'missing-events',
      message: 'Cannot find the events, the file has no line "events:"',
      help: 'Add the line events: after the head, without blanks before it; the events follow it, one on a line',
      start,
      end,
    },
  );
}

function notAList(text: string, { start, end }: Split): Problem {
  return placed(
    { text, firstLine: 1 },
    {
      code: 'events-not-a-list',
      message: 'Cannot read the events, "events:" must be alone on its line',
      help: 'Write each event on a line of its own below it, beginning with "  - {"',
      start,
      end,
    },
  );
}
