import type { Document, Node } from 'yaml';
import { show } from './explain.ts';
import type { Told } from './place.ts';

type Yaml = typeof import('yaml');
type Wrong = Pick<Told, 'code' | 'message' | 'help'> & { mark?: string };

/** Anchors, aliases, tags and keys that would not be read as they look. */
export function notPlain(yaml: Yaml, doc: Document, text: string): Told[] {
  const told: Told[] = [];
  yaml.visit(doc, (key, node) => {
    if (!yaml.isNode(node)) {
      return;
    }
    const wrong = wrongNode(yaml, node) ?? (key === 'key' ? wrongKey(yaml, node) : undefined);
    if (wrong !== undefined) {
      const { mark, ...rest } = wrong;
      told.push({ ...rest, ...rangeOf(node, mark, text) });
    }
  });
  return told;
}

/** The range of a node; of one with an anchor or a tag, that mark, which stands before it. */
function rangeOf(node: Node, mark: string | undefined, text: string): { start: number; end: number } {
  const [start, end] = node.range ?? [0, 1];
  const at = mark === undefined ? -1 : text.lastIndexOf(mark, start);
  return at < 0 ? { start, end: Math.max(start + 1, end) } : { start: at, end: at + mark!.length };
}

function wrongNode(yaml: Yaml, node: Node): Wrong | undefined {
  if (yaml.isAlias(node)) {
    return {
      code: 'alias',
      message: `Cannot use the alias "*${node.source}" in a ledger`,
      help: 'Write the value out',
    };
  }
  if (node.anchor !== undefined) {
    const mark = `&${node.anchor}`;
    const help = 'Take the anchor out and write the value out where it is used';
    return { code: 'anchor', message: `Cannot use the anchor "${mark}" in a ledger`, help, mark };
  }
  if (node.tag !== undefined) {
    const mark = node.tag.replace('tag:yaml.org,2002:', '!!');
    return {
      code: 'tag',
      message: `Cannot use the tag "${mark}" in a ledger`,
      help: 'Take the tag out',
      mark,
    };
  }
  return undefined;
}

function wrongKey(yaml: Yaml, node: Node): Wrong | undefined {
  if (!yaml.isScalar(node)) {
    return {
      code: 'bad-yaml',
      message: 'Cannot use a map or a list as a key',
      help: 'Write a plain word before the colon',
    };
  }
  if (typeof node.value !== 'string') {
    const shown = node.source ?? show(node.value);
    return {
      code: 'text-needs-quotes',
      message: `Cannot use ${shown} as a key, it is read as ${show(node.value)}`,
      help: `Write it in quotes: ${JSON.stringify(shown)}: …`,
    };
  }
  // Objects treat this key in a way of their own, and the checks would not see it.
  return node.value === '__proto__'
    ? { code: 'bad-name', message: 'Cannot use "__proto__" as a key or a name', help: 'Use another word' }
    : undefined;
}
