/** The value of one cell under its column. */
import type { Column } from './columns.ts';
import { type DecimalMark, readNumber } from './decimals.ts';
import { wordAmong } from './words.ts';

export interface CellStyle {
  mark: DecimalMark | undefined;
  words: ReadonlyMap<string, ReadonlySet<string>>;
  /** Blanks around text are kept: the file is our own. */
  exact: boolean;
}

export type CellValue = { value: unknown } | { message: string; help: string; inTwoWays?: true };

/** Reads the text of a cell that is not blank. Times are read elsewhere, since two cells may make one. */
export function readCell(text: string, column: Column, style: CellStyle, unit?: string): CellValue {
  const { kind, name, quantity } = column;
  const number = (one: string) => readNumber(one, { mark: style.mark, quantity, unit });
  switch (kind) {
    case 'time':
      return { value: text.trim() };
    case 'text':
      return { value: style.exact ? text : text.trim() };
    case 'word':
      return { value: wordAmong(text.trim(), style.words.get(name)) };
    case 'number':
      return number(text);
    case 'truth':
      return truth(text, name);
    case 'texts':
      return json(text) ?? { value: items(text).map((one) => wordAmong(one, style.words.get(name))) };
    case 'numbers':
      return json(text) ?? numbers(text, number);
    case 'parts':
      return json(text) ?? parts(text, style);
    case 'map':
      return json(text) ?? { message: `Cannot read "${name}"`, help: 'write it as JSON, like {"ml": 3000}' };
    default:
      return kind satisfies never;
  }
}

function truth(text: string, name: string): CellValue {
  const word = text.trim().toLowerCase();
  if (['true', 'yes', 'y', 'x', '1'].includes(word)) return { value: true };
  if (['false', 'no', 'n', '0'].includes(word)) return { value: false };
  return { message: `Cannot read "${text.slice(0, 40)}" under "${name}"`, help: 'write true or false' };
}

/** A list or a map in JSON; undefined when the text is not one. */
function json(text: string): CellValue | undefined {
  if (!/^\s*[[{]/.test(text)) return undefined;
  try {
    return { value: JSON.parse(text) };
  } catch {
    return undefined;
  }
}

function items(text: string): string[] {
  return text
    .split(/[;,\n]/)
    .map((one) => one.trim())
    .filter(Boolean);
}

/** Semicolons part numbers surely; commas only with a blank behind, since 4,5 is a number in half the world. */
function numbers(text: string, read: (one: string) => CellValue): CellValue {
  const list = text
    .split(text.includes(';') ? ';' : /,\s+|\s*[/+|]\s*/)
    .map((one) => one.trim())
    .filter(Boolean);
  const values = list.map(read);
  const wrong = values.find((one) => 'message' in one);
  return wrong ?? { value: values.map((one) => ('value' in one ? one.value : undefined)) };
}

/** `6 model; 2 mask`, `model 6, mask 2`, `6x model + 2x mask`; a name alone counts one. */
function parts(text: string, { words }: CellStyle): CellValue {
  const counts = new Map<string, number>();
  for (const one of text.split(/[;,+&\n]|\sand\s/).map((part) => part.trim())) {
    if (one === '') continue;
    const [, before, named] = /^(\d+)\s*(?:[x×*]\s+|[×*]\s*)?(.+)$/i.exec(one) ?? [];
    const [, name, behind] = /^(.+?)[\s:=]+[x×*]?\s*(\d+)$/i.exec(one) ?? [];
    const [count, typed] = before === undefined ? [behind ?? '1', name ?? one] : [before, named!];
    const part = wordAmong(typed.trim(), words.get('parts'));
    counts.set(part, (counts.get(part) ?? 0) + Number(count));
  }
  return { value: Object.fromEntries(counts) };
}
