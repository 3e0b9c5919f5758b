import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv, writeCsv } from '../../src/exchange/csv.ts';
import { hasPython, pythonRows } from './python.ts';

const cell = fc.oneof(
  fc.string({
    unit: fc.constantFrom('"', ',', ';', '\n', '\r', '\t', ' ', 'a', 'é', '😀', "'", '='),
    maxLength: 8,
  }),
  fc.string({ unit: 'grapheme', maxLength: 12 }),
);

/** Rows with something in them, and as many cells in each, under plain headings. */
const table = fc
  .integer({ min: 2, max: 5 })
  .chain((width) =>
    fc.array(fc.array(cell, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }),
  )
  .map((rows) =>
    rows.map((row, nth) => (nth === 0 ? row.map((_, place) => `c${place}`) : [`r${nth}`, ...row.slice(1)])),
  );

async function read(text: string) {
  const sheet = await readCsv(text);
  if ('message' in sheet) throw new Error(sheet.message);
  return sheet;
}

const same = (cells: string[]) => cells;

describe('CSV', () => {
  it('is written by RFC 4180', async () => {
    // The forms of RFC 4180, section 2, rules 1 and 5 to 7.
    expect(
      await writeCsv(
        ['a', 'b'],
        [
          ['x', 'y z'],
          ['1,2', 'say "so"'],
          ['two\r\nlines', ''],
        ],
        same,
      ),
    ).toBe('a,b\r\nx,y z\r\n"1,2","say ""so"""\r\n"two\r\nlines",\r\n');
  });

  it('comes back as it was', async () => {
    await fc.assert(
      fc.asyncProperty(table, async ([head, ...rows]) => {
        const sheet = await read(await writeCsv(head!, rows, same));
        expect([sheet.head, ...sheet.rows.map(({ cells }) => cells)]).toEqual([head, ...rows]);
      }),
      { numRuns: 300 },
    );
  });

  it('comes back as it was, however long', async () => {
    const rows = Array.from({ length: 2500 }, (_, nth) => [String(nth), nth % 7 === 0 ? 'a, b' : '']);
    const sheet = await read(await writeCsv(['n', 'text'], rows, same));
    expect(sheet.rows.map(({ cells }) => cells)).toEqual(rows);
  });

  it.skipIf(!hasPython)("is read by Python's csv module, strictly, as it was", async () => {
    const tables = fc.sample(table, 60);
    // All in one go: a Python takes long to start.
    const texts = await Promise.all(tables.map(([head, ...rows]) => writeCsv(head!, rows, same)));
    expect(pythonRows(texts.join(''))).toEqual(tables.flat());
  });
});

describe('a table from elsewhere', () => {
  it.each([
    ['a,b\n1,2\n', ','],
    ['a;b\r\n1;2\r\n', ';'],
    ['a\tb\r1\t2', '\t'],
    ['"a, first";b\n1;2', ';'],
    ['a\n1\n', ','],
  ])('%j is parted by its sign', async (text, separator) => {
    const sheet = await read(text);
    expect(sheet.separator).toBe(separator);
    expect(sheet.rows[0]!.cells[0]).toBe('1');
  });

  it('counts lines, not rows', async () => {
    const sheet = await read('\na,b\n\n"two\nlines",1\n , \nx,2\n');
    expect(sheet.head).toEqual(['a', 'b']);
    expect(sheet.rows.map(({ line, cells }) => [line, cells[1]])).toEqual([
      [4, '1'],
      [7, '2'],
    ]);
  });

  it('with a quote that never ends is refused, with the line where its row starts', async () => {
    expect(await readCsv('a,b\n1,2\n3,"open\n5,6\n')).toMatchObject({ line: 3, message: /never closed/ });
    expect(await readCsv('a,b\n1,"x"y\n')).toMatchObject({ line: 2 });
  });

  it('without anything in it is refused', async () => {
    for (const text of ['', '\n\n', ' \n,,\n'])
      expect(await readCsv(text)).toMatchObject({ help: /names the columns/ });
  });
});
