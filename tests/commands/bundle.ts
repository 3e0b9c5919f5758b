/** The program as it is shipped: bundled afresh into a folder of its own, run as a child process. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

export interface Ran {
  code: number | null;
  out: string;
  err: string;
}

export interface RunOptions {
  cwd?: string;
  /** The whole environment: nothing is handed down from the tests' own. */
  env?: Record<string, string>;
  input?: string;
}

/** A folder that is gone after the tests of the file. */
export function tempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'bathbook-test-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Bundles the program once for a test file and gives the path of its entry. */
export function bundled(): string {
  const outdir = join(tempFolder(), 'dist');
  execFileSync(process.execPath, ['esbuild.config.mjs', outdir]);
  return join(outdir, 'main.js');
}

/** Runs the program in an environment that holds nothing but what is given, as cron does. */
export function runner(main: string): (args: readonly string[], options?: RunOptions) => Ran {
  return (args, { cwd, env = {}, input = '' } = {}) => {
    const ran = spawnSync(process.execPath, [main, ...args], { cwd, env, input, encoding: 'utf8' });
    return { code: ran.status, out: ran.stdout, err: ran.stderr };
  };
}

export const HEAD = `format: bathbook/1
shop:
  name: Cove Street Bench
  timezone: America/Halifax
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
events:
`;

/** A small shop: two fills, two washes, a top-up. */
export const LINES = [
  '  - {id: "fill2", at: 2026-11-16T08:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000, by: "NB"}',
  '  - {id: "fill3", at: 2026-11-16T08:05:00-04:00, what: fill, bath: clean, solvent: ipa99, ml: 4000, by: "NB"}',
  '  - {id: "k3f9x", at: 2026-11-17T11:20:00-04:00, what: wash, parts: {model: 6, mask: 2}, drained_min: 30, cases: ["26-0117"], lot: "R7", by: "NB"}',
  '  - {id: "tpup4", at: 2026-11-18T09:00:00-04:00, what: top-up, bath: clean, solvent: ipa99, to: mark, by: "TO"}',
  '  - {id: "wash5", at: 2026-11-19T16:40:00-04:00, what: wash, parts: {splint: 3}, prerinse: spray, minutes: [4, 5], by: "NB"}',
];

/** The clock of most tests: a day after the last event. */
export const NOW = '2026-11-20T17:00:00-04:00';

/** Writes a ledger into a folder of its own and gives its path. */
export function ledgerOf(lines: readonly string[] = LINES, head = HEAD): string {
  const path = join(tempFolder(), 'bathbook.yaml');
  writeFileSync(path, head + lines.map((line) => `${line}\n`).join(''));
  return path;
}
