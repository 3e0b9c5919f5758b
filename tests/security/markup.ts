/** What a page of HTML is made of: a reader of tags, in the few rules of the HTML standard that pages with quoted attributes need. */

interface Markup {
  elements: Map<string, number>;
  attributes: Set<string>;
  /** What stands in scripts and styles. */
  bodies: string[];
  /** Where links and sources lead. */
  links: string[];
}

const TAG = /<!--[\s\S]*?-->|<!doctype[^>]*>|<(\/?)([a-z][^\s/>]*)((?:[^>"']|"[^"]*"|'[^']*')*)>/gi;
const ATTRIBUTE = /([^\s=/"'<>]+)(?:\s*=\s*("[^"]*"|'[^']*'|[^\s>]+))?/g;
const LEADS = new Set(['href', 'src', 'action', 'xlink:href', 'data', 'formaction']);

export function markupOf(page: string): Markup {
  const found: Markup = { elements: new Map(), attributes: new Set(), bodies: [], links: [] };
  for (let match = next(page, 0); match; match = next(page, match.end)) {
    const { name, rest, isEnd } = match;
    if (name === undefined || isEnd) continue;
    found.elements.set(name, (found.elements.get(name) ?? 0) + 1);
    for (const [, attribute, value = ''] of rest.matchAll(ATTRIBUTE)) {
      found.attributes.add(`${name} ${attribute!.toLowerCase()}`);
      if (LEADS.has(attribute!.toLowerCase())) found.links.push(value);
    }
    if (name !== 'script' && name !== 'style') continue;
    // Such an element ends at its end tag, whatever stands in it.
    const end = page.toLowerCase().indexOf(`</${name}`, match.end);
    found.bodies.push(page.slice(match.end, end));
    match.end = end;
  }
  return found;
}

function next(
  page: string,
  from: number,
): { name: string | undefined; rest: string; isEnd: boolean; end: number } | null {
  TAG.lastIndex = from;
  const match = TAG.exec(page);
  if (!match) return null;
  const [all, slash, name, rest = ''] = match;
  return { name: name?.toLowerCase(), rest, isEnd: slash === '/', end: match.index + all.length };
}
