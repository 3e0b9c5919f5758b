// Tries to make the program lose a line: every part found in this folder, one after the other.
//   npm run torture                             a minute in all
//   npm run torture -- --minutes 30 --only chaos,kill --seed 7
//   npm run torture -- --json                   the figures as JSON, for torture.test.ts
// How to add a part: README.md.
import { mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { buildProgram } from './parts/build.mjs';

const HERE = fileURLToPath(new URL('.', import.meta.url));
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
/** No part needs so much longer than its share but one that hangs. */
const HANGS_AFTER = { shares: 4, andSeconds: 120 };

const { values: given } = parseArgs({
  options: {
    minutes: { type: 'string', default: '1' },
    only: { type: 'string' },
    seed: { type: 'string' },
    json: { type: 'boolean', default: false },
    // For the tests of this file.
    parts: { type: 'string', default: HERE },
  },
});
const seconds = Number(given.minutes) * 60;
const seed = given.seed === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(given.seed);
if (!(seconds > 0) || !Number.isSafeInteger(seed)) stop('--minutes and --seed take a number');

const parts = await partsOf(given.parts, given.only?.split(','));
const folder = mkdtempSync(join(tmpdir(), 'bathbook-torture-'));
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(130));
process.on('exit', () => rmSync(folder, { recursive: true, force: true, maxRetries: 3 }));

const done = [];
say(`torture, ${parts.length} parts, ${seconds} s in all, seed ${seed}`);
const program = buildProgram(ROOT, join(folder, 'program'));
const startMs = performance.now();
for (const [nth, part] of parts.entries()) {
  const leftSeconds = seconds - (performance.now() - startMs) / 1000;
  done.push(await runPart(part, Math.max(1, leftSeconds / (parts.length - nth))));
}
if (given.json) process.stdout.write(`${JSON.stringify({ seed, parts: done })}\n`);
else process.stdout.write(`\n${tableOf(done)}`);
const failed = done.filter(({ failures }) => failures.length > 0);
for (const { name, failures } of failed) {
  for (const failure of failures.slice(0, 20)) say(`FAILED ${name}: ${failure}`);
  if (failures.length > 20) say(`FAILED ${name}: and ${failures.length - 20} more`);
  say(`again with: npm run torture -- --only ${name} --seed ${seed} --minutes ${given.minutes}`);
}
process.exit(failed.length > 0 ? 1 : 0);

async function partsOf(where, only) {
  const files = readdirSync(where).filter((name) => name.endsWith('.mjs') && name !== 'run.mjs');
  const all = [];
  for (const file of files.sort()) all.push(await import(pathToFileURL(join(where, file))));
  const unknown = only?.filter((name) => all.every((part) => part.name !== name)) ?? [];
  if (unknown.length > 0) stop(`no part ${unknown.join(', ')}; there are ${all.map((part) => part.name)}`);
  return only ? all.filter(({ name }) => only.includes(name)) : all;
}

async function runPart({ name, run, floors = {} }, forSeconds) {
  const own = join(folder, name);
  mkdirSync(own);
  say(`${name}: ${Math.round(forSeconds)} s`);
  const fromMs = performance.now();
  let timer;
  const hang = new Promise((_, reject) => {
    const { shares, andSeconds } = HANGS_AFTER;
    const ms = 1000 * (shares * forSeconds + andSeconds);
    timer = setTimeout(() => reject(new Error(`not done after ${Math.round(ms / 1000)} s`)), ms);
  });
  const options = {
    seconds: forSeconds,
    seed,
    program,
    folder: own,
    root: ROOT,
    say: (line) => say(`${name}: ${line}`),
  };
  const { figures = {}, failures = [] } = await Promise.race([(async () => run(options))(), hang]).catch(
    (error) => ({
      failures: [error.stack],
    }),
  );
  clearTimeout(timer);
  for (const [figure, least] of Object.entries(floors))
    if (!(figures[figure] >= least))
      failures.push(`${figure} is ${figures[figure]}, which is too few to say anything; at least ${least}`);
  figures.seconds = Math.round((performance.now() - fromMs) / 100) / 10;
  return { name, figures, floors, failures };
}

function tableOf(all) {
  const rows = all.flatMap(({ name, figures, failures }) => [
    [name, failures.length === 0 ? 'held' : `FAILED ${failures.length} times`],
    ...Object.entries(figures).map(([figure, value]) => [`  ${figure}`, spaced(value)]),
  ]);
  const width = Math.max(...rows.map(([first]) => first.length));
  return rows.map(([first, second]) => `${first.padEnd(width)}  ${second}\n`).join('');
}

function spaced(value) {
  return Number.isInteger(value) ? String(value).replaceAll(/\B(?=(\d{3})+$)/g, ' ') : String(value);
}

function say(line) {
  process.stderr.write(`${line}\n`);
}

function stop(why) {
  say(`Cannot start, ${why}`);
  process.exit(64);
}
