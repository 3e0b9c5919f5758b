import { MOST_PROBLEMS } from './collector.ts';
import type { SourceOf } from './explain.ts';
import type { Finding } from './finding.ts';
import { tooDeep } from './nesting.ts';
import { notPlain } from './not-plain.ts';
import type { Told } from './place.ts';
import { yamlError } from './yaml-error.ts';
import { atOpening } from './yaml-opening.ts';
import { type Path, Places } from './yaml-places.ts';

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
  const deep = tooDeep(yaml, text);
  if (deep !== undefined) {
    return {
      value: undefined,
      flow: false,
      told: [deep],
      source: () => undefined,
      place: (one) => ({ ...one, ...deep }),
    };
  }
  const doc = yaml.parseDocument(text, {
    version: '1.2',
    schema: 'core',
    uniqueKeys: true,
    prettyErrors: false,
    logLevel: 'error',
  });
  const told = [
    ...doc.errors.map((error, nth) => {
      const one = yamlError(error, text);
      return nth < MOST_PROBLEMS ? atOpening(yaml, doc, one, text) : one;
    }),
    ...notPlain(yaml, doc, text),
  ];
  const outer = doc.getIn([...prefix], true);
  let places: Places | undefined;
  const at = (path: Path) => {
    places ??= new Places(yaml, doc);
    return places.at(path);
  };
  const source: SourceOf = (path) => {
    const node = at([...prefix, ...path])?.value;
    return yaml.isScalar(node) && node.type === 'PLAIN' ? node.source : undefined;
  };
  return {
    value: told.length > 0 ? undefined : valueAt(doc.toJS() as unknown, prefix),
    flow: yaml.isCollection(outer) && outer.flow === true,
    told,
    source,
    place: (finding) => ({ ...finding, ...rangeOf(at, prefix, finding, text) }),
  };
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, key) => (inner as Record<string | number, unknown> | null | undefined)?.[key],
    value,
  );
}

function rangeOf(
  at: Places['at'],
  prefix: Path,
  finding: Finding,
  text: string,
): { start: number; end: number } {
  const full = [...prefix, ...finding.path];
  for (let length = full.length; length >= prefix.length; length--) {
    const found = at(full.slice(0, length));
    const node = finding.atKey === true && length === full.length ? found?.key : found?.value;
    const range = node?.range;
    if (range) {
      return { start: range[0], end: Math.max(range[0] + 1, range[1]) };
    }
  }
  return { start: 0, end: text.length };
}
