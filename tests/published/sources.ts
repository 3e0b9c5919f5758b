/** The ids that data/SOURCES.md defines. */
import { readFileSync } from 'node:fs';

export const SOURCES_TEXT = readFileSync(new URL('../../data/SOURCES.md', import.meta.url), 'utf8');

/** Ids that a line like `- **ONE, OTHER** · A · …` defines. */
export function mentioned(line: string): string[] {
  const [, ids] = /^- \*\*([^*]+)\*\*/.exec(line) ?? [];
  return ids?.split(', ') ?? [];
}

export const defined: ReadonlySet<string> = new Set(SOURCES_TEXT.split('\n').flatMap(mentioned));
