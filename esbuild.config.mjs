// Bundles src/main.ts into dist/.
//
// Start-up is paid by the file: Node resolves, reads and wraps each one. So the program is split by esbuild, which only
// splits ES modules; the chunks become CommonJS, which Node starts sooner; those that nearly every command needs are put
// into one file and most others into a second, each still run only when it is asked for. What is heavy and rare (YAML and
// date parsers, schemas, tables) stays in files of its own. Figures: npm run bench.
import { readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { build, transform } from 'esbuild';

const { version } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8'));
// Tests bundle into folders of their own.
const outdir = process.argv[2] ?? 'dist';
// It is removed first: never anything but a folder.
if (!(statSync(outdir, { throwIfNoEntry: false })?.isDirectory() ?? true))
  throw new Error(`${outdir} is not a folder`);
const target = 'node20.19';
/** What `baths` and `wash` need, and what other commands need. */
const PACKS = { everyday: 'program.js', other: 'more.js' };
const EVERYDAY = /^src\/commands\/(program|help|wash|baths)\.ts$/;
/** Inputs that keep a chunk out of the common file. */
const RARE = /node_modules\/(?!commander\/|chalk\/)|^data\/.*\.(csv|yaml)$/;

rmSync(outdir, { recursive: true, force: true });
const { metafile } = await build({
  entryPoints: { main: 'src/main.ts', 'compare-worker': 'src/commands/compare-worker.ts' },
  outdir,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target,
  // The build of yaml made of ES modules: its other build, imported on demand, comes as a default export alone.
  alias: { yaml: './node_modules/yaml/browser/index.js' },
  loader: { '.csv': 'text', '.yaml': 'text' },
  define: { 'process.env.BATHBOOK_VERSION': JSON.stringify(version) },
  legalComments: 'none',
  minifyWhitespace: true,
  metafile: true,
  logLevel: 'warning',
});

const everyday = reached(Object.keys(metafile.outputs).filter((path) => EVERYDAY.test(entryOf(path))));
const packs = { everyday: [], other: [] };
for (const [path, { inputs, entryPoint }] of Object.entries(metafile.outputs)) {
  const { code } = await transform(readFileSync(path, 'utf8'), {
    format: 'cjs',
    platform: 'node',
    target,
    minifyWhitespace: true,
    supported: { 'dynamic-import': false },
  });
  const name = `./${basename(path)}`;
  const alone = entryPoint === 'src/main.ts' || Object.keys(inputs).some((input) => RARE.test(input));
  const pack = everyday.has(path) ? 'everyday' : 'other';
  if (!alone) packs[pack].push({ name, code });
  writeFileSync(path, alone ? code : `module.exports = require('./${PACKS[pack]}')('${name}');\n`);
}
writeFileSync(`${outdir}/${PACKS.everyday}`, packed(packs.everyday, PACKS.other, packs.other));
writeFileSync(`${outdir}/${PACKS.other}`, packed(packs.other, PACKS.everyday, packs.everyday));
writeFileSync(`${outdir}/package.json`, '{"type": "commonjs"}\n');
// For the tests that watch what the common file holds.
writeFileSync(
  `${outdir}/meta.json`,
  JSON.stringify({ ...metafile, common: [...packs.everyday, ...packs.other].map(({ name }) => name) }),
);

function entryOf(path) {
  return metafile.outputs[path].entryPoint ?? '';
}

/** The chunks that these load, at once or on demand, without going into other commands. */
function reached(paths) {
  const found = new Set();
  const open = [...paths];
  for (let path = open.pop(); path !== undefined; path = open.pop()) {
    if (found.has(path) || !(path in metafile.outputs)) continue;
    const entry = entryOf(path);
    if (entry.startsWith('src/commands/') && !EVERYDAY.test(entry)) continue;
    found.add(path);
    open.push(...metafile.outputs[path].imports.map((one) => one.path));
  }
  return found;
}

/**
 * One file of many modules: asked for a name, it gives that module's exports, run on first use. What the other file holds is asked
 * of that at once, since going by way of the file of the name takes Node a third of a millisecond each.
 */
function packed(modules, otherFile, others) {
  const table = modules.map(
    ({ name, code }) => `${JSON.stringify(name)}(module, exports, require) {\n${code}}`,
  );
  return `"use strict";
const outside = require;
const others = new Set(${JSON.stringify(others.map(({ name }) => name))});
const modules = {\n${table.join(',\n')}\n};
const loaded = {};
function load(name) {
  if (others.has(name)) return outside('./${otherFile}')(name);
  if (!Object.hasOwn(modules, name)) return outside(name);
  if (loaded[name]) return loaded[name].exports;
  const module = (loaded[name] = { exports: {} });
  modules[name](module, module.exports, load);
  return module.exports;
}
module.exports = load;
`;
}
