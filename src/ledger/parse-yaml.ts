import type { Document, ErrorCode, Node, Pair } from 'yaml';
import type { SourceOf } from './explain.ts';
import { show } from './explain.ts';
import type { Finding } from './finding.ts';
import type { Told } from './place.ts';
import { plainDecimal } from './plain-decimal.ts';

type Yaml = typeof import('yaml');
type Path = readonly (string | number)[];

/** A text read by the full parser: its value, what a ledger does not allow in it, and where each value stands. */
export interface Parsed {
  value: unknown;
  /** True when the value is written in braces or brackets. */
  flow: boolean;
  told: Told[];
  source: SourceOf;
  place(finding: Finding): Told;
}

/** Reads YAML 1.2 (core schema) strictly. `prefix` is the way to the value that paths of findings start from. */
export async function parseYaml(text: string, prefix: Path = []): Promise<Parsed> {
  const yaml = await import('yaml');
  const doc = yaml.parseDocument(text, {
    version: '1.2',
    schema: 'core',
    uniqueKeys: true,
    prettyErrors: false,
    logLevel: 'error',
  });
  const told = [...doc.errors.map((error) => syntax(error, text)), ...notPlain(yaml, doc)];
  const outer = doc.getIn([...prefix], true);
  const source: SourceOf = (path) => {
    const node = doc.getIn([...prefix, ...path], true);
    return yaml.isScalar(node) && node.type === 'PLAIN' ? node.source : undefined;
  };
  return {
    value: told.length > 0 ? undefined : valueAt(doc.toJS() as unknown, prefix),
    flow: yaml.isCollection(outer) && outer.flow === true,
    told,
    source,
    place: (finding) => ({ ...finding, ...rangeOf(yaml, doc, prefix, finding, text) }),
  };
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, key) => (inner as Record<string | number, unknown> | null | undefined)?.[key],
    value,
  );
}

function rangeOf(
  yaml: Yaml,
  doc: Document,
  prefix: Path,
  finding: Finding,
  text: string,
): { start: number; end: number } {
  const full = [...prefix, ...finding.path];
  for (let length = full.length; length >= prefix.length; length--) {
    const path = full.slice(0, length);
    const range = nodeRange(yaml, doc, path, finding.atKey === true && length === full.length);
    if (range !== undefined) {
      return range;
    }
  }
  return { start: 0, end: text.length };
}

function nodeRange(
  yaml: Yaml,
  doc: Document,
  path: Path,
  atKey: boolean,
): { start: number; end: number } | undefined {
  const node = atKey ? keyNode(yaml, doc, path) : doc.getIn([...path], true);
  const range = yaml.isNode(node) ? node.range : undefined;
  return range ? { start: range[0], end: Math.max(range[0] + 1, range[1]) } : undefined;
}

function keyNode(yaml: Yaml, doc: Document, path: Path): unknown {
  const parent = doc.getIn(path.slice(0, -1), true);
  const pairs = yaml.isMap(parent) ? (parent.items as Pair[]) : [];
  return pairs.find((pair) => yaml.isScalar(pair.key) && String(pair.key.value) === String(path.at(-1)))?.key;
}

/** Anchors, aliases, tags, keys and numbers that would not be read as they look. */
function notPlain(yaml: Yaml, doc: Document): Told[] {
  const told: Told[] = [];
  const push = (code: string, message: string, help: string, node: Node): void => {
    const [start, end] = node.range ?? [0, 1];
    told.push({ code, message, help, start, end: Math.max(start + 1, end) });
  };
  yaml.visit(doc, (key, node) => {
    if (!yaml.isNode(node)) {
      return;
    }
    if (yaml.isAlias(node)) {
      push('alias', `Cannot use the alias "*${node.source}" in a ledger`, 'Write the value out', node);
    } else if (node.anchor !== undefined) {
      push(
        'anchor',
        `Cannot use the anchor "&${node.anchor}" in a ledger`,
        'Take the anchor out and write the value out where it is used',
        node,
      );
    } else if (node.tag !== undefined) {
      push(
        'tag',
        `Cannot use the tag "${node.tag.replace('tag:yaml.org,2002:', '!!')}" in a ledger`,
        'Take the tag out',
        node,
      );
    } else if (key === 'key' && yaml.isScalar(node) && typeof node.value !== 'string') {
      const shown = node.source ?? show(node.value);
      push(
        'text-needs-quotes',
        `Cannot use ${shown} as a key, it is read as ${show(node.value)}`,
        `Write it in quotes: ${JSON.stringify(shown)}: …`,
        node,
      );
    } else if (key === 'key' && !yaml.isScalar(node)) {
      push('bad-yaml', 'Cannot use a map or a list as a key', 'Write a plain word before the colon', node);
    }
  });
  return told;
}

/** Numbers that are not plain decimals ("0x10", "1e3", "007"), by their path. */
export function oddNumbers(value: unknown, source: SourceOf, path: Path = []): Finding[] {
  if (typeof value === 'object' && value !== null) {
    return Object.entries(value).flatMap(([key, inner]) =>
      oddNumbers(inner, source, [...path, Array.isArray(value) ? Number(key) : key]),
    );
  }
  const written = typeof value === 'number' ? source(path) : undefined;
  if (written === undefined || /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/.test(written)) {
    return [];
  }
  const message = `Cannot take ${path.findLast((key) => typeof key === 'string') ?? 'value'}: ${written}, it is not a plain decimal`;
  const help = Number.isFinite(value)
    ? `Write ${plainDecimal(value as number)}`
    : 'Write a number, or leave the key out';
  return [{ code: 'odd-number', message, help, path }];
}

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
  BLOCK_IN_FLOW: {
    code: 'bad-yaml',
    message: 'Cannot read a colon inside a value without quotes',
    help: 'Put the value in quotes',
  },
};

function syntax(error: { code: ErrorCode; message: string; pos: [number, number] }, text: string): Told {
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
