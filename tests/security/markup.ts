/** What a page of HTML is made of, as a browser reads it: by the parser of the HTML standard, parse5. */
import { type DefaultTreeAdapterMap, parse } from 'parse5';

interface Markup {
  elements: Map<string, number>;
  attributes: Set<string>;
  /** What stands in scripts and styles. */
  bodies: string[];
  /** Where links and sources lead. */
  links: string[];
}

type Node = DefaultTreeAdapterMap['node'];

const LEADS = new Set(['href', 'src', 'action', 'data', 'formaction', 'srcdoc', 'poster']);

export function markupOf(page: string): Markup {
  const found: Markup = { elements: new Map(), attributes: new Set(), bodies: [], links: [] };
  walk(parse(page), found);
  return found;
}

function walk(node: Node, found: Markup): void {
  if ('tagName' in node) {
    const { tagName, attrs } = node;
    found.elements.set(tagName, (found.elements.get(tagName) ?? 0) + 1);
    for (const { name, value } of attrs) {
      found.attributes.add(`${tagName} ${name}`);
      if (LEADS.has(name)) found.links.push(value);
    }
    if (tagName === 'script' || tagName === 'style') {
      found.bodies.push(node.childNodes.map((child) => ('value' in child ? child.value : '')).join(''));
    }
  }
  if ('childNodes' in node) for (const child of node.childNodes) walk(child, found);
}
