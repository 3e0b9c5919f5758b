/**
 * The rows of data/limits.csv. Import this only where limits are shown: it brings their text along.
 */
import text from '../../data/limits.csv';

/** One limit or rule as printed. Not legal advice: local rules decide. */
export interface LimitRow {
  jurisdiction: string;
  item: string;
  value: string;
  unit: string;
  citation: string;
  /** Its id in data/SOURCES.md. */
  source: string;
  /** How the value was come by, as data/SOURCES.md explains. */
  status: string;
}

const COLUMNS = ['jurisdiction', 'item', 'value', 'unit', 'citation', 'source', 'status'] as const;

export const LIMIT_ROWS: readonly LimitRow[] = text
  .trim()
  .split(/\r?\n/)
  .slice(1)
  .map((line) => {
    const fields = fieldsOf(line);
    return Object.fromEntries(
      COLUMNS.map((name, place) => [name, fields[place] ?? '']),
    ) as unknown as LimitRow;
  });

/** The fields of a line; those with commas in them stand in double quotes. */
function fieldsOf(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(
    ([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain ?? '',
  );
}
