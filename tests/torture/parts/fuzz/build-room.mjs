// The whole program as one file that can be called again and again in one process, and tells what it said.
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const HERE = fileURLToPath(new URL('.', import.meta.url));

/** What stands in the place of a module of the program: streams that are kept, documents that are looked at, no changed engine. */
const INSTEAD = [
  [/\/streams\.ts$/, 'streams-kept.mjs'],
  [/\/engine\.ts$/, 'engine-as-it-is.mjs'],
  [/\/render\/json\.ts$|^\.\/json\.ts$/, 'documents-kept.mjs'],
];

export async function buildProgramRoom(outfile) {
  await build({
    entryPoints: [join(HERE, 'room.mjs')],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'node20.19',
    absWorkingDir: fileURLToPath(new URL('../../../..', import.meta.url)),
    alias: { yaml: './node_modules/yaml/browser/index.js' },
    loader: { '.csv': 'text', '.yaml': 'text', '.bash': 'text', '.fish': 'text', '.zsh': 'text' },
    define: {
      'process.env.BATHBOOK_VERSION': '"0.0.0"',
      'process.env.BATHBOOK_BUILD': '"fuzz"',
    },
    dropLabels: ['KILL_POINT'],
    logLevel: 'error',
    plugins: [{ name: 'instead', setup }],
  });
  return outfile;
}

function setup({ onResolve }) {
  for (const [filter, file] of INSTEAD)
    onResolve({ filter }, ({ importer }) =>
      importer.startsWith(HERE) ? undefined : { path: join(HERE, file) },
    );
}
