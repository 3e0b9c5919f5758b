import { explainIssues, type SourceOf, show } from './explain.ts';
import type { Finding } from './finding.ts';
import type { Header } from './header.ts';
import type { Catalogue } from './names.ts';
import { checkHeaderRules } from './rules-header.ts';
import { HEADER_SCHEMA } from './schema-header.ts';

/** True when the value is the head of a ledger in every respect. */
export function checkHeader(value: unknown, catalogue?: Catalogue): value is Header {
  return HEADER_SCHEMA.safeParse(value).success && checkHeaderRules(value as Header, catalogue).length === 0;
}

/** Everything that keeps a value from being the head of a ledger. */
export function explainHeader(value: unknown, source: SourceOf, catalogue?: Catalogue): Finding[] {
  const format = checkFormat(value);
  if (format !== undefined && (format.code !== 'missing-format' || !isMap(value))) {
    return [format];
  }
  const parsed = HEADER_SCHEMA.safeParse(value);
  if (parsed.success) {
    return checkHeaderRules(value as Header, catalogue);
  }
  const rest = explainIssues(parsed.error.issues, {
    value,
    schema: HEADER_SCHEMA,
    place: 'the head',
    source,
  });
  return format === undefined
    ? rest
    : [format, ...rest.filter((one) => !one.message.endsWith('without "format"'))];
}

/** What is wrong with the first line, which says how the rest is to be read. */
function checkFormat(value: unknown): Finding | undefined {
  if (!isMap(value)) {
    return {
      code: 'missing-format',
      message: 'Cannot read the head of the ledger, it holds no keys',
      help: 'Begin the file with the line format: bathbook/1, or make a ledger with: bathbook setup',
      path: [],
    };
  }
  const { format } = value;
  if (format === undefined) {
    return {
      code: 'missing-format',
      message: 'Cannot read the head without "format"',
      help: 'Begin the file with the line format: bathbook/1',
      path: [],
    };
  }
  if (format === 'bathbook/1') {
    return undefined;
  }
  const newer = typeof format === 'string' ? /^bathbook\/(\d+)$/.exec(format) : null;
  if (newer !== null && Number(newer[1]) > 1) {
    return {
      code: 'newer-format',
      message: `Cannot read format: ${String(format)}, the ledger was made by a newer version; the file was not touched`,
      help: 'Update bathbook; this version reads format: bathbook/1',
      path: ['format'],
    };
  }
  return {
    code: 'unknown-format',
    message: `Cannot read format: ${typeof format === 'string' && format.length <= 60 ? format : show(format)}, allowed is bathbook/1`,
    help: 'If the file is a bathbook ledger, write format: bathbook/1',
    path: ['format'],
  };
}

function isMap(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
