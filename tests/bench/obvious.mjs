// The build that anybody would make first: one file, nothing packed, nothing left out. What the one of esbuild.config.mjs is held against.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';

/** @param {string} outdir @returns {Promise<string>} the program's path */
export async function buildObvious(outdir) {
  await build({
    entryPoints: { main: 'src/main.ts', 'compare-worker': 'src/commands/compare-worker.ts' },
    outdir,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20.19',
    loader: { '.csv': 'text', '.yaml': 'text', '.bash': 'text', '.fish': 'text', '.zsh': 'text' },
    banner: {
      js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url); const __dirname = import.meta.dirname;",
    },
    define: { 'process.env.BATHBOOK_VERSION': '"0.0.0"' },
    logLevel: 'error',
  });
  writeFileSync(join(outdir, 'package.json'), '{"type": "module"}\n');
  return join(outdir, 'main.js');
}
