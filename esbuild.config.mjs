// Bundles src/main.ts into dist/: one entry, and chunks that are loaded when a command needs them.
//
// esbuild splits ES modules only, and Node starts CommonJS a third of an empty start sooner (tests/bench); so the chunks
// are split as ES modules and then turned into CommonJS one by one.
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { build, transform } from 'esbuild';

const { version } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8'));
const outdir = process.argv[2] ?? 'dist';
const target = 'node20.19';

rmSync(outdir, { recursive: true, force: true });
const { metafile } = await build({
  entryPoints: { main: 'src/main.ts' },
  outdir,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target,
  // The build of yaml that is made of ES modules: a dynamic import of the other gives a module with a default only.
  alias: { yaml: './node_modules/yaml/browser/index.js' },
  loader: { '.csv': 'text', '.yaml': 'text' },
  define: { 'process.env.BATHBOOK_VERSION': JSON.stringify(version) },
  legalComments: 'none',
  metafile: true,
  logLevel: 'warning',
});
for (const name of readdirSync(outdir)) {
  const path = `${outdir}/${name}`;
  const { code } = await transform(readFileSync(path, 'utf8'), {
    format: 'cjs',
    platform: 'node',
    target,
    supported: { 'dynamic-import': false },
  });
  writeFileSync(path, code);
}
writeFileSync(`${outdir}/package.json`, '{"type": "commonjs"}\n');
// For the tests that watch what the first chunks hold.
writeFileSync(`${outdir}/meta.json`, JSON.stringify(metafile));
