// Is the band honest, and the date? Simulated shops, judged by the program, by Bayes' rule without approximation, and by the day
// on which the true baths meet their limit.
//   npm run bench:honesty
//   npm run bench:honesty -- --judged 200 --shops 40 --dates 200 --seed 2 --draws 40000 --json honesty.json
//   npm run bench:honesty -- --judged 0 --shops 0
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import { build } from 'esbuild';
import { summariseDates } from './dates-measure.mjs';
import { dateReport } from './dates-table.mjs';
import { summarise } from './measure.mjs';
import { report } from './table.mjs';

const root = fileURLToPath(new URL('../../..', import.meta.url));

const { values } = parseArgs({
  options: {
    shops: { type: 'string', default: '200' },
    judged: { type: 'string', default: '1000' },
    dates: { type: 'string', default: '2000' },
    seed: { type: 'string', default: '1' },
    draws: { type: 'string', default: '40000' },
    json: { type: 'string' },
  },
});

/** @param {'shops' | 'judged' | 'dates' | 'seed' | 'draws'} name */
function whole(name) {
  const value = Number(values[name]);
  if (Number.isInteger(value) && value >= 0) return value;
  console.error(`Cannot read --${name} "${values[name]}": it takes a whole number`);
  process.exit(64);
}

const [shops, seed, draws] = [whole('shops'), whole('seed'), whole('draws')];
const judged = Math.max(whole('judged'), shops);

const dates = whole('dates');

/** The code under test as one module. @param {string} folder @param {string} name */
async function bundled(folder, name) {
  const outfile = join(folder, `${name}.mjs`);
  await build({
    absWorkingDir: root,
    entryPoints: [fileURLToPath(new URL(`./${name}.ts`, import.meta.url))],
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

/**
 * All rows, shops handed out one by one to as many workers as there are processors.
 * @template {{shop: number}} Row
 * @param {'bands' | 'dates'} what
 * @param {number} many
 * @param {string} bundle
 * @returns {Promise<Row[]>}
 */
function rowsOf(what, many, bundle) {
  /** @type {Row[]} */
  const rows = [];
  let next = 0;
  const one = () =>
    new Promise((resolve, reject) => {
      const worker = new Worker(new URL('./worker.mjs', import.meta.url), {
        workerData: { what, seed, draws, shops, bundle },
      });
      worker.on('error', reject);
      worker.on('message', (more) => {
        rows.push(...more);
        if (next < many) worker.postMessage(next++);
        else resolve(worker.terminate());
      });
    });
  return Promise.all(Array.from({ length: availableParallelism() }, one)).then(() =>
    rows.sort((a, b) => a.shop - b.shop),
  );
}

const folder = mkdtempSync(join(tmpdir(), 'honesty-'));
const start = performance.now();
/** @type {Record<string, unknown>} */
const figures = { seed, draws };
let problems = 0;
try {
  if (judged > 0) {
    const bands = summarise(await rowsOf('bands', judged, await bundled(folder, 'under-test')));
    const seconds = (performance.now() - start) / 1000;
    console.log(report(bands));
    console.log(`Seed ${seed}, at most ${draws} draws a shop, ${seconds.toFixed(0)} s`);
    Object.assign(figures, { seconds, ...bands });
    problems += bands.problems.length;
  }
  if (dates > 0) {
    const rows = await rowsOf('dates', dates, await bundled(folder, 'dates-under-test'));
    const dated = summariseDates(rows);
    console.log(`${judged > 0 ? '\n' : ''}${dateReport(dated, seed)}`);
    figures.dates = dated;
    problems += dated.problems.length;
  }
  if (values.json) writeFileSync(values.json, `${JSON.stringify(figures, null, 1)}\n`);
  if (problems > 0) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
