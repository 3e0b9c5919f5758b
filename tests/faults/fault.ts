import { readdirSync, readFileSync } from 'node:fs';
import { refusalProblem } from '../../src/bath/refusal.ts';
import { openShop } from '../../src/bath/shop.ts';
import { believe } from '../../src/belief/believe.ts';
import { checkLedger } from '../../src/ledger/check.ts';
import { withExcerpt } from '../../src/ledger/excerpt.ts';
import type { Problem } from '../../src/ledger/problem.ts';
import { PROBLEMS } from '../../src/ledger/problems.ts';
import { renderProblem } from '../../src/render/problem.ts';

const folder = new URL('./', import.meta.url);
const catalogue = JSON.parse(readFileSync(new URL('../../data/catalogue.json', import.meta.url), 'utf8'));

/** The clock of every fixture. */
const CLOCK_MS = Date.parse('2026-12-01T12:00:00Z');

/** A ledger with one fault, and what the program says about it. */
export interface Fault {
  name: string;
  code: string;
  bytes: Uint8Array;
  problems: Problem[];
  printed: string;
}

/** Names of the fixtures without `.yaml`, as `code` or `code-n`. */
export const faultNames = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => name.slice(0, -'.yaml'.length))
  .sort();

export function codeOf(name: string): string {
  return name.replace(/-\d+$/, '');
}

/** What cannot have happened, as `check` tells it. */
function impossible({ file, settled }: Awaited<ReturnType<typeof checkLedger>>): Problem[] {
  if (file.header === null || file.problems.length > 0) return [];
  const shop = openShop(file.header);
  const { refused } = believe(shop, settled.entries, CLOCK_MS).replayed;
  return refused.map((one) => withExcerpt(file.text, refusalProblem(one, shop)));
}

export async function readFault(name: string): Promise<Fault> {
  const code = codeOf(name);
  const bytes = readFileSync(new URL(`${name}.yaml`, folder));
  const strict = PROBLEMS[code]?.found === 'strict';
  const checked = await checkLedger(bytes, { clockMs: CLOCK_MS, catalogue, strict });
  const problems = [...checked.problems, ...impossible(checked)];
  const printed = `${problems.map((problem) => renderProblem(problem, 'bathbook.yaml')).join('\n\n')}\n`;
  return { name, code, bytes, problems, printed };
}
