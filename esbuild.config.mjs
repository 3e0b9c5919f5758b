// Bundles src/main.ts into dist/.
//
// Start-up is paid by the file, which Node resolves, reads and wraps, and by the byte, which it parses. So the program is
// split by esbuild, which only splits ES modules; the chunks become CommonJS, which Node starts sooner; those that nearly
// every command needs are put into one file, each still run only when it is asked for, and the others, of which a command
// needs a few, stay in files of their own. Figures: npm run bench.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import { build, transform } from 'esbuild';

const { version } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8'));
// Tests bundle into folders of their own.
const outdir = process.argv[2] ?? 'dist';
// With the places where tests/torture kills the process.
const withKillPoints = process.argv[3] === '--with-kill-points';
// It is removed first: never anything but a folder.
if (!(statSync(outdir, { throwIfNoEntry: false })?.isDirectory() ?? true))
  throw new Error(`${outdir} is not a folder`);
const target = 'node20.19';
/** The file of what `baths` and `wash` need. */
const PACK = 'modules.js';
/** Loads that file: what everybody asks for a module of it. */
const LOADER = 'program.js';
/** In the place of the build's name until the code is known that it names. */
const BUILD = '@@BUILD@@';
const EVERYDAY = /^src\/commands\/(program|help|wash|baths)\.ts$/;
/** Inputs that keep a chunk out of the common file. */
const TEXTS = { '.csv': 'text', '.yaml': 'text', '.bash': 'text', '.zsh': 'text', '.fish': 'text' };
const RARE = /node_modules\/(?!commander\/|chalk\/)|^data\/.*\.(csv|yaml)$/;

rmSync(outdir, { recursive: true, force: true });
const { metafile } = await build({
  entryPoints: {
    main: 'src/main.ts',
    'compare-worker': 'src/commands/compare-worker.ts',
    'mesh-text-worker': 'src/commands/mesh-text-worker.ts',
  },
  outdir,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target,
  // The build of yaml made of ES modules: its other build, imported on demand, comes as a default export alone.
  alias: { yaml: './node_modules/yaml/browser/index.js' },
  loader: TEXTS,
  define: {
    'process.env.BATHBOOK_VERSION': JSON.stringify(version),
    'process.env.BATHBOOK_BUILD': JSON.stringify(BUILD),
  },
  dropLabels: withKillPoints ? [] : ['KILL_POINT'],
  legalComments: 'none',
  minifyWhitespace: true,
  metafile: true,
  logLevel: 'warning',
  plugins: [
    { name: 'unused', setup: withoutUnused },
    { name: 'apart', setup: withCompletionApart },
  ],
});

const everyday = reached(Object.keys(metafile.outputs).filter((path) => EVERYDAY.test(entryOf(path))));
const common = [];
const apart = [];
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
  if (everyday.has(path) && !alone) {
    common.push({ name, code });
    rmSync(path);
  } else apart.push({ path, code });
}
const packed = new Set(common.map(({ name }) => name));
const named = nameOf([...common, ...apart].map(({ code }) => code));
for (const { path, code } of apart) writeFileSync(path, asked(code).replaceAll(BUILD, named));
writeFileSync(`${outdir}/${PACK}`, packOf(common).replaceAll(BUILD, named));
await build({
  entryPoints: { program: 'src/pack.ts' },
  outdir,
  bundle: true,
  format: 'cjs',
  footer: { js: 'module.exports = module.exports.default;' },
  platform: 'node',
  target,
  define: { 'process.env.BATHBOOK_BUILD': JSON.stringify(named) },
  minifyWhitespace: true,
  logLevel: 'warning',
});
// What answers the shell is one small file of its own; the commands that the definitions name are not loaded by it.
await build({
  entryPoints: { complete: 'src/commands/complete.ts' },
  outdir,
  bundle: true,
  format: 'cjs',
  platform: 'node',
  target,
  legalComments: 'none',
  minifyWhitespace: true,
  logLevel: 'warning',
  plugins: [
    {
      name: 'no-commands',
      setup: ({ onResolve }) =>
        onResolve({ filter: /./ }, ({ kind, path }) =>
          kind === 'dynamic-import' ? { path, external: true } : undefined,
        ),
    },
  ],
});
writeFileSync(`${outdir}/package.json`, '{"type": "commonjs"}\n');
writeFileSync(`${outdir}/THIRD-PARTY.txt`, notices(Object.keys(metafile.inputs)));
// The man page, which npm installs beside the command.
if (outdir === 'dist')
  writeFileSync(
    `${outdir}/bathbook.1`,
    execFileSync(process.execPath, [`${outdir}/main.js`, 'docs', 'man'], { env: {} }),
  );
// For the tests that watch what the common file holds.
writeFileSync(`${outdir}/meta.json`, JSON.stringify({ ...metafile, common: [...packed] }));

/** The packages whose code is in the bundle, with their licences, which ask to go along. */
function notices(inputs) {
  const folders = new Set(
    inputs.map((path) => /^node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0]).filter((folder) => folder),
  );
  const ofPackage = (folder) => {
    const { name, version, license } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
    const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
    const text = file ? readFileSync(`${folder}/${file}`, 'utf8').trim() : '';
    return `${name} ${version} (${license})\n\n${text}`.trim();
  };
  return `bathbook contains code of these packages.\n\n${[...folders].sort().map(ofPackage).join('\n\n---\n\n')}\n`;
}

/** A build is named by its code. */
function nameOf(codes) {
  const hash = createHash('sha256');
  for (const code of codes.sort()) hash.update(code);
  return hash.digest('hex').slice(0, 16);
}

/**
 * What packages load and we never use, and Node takes a millisecond or three for: commander can start other programs as commands; chalk
 * looks what the terminal can, which is ours to decide (src/render/paint.ts).
 */
function withoutUnused({ onResolve, onLoad }) {
  const none = (contents) => (importer, within) =>
    importer.includes(within) ? { path: contents, namespace: 'none' } : undefined;
  const nothing = none('module.exports = {};');
  const noColour = none('export default { stdout: false, stderr: false };');
  onResolve({ filter: /^node:child_process$/ }, ({ importer }) =>
    nothing(importer, 'node_modules/commander/'),
  );
  onResolve({ filter: /^#supports-color$/ }, ({ importer }) => noColour(importer, 'node_modules/chalk/'));
  onLoad({ filter: /./, namespace: 'none' }, ({ path }) => ({ contents: path }));
}

function withCompletionApart({ onResolve }) {
  onResolve({ filter: /\/commands\/complete\.ts$/ }, () => ({ path: './complete.js', external: true }));
}

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

/** The code of a file of its own, which asks the common file for what that holds. */
function asked(code) {
  return code.replaceAll(/\brequire\("(\.\/[^"]+)"\)/g, (call, name) =>
    packed.has(name) ? `require("./${LOADER}")("${name}")` : call,
  );
}

/** One file of many modules: a function that is given what loads others, and gives what loads these, each run on first use. */
function packOf(modules) {
  const table = modules.map(
    ({ name, code }) => `${JSON.stringify(name)}(module, exports, require) {\n${code}}`,
  );
  return `(function (outside) {
"use strict";
const modules = {\n${table.join(',\n')}\n};
const loaded = {};
function load(name) {
  if (!Object.hasOwn(modules, name)) return outside(name);
  if (loaded[name]) return loaded[name].exports;
  const module = (loaded[name] = { exports: {} });
  modules[name](module, module.exports, load);
  module.exports = plain(module.exports);
  return module.exports;
}
// Each export is a getter that asks another one; once the module has run nothing changes any more, and a value is got sooner.
function plain(given) {
  const values = {};
  for (const name in given) values[name] = given[name];
  return values;
}
return load;
})`;
}
