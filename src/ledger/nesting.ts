import type { Told } from './place.ts';

type Yaml = typeof import('yaml');

/** What an event or the head holds is within four levels; the parser takes time with the square of the depth, or worse. */
const DEEPEST = 30;
/** Marks that may begin a level. */
const OPENS = /[[{?:-]/g;
/** What the parser is within; a document and a plain value are on its stack as well. */
const WITHIN = new Set(['block-map', 'block-seq', 'flow-collection']);

/** A value that lies deeper in lists and maps than anything of a ledger, which only a hostile file has; undefined for all others. */
export function tooDeep({ Lexer, Parser }: Pick<Yaml, 'Lexer' | 'Parser'>, text: string): Told | undefined {
  if ((text.match(OPENS)?.length ?? 0) <= DEEPEST) {
    return undefined;
  }
  const parser = new Parser();
  for (const token of new Lexer().lex(text)) {
    const start = parser.offset;
    for (const _ of parser.next(token)) {
      // What it has finished is not looked at.
    }
    if (
      parser.stack.length > DEEPEST &&
      parser.stack.filter(({ type }) => WITHIN.has(type)).length > DEEPEST
    ) {
      return told(start);
    }
  }
  return undefined;
}

function told(start: number): Told {
  return {
    code: 'too-deep',
    message: `Cannot read values within more than ${DEEPEST} lists and maps`,
    help: 'Write one event on one line, with its values as the format has them',
    start,
    end: start + 1,
  };
}
