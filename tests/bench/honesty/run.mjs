// Is the band honest? Simulated shops, judged by the program and by Bayes' rule without approximation.
//   npm run bench:honesty
//   npm run bench:honesty -- --judged 200 --shops 40 --seed 2 --draws 40000 --json honesty.json
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import { build } from 'esbuild';
import { summarise } from './measure.mjs';
import { report } from './table.mjs';

const root = fileURLToPath(new URL('../../..', import.meta.url));

const { values } = parseArgs({
  options: {
    shops: { type: 'string', default: '200' },
    judged: { type: 'string', default: '1000' },
    seed: { type: 'string', default: '1' },
    draws: { type: 'string', default: '40000' },
    json: { type: 'string' },
  },
});

/** @param {'shops' | 'judged' | 'seed' | 'draws'} name */
function whole(name) {
  const value = Number(values[name]);
  if (Number.isInteger(value) && value >= 0) return value;
  console.error(`Cannot read --${name} "${values[name]}": it takes a whole number`);
  process.exit(64);
}

const [shops, seed, draws] = [whole('shops'), whole('seed'), whole('draws')];
const judged = Math.max(whole('judged'), shops);

/** The code under test as one module. @param {string} folder */
async function bundled(folder) {
  const outfile = join(folder, 'under-test.mjs');
  await build({
    absWorkingDir: root,
    entryPoints: [fileURLToPath(new URL('./under-test.ts', import.meta.url))],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20.19',
    alias: { yaml: './node_modules/yaml/browser/index.js' },
    loader: { '.csv': 'text', '.yaml': 'text' },
    logLevel: 'warning',
  });
  return pathToFileURL(outfile).href;
}

/** All rows, shops handed out one by one to as many workers as there are processors. @param {string} bundle */
function rowsOf(bundle) {
  /** @type {import('./measure.mjs').Row[]} */
  const rows = [];
  let next = 0;
  const one = () =>
    new Promise((resolve, reject) => {
      const worker = new Worker(new URL('./worker.mjs', import.meta.url), {
        workerData: { seed, draws, shops, bundle },
      });
      worker.on('error', reject);
      worker.on('message', (more) => {
        rows.push(...more);
        if (next < judged) worker.postMessage(next++);
        else resolve(worker.terminate());
      });
    });
  return Promise.all(Array.from({ length: availableParallelism() }, one)).then(() =>
    rows.sort((a, b) => a.shop - b.shop),
  );
}

const folder = mkdtempSync(join(tmpdir(), 'honesty-'));
const start = performance.now();
try {
  const rows = await rowsOf(await bundled(folder));
  const figures = summarise(rows);
  const seconds = (performance.now() - start) / 1000;
  console.log(report(figures));
  console.log(`Seed ${seed}, at most ${draws} draws a shop, ${seconds.toFixed(0)} s`);
  if (values.json)
    writeFileSync(values.json, `${JSON.stringify({ seed, draws, seconds, ...figures }, null, 1)}\n`);
  if (figures.problems.length > 0) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
