import type { Document, Pair } from 'yaml';
import type { SourceOf } from './explain.ts';
import type { Finding } from './finding.ts';
import { notPlain } from './not-plain.ts';
import type { Told } from './place.ts';
import { yamlError } from './yaml-error.ts';
import { atOpening } from './yaml-opening.ts';

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
  const told = [
    ...doc.errors.map((error) => atOpening(yaml, doc, yamlError(error, text), text)),
    ...notPlain(yaml, doc, text),
  ];
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
