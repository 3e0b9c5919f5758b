// What the processes of the crowd told, and whether it was right: the book that the ledger is held against.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

const LOCKED = 75;

export function newBook() {
  return { confirmed: new Set(), takenBack: new Set(), busy: 0, reads: 0, imports: 0, failures: [] };
}

/** A process of the room, which tells of each event by its id: writer.mjs. */
export function roomWriter(book, args) {
  const ended = ({ code, killed, out, err }) => {
    // The last line may be cut short.
    for (const line of out.slice(0, out.lastIndexOf('\n') + 1).split('\n')) {
      if (line.startsWith('+')) book.confirmed.add(line.slice(1));
      if (line.startsWith('-')) book.takenBack.add(line.slice(1));
      if (line.startsWith('!')) book.failures.push(`a writer was refused: ${line}`);
    }
    if (!killed) book.failures.push(`a writer ended by itself with ${code}: ${err}`);
  };
  return { args, ended };
}

const READS = [
  { words: ['baths', '--json'], codes: [0], isJson: true },
  { words: ['entries', '--json'], codes: [0], isJson: true },
  { words: ['due'], codes: [0, 1, 2] },
];

/** A process of the program that reads. */
export function programReader(book, program, ledger) {
  const { words, codes, isJson } = READS[book.reads % READS.length];
  const ended = ({ code, killed, out, err }) => {
    if (killed) return;
    book.reads += 1;
    const why = !codes.includes(code) || /^Cannot|: error:/m.test(err) || (isJson && !isObject(out));
    if (why) book.failures.push(`${words.join(' ')} ended with ${code}: ${err}${isJson ? '' : out}`);
  };
  return { args: [program, ...words, '--ledger', ledger], ended };
}

/** Six commands that write, one for each writer; undo now and then. */
export const WRITES = [
  ['wash', '1', 'crown'],
  ['reading', 'dirty', '--level', '3.9 L'],
  ['inspect', 'ok', '--wash', 'none', '--note', 'é — 混合'],
  ['top-up', 'clean', '1 mL', 'ipa99'],
  ['stock', 'received', 'ipa99', '1 L'],
  ['import'],
];

/** A process of the program that writes. */
export function programWriter(book, program, ledger, { words, undo = false }) {
  const end = ['--ledger', ledger, '--json', '--no-input'];
  if (words[0] === 'import') return importer(book, program, ledger, end);
  const ended = (told) => {
    const data = dataIn(told.out);
    // Killed after it had told is told all the same.
    if (data && undo && data.how === 'cut') book.takenBack.add(data.event.id);
    else if (data) book.confirmed.add(data.event.id);
    if (!told.killed) judge(book, undo ? ['undo'] : words, told, data);
  };
  return { args: [program, ...(undo ? ['undo'] : words), ...end], ended };
}

/** The same file again and again until it is in, then another: each event of it once, however often it was tried. */
function importer(book, program, ledger, end) {
  if (book.import === undefined) {
    book.imports += 1;
    book.import = newImport(ledger, book.imports);
  }
  const { path, ids } = book.import;
  const ended = (told) => {
    const data = dataIn(told.out);
    if (data) {
      for (const id of ids) book.confirmed.add(id);
      book.import = undefined;
    }
    if (!told.killed) judge(book, ['import'], told, data);
  };
  return { args: [program, 'import', path, ...end], ended };
}

function newImport(ledger, nth) {
  const ids = ['a', 'b', 'c'].map((end) => `import-${nth}-${end}`);
  const at = new Date(Date.now() - 60_000).toISOString().slice(0, 19);
  const path = join(ledger, '..', `new-${nth}.ndjson`);
  const line = (id) => `${JSON.stringify({ id, at: `${at}Z`, what: 'inspect', result: 'ok', note: id })}\n`;
  writeFileSync(path, ids.map(line).join(''));
  return { path, ids };
}

function judge(book, words, { code, err }, data) {
  if (code === LOCKED) book.busy += 1;
  else if (code !== 0 || !data) book.failures.push(`${words.join(' ')} ended with ${code}: ${err}`);
}

function dataIn(out) {
  try {
    return JSON.parse(out).data;
  } catch {
    return undefined;
  }
}

function isObject(out) {
  return typeof dataIn(out) === 'object';
}
