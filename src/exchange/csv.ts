/** CSV by RFC 4180 as text, written and read by a library that is loaded only here. */

/** A table of text that came from a file. */
export interface Sheet {
  separator: string;
  head: string[];
  rows: SheetRow[];
}

interface SheetRow {
  /** Line of the file on which it starts, from 1. */
  line: number;
  cells: string[];
}

/** Why a text is no table. */
export interface SheetProblem {
  line?: number;
  message: string;
  help: string;
}

/** Rows are made and written so many at a time: all cells of a long table at once take hundreds of megabytes. */
const ROWS_AT_ONCE = 1000;

/**
 * Commas, quotes where they are needed, CRLF at every end: RFC 4180, 2.
 *
 * @param cellsOf - of one row
 */
export async function writeCsv<Row>(
  head: readonly string[],
  rows: readonly Row[],
  cellsOf: (row: Row) => string[],
): Promise<string> {
  const { default: papa } = await import('papaparse');
  const written = (some: string[][]) => `${papa.unparse(some, { newline: '\r\n' })}\r\n`;
  const parts = [written([[...head]])];
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE)
    parts.push(written(rows.slice(from, from + ROWS_AT_ONCE).map(cellsOf)));
  return parts.join('');
}

/**
 * Reads a table whose first row that is not blank names the columns. Comma, semicolon or tab part the cells, whichever the
 * head has most of; blank rows are left out.
 */
export async function readCsv(text: string): Promise<Sheet | SheetProblem> {
  const { default: papa } = await import('papaparse');
  const separator = separatorOf(text);
  const newline = newlineOf(text);
  const lines = new LineCount(text);
  const rows: SheetRow[] = [];
  let wrong: SheetProblem | undefined;
  let start = 0;
  papa.parse<string[]>(text, {
    delimiter: separator,
    newline,
    step: ({ data, errors, meta }, parser) => {
      const line = lines.at(start);
      start = meta.cursor;
      const [error] = errors;
      if (error?.type === 'Quotes') {
        wrong = badQuotes(line, error.code);
        parser.abort();
      } else if (data.some((cell) => cell.trim() !== '')) rows.push({ line, cells: data });
    },
  });
  if (wrong) return wrong;
  const [head, ...rest] = rows;
  if (!head) return { message: 'Cannot import the file, it is empty', help: EMPTY_HELP };
  return { separator, head: head.cells, rows: rest };
}

const EMPTY_HELP = 'give a file whose first line names the columns, like at,what,parts';

function badQuotes(line: number, code: string): SheetProblem {
  const why =
    code === 'MissingQuotes'
      ? 'a double quote is opened and never closed'
      : 'a double quote stands inside a cell';
  return {
    line,
    message: `Cannot read the row that starts on this line, ${why}`,
    help: 'write a cell with quotes in it as "say ""so"""',
  };
}

/** The one of the three that stands most often in the first line, outside of quotes; a comma where there is none. */
function separatorOf(text: string): string {
  const first = (/^\s*((?:"[^"]*"|[^"\r\n])*)/.exec(text)?.[1] ?? '').replaceAll(/"[^"]*"/g, '');
  const counts = [',', ';', '\t'].map((sign) => [sign, first.split(sign).length] as const);
  return counts.reduce((most, one) => (one[1] > most[1] ? one : most))[0];
}

/** That of the first line; the library's own guess looks into quoted cells. */
function newlineOf(text: string): '\r\n' | '\n' | '\r' {
  const end = /\r\n|\n|\r/.exec(text.replace(/^(?:"(?:[^"]|"")*"|[^"\r\n])*/, ''))?.[0];
  return end === '\r\n' || end === '\r' ? end : '\n';
}

/** Line numbers of places that only go forward. */
class LineCount {
  private place = 0;
  private line = 1;
  private readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  at(place: number): number {
    for (; this.place < place; this.place += 1) {
      const code = this.text.charCodeAt(this.place);
      if (code === 10 || (code === 13 && this.text.charCodeAt(this.place + 1) !== 10)) this.line += 1;
    }
    return this.line;
  }
}
