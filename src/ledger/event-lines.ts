import { findConflict } from './conflict.ts';
import type { Told } from './place.ts';

/** One line of the text; offsets are positions in it. */
export interface Line {
  start: number;
  /** The first character that is no blank. */
  first: number;
  /** The end without the line break. */
  end: number;
  /** The start of the next line. */
  next: number;
  /** From 1. */
  number: number;
}

/** The line that begins at `start`. */
export function lineAt(text: string, start: number, number: number): Line {
  const nextBreak = text.indexOf('\n', start);
  let end = nextBreak < 0 ? text.length : nextBreak;
  const next = nextBreak < 0 ? end : end + 1;
  if (end > start && text.charCodeAt(end - 1) === 13) {
    end--;
  }
  let first = start;
  while (first < end && text.charCodeAt(first) === 32) {
    first++;
  }
  return { start, first, end, next, number };
}

/** True when a line goes on with the event that began on the line `begun`. */
export function continues(text: string, line: Line, begun: Line): boolean {
  if (line.first === line.end || text.startsWith('#', line.first)) {
    return false;
  }
  const deeper = line.first - line.start > begun.first - begun.start;
  return deeper || text.startsWith('}', line.first) || text.startsWith(']', line.first);
}

/** Why a line among the events cannot begin an event, or undefined when it does. */
export function strayLine(text: string, line: Line, indent: number | null): Told | undefined {
  const content = text.slice(line.first, line.end);
  const range = { start: line.first, end: line.end };
  if (content.startsWith('\t')) {
    return {
      code: 'tab-indent',
      message: 'Cannot indent with a tab',
      help: 'Use blanks',
      start: line.first,
      end: line.first + 1,
    };
  }
  if (line.first === line.start && findConflict(content) !== undefined) {
    const { code, message, help } = findConflict(content)!;
    return { code, message, help, start: line.start, end: line.start + 7 };
  }
  if (/^(?:---|\.\.\.)(?: |$)/.test(content) && line.first === line.start) {
    const message = 'Cannot read several documents in one ledger';
    return {
      code: 'several-documents',
      message,
      help: `Take the line "${content.slice(0, 3)}" out; one file is one ledger`,
      ...range,
    };
  }
  if (!/^-(?: |$)/.test(content)) {
    return noEvent(content, line);
  }
  if (indent !== null && line.first - line.start !== indent) {
    const message = 'Cannot read this line, its dash is not below the dashes of the other events';
    const help = `Put ${indent} ${indent === 1 ? 'blank' : 'blanks'} before the dash`;
    return { code: 'uneven-dash', message, help, start: line.first, end: line.first + 1 };
  }
  return undefined;
}

function noEvent(content: string, line: Line): Told {
  const key = /^([A-Za-z_]+):/.exec(content)?.[1];
  if (line.first === line.start && key !== undefined) {
    return {
      code: 'key-after-events',
      message: `Cannot read "${key}" after the events, they are last in the file`,
      help: `Move "${key}" with the lines that belong to it above the line "events:"`,
      start: line.first,
      end: line.first + key.length,
    };
  }
  return {
    code: 'stray-line',
    message: 'Cannot read this line among the events',
    help: 'An event begins with "- {" and ends with "}"; begin a remark with #',
    start: line.first,
    end: line.end,
  };
}
