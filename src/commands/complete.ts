/**
 * Answers a shell that asks what may come next. It has a file of its own beside the program (esbuild.config.mjs), since a person waits
 * for it at each press of the key: no parser of arguments, no checks of values, and of the ledger its beginning and end alone.
 *
 * Asked `__complete bash LINE BREAKS`, or `__complete zsh|fish TYPED WORD...` with the words before the cursor. Answers with lines:
 * first words, open, files or folders, then a value a line, with what it means after a tab. Shells put quotes around values
 * themselves, but for bash, which gets them as they must stand in the line.
 */
import { writeSync } from 'node:fs';
import { printable } from '../render/printable.ts';
import { type Course, follow, nameOf, optionsOf } from './complete-course.ts';
import { type Names, namesAt } from './complete-ledger.ts';
import { readBashLine } from './complete-line.ts';
import type { Offer } from './complete-names.ts';
import { type Offered, offeredAt } from './complete-offers.ts';
import { findLedger } from './find-ledger.ts';

/** Never an error, whatever the ledger or the line: a shell would print it into the line that is typed. */
export function complete([shell = '', ...asked]: readonly string[]): void {
  try {
    const { how, offers } = answer(shell, asked);
    const lines = offers.map(({ value, about }) => (about ? `${value}\t${shown(about)}` : value));
    writeSync(1, `${[how, ...lines].join('\n')}\n`);
  } catch {
    // Nothing to offer.
  }
}

function answer(shell: string, asked: readonly string[]): Offered {
  if (shell === 'bash') return forBash(asked);
  const [typed = '', ...before] = asked;
  const course = follow(before, typed);
  const { how, offers } = found(course);
  // Fish replaces the whole word; zsh was told to leave out what stands before the value.
  const prefix = shell === 'fish' ? course.before : '';
  return { how, offers: offers.map((one) => ({ ...one, value: prefix + one.value })) };
}

function forBash([line = '', breaks = '']: readonly string[]): Offered {
  const read = readBashLine(line, breaks);
  if (!read) return { how: 'words', offers: [] };
  if (read.redirects) return { how: 'files', offers: [] };
  const course = follow(read.words.slice(1), read.typed);
  const { how, offers } = found(course);
  const fitting = offers.filter(({ value }) => value.startsWith(course.typed));
  return {
    how,
    offers: fitting.map((one) => ({ ...one, value: read.written(course.before + one.value) })),
  };
}

function found(course: Course): Offered {
  let names: Names | undefined;
  const { how, offers } = offeredAt(course, () => (names ??= namesOf(course)));
  const options = course.awaited ? [] : optionsOf(course.command).map(nameOf);
  return { how, offers: offers.filter((offer) => isSafe(offer, options)) };
}

/** Names that steer a terminal, could not be decoded, or would be taken for an option, are left to be typed by who must. */
function isSafe({ value }: Offer, options: readonly string[]): boolean {
  if (value === '' || value.includes('\ufffd') || shown(value) !== value) return false;
  return !value.startsWith('-') || options.includes(value);
}

function namesOf({ ledger }: Course): Names {
  try {
    return namesAt(
      findLedger({ named: ledger && atHome(ledger), env: process.env, folder: () => process.cwd() }).path,
    );
  } catch {
    return namesAt(undefined);
  }
}

/** A shell has not put the home folder in yet. */
function atHome(path: string): string {
  return path.replace(/^(?:~|\$HOME|\$\{HOME\})(?=\/)/, process.env.HOME ?? '~');
}

/** Letters and marks of English and its neighbours: most texts hold no others, and need not be looked at for signs that steer. */
const USUAL = /^[ -~\xa1-\xac\xae-\xff\u2010-\u2027\u2030-\u205e]*$/;

function shown(text: string): string {
  return USUAL.test(text) ? text : printable(text);
}
