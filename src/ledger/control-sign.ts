import type { Told } from './place.ts';

/** What YAML 1.2 allows nowhere in a file (5.1), and a carriage return that no line feed follows, which it takes for a line end. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: it looks for them
const FORBIDDEN = /[\x00-\x08\v\f\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff]|\r(?!\n)/;

/** The first character of a text that no YAML file can hold, or undefined. */
export function findControlSign(text: string): Told | undefined {
  const start = text.search(FORBIDDEN);
  if (start < 0) {
    return undefined;
  }
  const code = text.charCodeAt(start);
  const told = { code: 'control-character', start, end: start + 1 };
  if (code === 13) {
    const message = 'Cannot read on, a carriage return stands inside this line';
    return { ...told, message, help: 'Delete it, or end every line with a line feed' };
  }
  const name = `U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
  return {
    ...told,
    message: `Cannot read the control character ${name}`,
    help: 'Delete it, and look whether it took the place of another',
  };
}
