import { FlowScanner } from './scan-flow.ts';

/**
 * The event on the line `text[start, end)`, read by the fast scanner; null when the line is not in the narrow form
 * `  - {key: value, …}  # comment` and must go to the `yaml` package.
 */
export function scanEvent(text: string, start: number, end: number): Record<string, unknown> | null {
  const scanner = new FlowScanner(text, start, end);
  scanner.skipSpaces();
  if (text.charCodeAt(scanner.at) !== 45 || text.charCodeAt(scanner.at + 1) !== 32) {
    return null;
  }
  scanner.at += 2;
  scanner.skipSpaces();
  if (scanner.at >= end || text.charCodeAt(scanner.at) !== 123) {
    return null;
  }
  const found = scanner.map();
  return found !== undefined && scanner.atRest() ? found : null;
}
