import type { Collector } from './collector.ts';
import { findControlSign } from './control-sign.ts';
import type { Header } from './header.ts';
import type { Catalogue } from './names.ts';
import { oddNumbers } from './odd-numbers.ts';
import { placed, type Told } from './place.ts';
import { quickHead } from './quick.ts';
import { checkHeaderRules } from './rules-header.ts';
import { scanHeader } from './scan-header.ts';

/** The head of a ledger (everything before `events:`), or null with what is wrong in `out`. */
export async function readHead(text: string, out: Collector, catalogue?: Catalogue): Promise<Header | null> {
  const sign = findControlSign(text.replace(/\r$/, '')); // A file may be cut inside its last line end.
  if (sign !== undefined) {
    out.add(placed({ text, firstLine: 1 }, sign));
    return null;
  }
  const scanned = scanHeader(text);
  if (
    scanned !== null &&
    quickHead(scanned) &&
    checkHeaderRules(scanned as unknown as Header, catalogue).length === 0
  ) {
    return scanned as unknown as Header;
  }
  const { checkHeader, explainHeader } = await import('./check-header.ts');
  if (scanned !== null && checkHeader(scanned, catalogue)) {
    return scanned as unknown as Header;
  }
  const { parseYaml } = await import('./parse-yaml.ts');
  const parsed = await parseYaml(text);
  const snippet = { text, firstLine: 1 };
  const found: Told[] = [...parsed.told];
  if (found.length === 0) {
    const odd = oddNumbers(parsed.value, parsed.source);
    const wrong = explainHeader(parsed.value, parsed.source, catalogue);
    found.push(...[...odd, ...unsaid(wrong, odd)].map(parsed.place));
  }
  for (const one of found) {
    out.add(placed(snippet, one));
  }
  return found.length === 0 ? (parsed.value as Header) : null;
}

/** Findings about other places than those already told. */
export function unsaid<F extends { path: readonly (string | number)[]; code: string }>(
  found: readonly F[],
  told: readonly F[],
): F[] {
  const places = new Set(
    found.filter((one) => one.code === 'text-needs-quotes').map((one) => one.path.join('.')),
  );
  const said = new Set(told.map((one) => one.path.join('.')).filter((place) => !places.has(place)));
  return found.filter((one) => !said.has(one.path.join('.')));
}
