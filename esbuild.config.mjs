// Bundles src/main.ts into dist/: one entry, and one chunk for each command, loaded when the command is called.
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';

const { version } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8'));
const outdir = 'dist';

rmSync(outdir, { recursive: true, force: true });
const result = await build({
  entryPoints: { main: 'src/main.ts' },
  outdir,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20.19',
  loader: { '.csv': 'text' },
  define: { 'process.env.BATHBOOK_VERSION': JSON.stringify(version) },
  // cli-table3 and commander are CommonJS and ask for Node's own modules by require().
  banner: {
    js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
  },
  legalComments: 'none',
  metafile: true,
  logLevel: 'warning',
});
// Read by the tests that watch what the first chunk holds; not part of the package.
writeFileSync(`${outdir}/meta.json`, JSON.stringify(result.metafile));
