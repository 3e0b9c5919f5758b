import type { Document, Node } from 'yaml';
import type { Told } from './place.ts';

type Yaml = typeof import('yaml');

/**
 * A quote or a bracket that is not closed on its line makes the parser stumble lines later, or at the end; what is wrong is where it
 * was opened.
 */
export function atOpening(yaml: Yaml, doc: Document, told: Told, text: string): Told {
  let opening: number | undefined;
  yaml.visit(doc, {
    Node: (_, node) => {
      const start = node.range?.[0];
      if (opening === undefined && start !== undefined && start <= told.start && isOpen(yaml, node, text)) {
        opening = text.slice(start, told.start + 1).includes('\n') ? start : undefined;
      }
    },
  });
  return opening === undefined || told.code !== 'bad-yaml'
    ? told
    : { ...told, start: opening, end: opening + 1 };
}

/** True for a quoted text of several lines, and for braces or brackets without their end. */
function isOpen(yaml: Yaml, node: Node, text: string): boolean {
  const [start, end] = node.range!;
  if (yaml.isScalar(node)) {
    const isQuoted = node.type === 'QUOTE_DOUBLE' || node.type === 'QUOTE_SINGLE';
    return isQuoted && text.slice(start, end).includes('\n');
  }
  return yaml.isCollection(node) && node.flow === true && !/[}\]]/.test(text.charAt(end - 1));
}
