import type { ErrorCode } from 'yaml';
import type { Told } from './place.ts';

const SYNTAX: Partial<Record<ErrorCode, Pick<Told, 'code' | 'message' | 'help'>>> = {
  DUPLICATE_KEY: {
    code: 'duplicate-key',
    message: 'Cannot use a key twice in one map',
    help: 'Keep the one that is right',
  },
  MULTIPLE_DOCS: {
    code: 'several-documents',
    message: 'Cannot read several documents in one ledger',
    help: 'Take the line "---" out; one file is one ledger',
  },
  TAB_AS_INDENT: { code: 'tab-indent', message: 'Cannot indent with a tab', help: 'Use blanks' },
  MISSING_CHAR: {
    code: 'bad-yaml',
    message: 'Cannot read on, a closing quote or a comma is missing',
    help: 'Close the quote, put a comma between entries',
  },
  BAD_DQ_ESCAPE: {
    code: 'bad-yaml',
    message: 'Cannot read the escape after "\\"',
    help: 'Write "\\\\" for a backslash',
  },
  BAD_INDENT: {
    code: 'bad-yaml',
    message: 'Cannot read on, a closing "}" or "]" is missing',
    help: 'Close what was opened; one event is one line',
  },
  BLOCK_IN_FLOW: {
    code: 'bad-yaml',
    message: 'Cannot read a colon inside a value without quotes',
    help: 'Put the value in quotes',
  },
};

/** An error of the `yaml` package in the words of the house. */
export function yamlError(
  error: { code: ErrorCode; message: string; pos: [number, number] },
  text: string,
): Told {
  const [start, end] = error.pos;
  const known = SYNTAX[error.code] ?? {
    code: 'bad-yaml',
    message: `Cannot read this as YAML: ${error.message.replace(/\.$/, '').replace(/^./, (first) => first.toLowerCase())}`,
    help: 'Check brackets, quotes, commas and colons on this line',
  };
  if (error.code === 'DUPLICATE_KEY') {
    const key = /^[^\s:,]+/.exec(text.slice(start))?.[0] ?? '';
    return {
      ...known,
      message: `Cannot use the key "${key.replaceAll('"', '')}" twice in one map`,
      start,
      end: start + Math.max(1, key.length),
    };
  }
  return { ...known, start: Math.min(start, Math.max(0, text.length - 1)), end };
}
