import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

/** The ledger room, or another list of exports, as one file of JavaScript, with the places where a process kills itself or without. */
export async function buildRoom(outfile, { withKillPoints = false, entry = 'room.mjs' } = {}) {
  await build({
    entryPoints: [fileURLToPath(new URL(entry, import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20.19',
    alias: { yaml: './node_modules/yaml/browser/index.js' },
    absWorkingDir: fileURLToPath(new URL('../../..', import.meta.url)),
    dropLabels: withKillPoints ? [] : ['KILL_POINT'],
    logLevel: 'error',
  });
  return outfile;
}

/** The program in a folder: bin/, dist/; gives its entry. */
export function buildProgram(root, folder, { withKillPoints = false } = {}) {
  const main = join(folder, 'bin', 'bathbook.js');
  mkdirSync(dirname(main), { recursive: true });
  const flags = withKillPoints ? ['--with-kill-points'] : [];
  execFileSync(process.execPath, ['esbuild.config.mjs', join(folder, 'dist'), ...flags], { cwd: root });
  writeFileSync(join(folder, 'bin', 'package.json'), '{"type": "commonjs"}\n');
  writeFileSync(main, "require('../dist/main.js');\n");
  return main;
}
