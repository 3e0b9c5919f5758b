// A process that runs one case after the other until it is told to stop: `node --expose-gc worker.mjs '{"room": …, "folder": …, …}'`.
// Tells of each failure and of its figures, a line of JSON each. The case it is at is written down first, so that a hang is seen again.
import fs from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { randomOf } from '../random.mjs';
import { drawCase } from './kinds.mjs';
import { brokenRead, drawReads } from './reads.mjs';
import { newRunner } from './run-case.mjs';
import { schemas } from './schemas.mjs';
import { shrunk } from './shrink.mjs';

const MOST_HEAP_MB = 64;
const MOST_RSS_MB = 700;
const LOOK_EVERY = 500;
const MOST_FAILURES = 12;
const MOST_SHRINKING_MS = 10_000;
/** Texts that are only read, to each case that goes through everything. */
const READS = 16;

const { room: path, folder, keep, seed, from, step, untilMs, most } = JSON.parse(process.argv[2]);
// Waits and disks are not what is tried here.
const later = globalThis.setTimeout;
globalThis.setTimeout = (act, _, ...rest) => later(act, 0, ...rest);
fs.fsyncSync = () => {};
process.env = {
  HOME: join(folder, 'home'),
  BATHBOOK_DEBUG: '1',
  PATH: process.env.PATH,
};

const room = createRequire(import.meta.url)(path);
const own = join(folder, `own-${from}`);
fs.mkdirSync(own);
const run = newRunner(room, own, await schemas(room));
const seen = new Map();
let heapMb;
let peakHeapMb = 0;
let peakRssMb = 0;
let cases = 0;
let reads = 0;

for (let nth = from; Date.now() < untilMs && cases < most; nth += step) {
  if (seen.size >= MOST_FAILURES) break;
  tell({ at: nth });
  const drawn = drawCase(randomOf(seed * 1_000_003 + nth));
  for (const failure of await run(drawn)) await fail(nth, drawn, failure);
  cases += 1;
  for (const one of drawReads(randomOf(seed * 1_000_003 + nth + 250_000_000), READS)) {
    const failure = await brokenRead(room, one);
    if (failure) await failRead(nth, one, failure);
    reads += 1;
  }
  if (cases % LOOK_EVERY === 0) lookAtMemory(nth);
}
if (cases % LOOK_EVERY > 0) lookAtMemory(from);
tell({ done: true, cases, reads, peakHeapMb, peakRssMb });

/** Kept small, once for each way of failing. */
async function fail(nth, drawn, failure) {
  const again = (bytes) => run({ ...drawn, files: { ...drawn.files, [drawn.subject]: bytes } });
  const { command } = failure;
  await keepSmall({
    nth,
    failure,
    said: `\n    bathbook ${command}`,
    subject: drawn.subject,
    files: drawn.files,
    again,
    also: drawn.runs,
  });
}

async function failRead(nth, { kind, bytes }, failure) {
  const again = async (fewer) => [await brokenRead(room, { kind, bytes: fewer })].filter(Boolean);
  await keepSmall({
    nth,
    failure,
    said: '',
    subject: kind,
    files: { [kind]: bytes },
    again,
  });
}

async function keepSmall({ nth, failure: { law, why }, said, subject, files, again, also }) {
  const wayOf = (one) => `${one.law}: ${one.why.replaceAll(/\d+|"[^"]*"/g, 'n').slice(0, 80)}`;
  const way = wayOf({ law, why });
  seen.set(way, (seen.get(way) ?? 0) + 1);
  if (seen.get(way) > 1) return;
  const where = join(keep, `${seed}-${nth}`);
  tell({
    failure: `${law}, case ${nth} of seed ${seed}: ${why}${said}\n    kept in ${where}`,
  });
  const until = Date.now() + MOST_SHRINKING_MS;
  const fails = async (bytes) => Date.now() < until && (await again(bytes)).some((one) => wayOf(one) === way);
  const small = await shrunk(files[subject], fails);
  fs.mkdirSync(where, { recursive: true });
  for (const [name, bytes] of Object.entries(files)) fs.writeFileSync(join(where, name), bytes);
  fs.writeFileSync(join(where, `${subject}.whole`), files[subject]);
  fs.writeFileSync(join(where, subject), small);
  fs.writeFileSync(join(where, 'runs.json'), JSON.stringify({ law, why, runs: also }, null, 2));
}

/** After a collection of garbage the heap is no larger than it was, however many cases went through. */
function lookAtMemory(nth) {
  globalThis.gc();
  const { heapUsed, rss } = process.memoryUsage();
  heapMb ??= heapUsed / 2 ** 20;
  peakHeapMb = Math.max(peakHeapMb, Math.round(heapUsed / 2 ** 20));
  peakRssMb = Math.max(peakRssMb, Math.round(rss / 2 ** 20));
  if (heapUsed / 2 ** 20 > heapMb + MOST_HEAP_MB || rss / 2 ** 20 > MOST_RSS_MB)
    tell({
      failure: `memory: ${peakHeapMb} MB of heap from ${Math.round(heapMb)}, ${peakRssMb} MB in all by case ${nth} of seed ${seed}`,
    });
}

function tell(what) {
  fs.writeSync(1, `${JSON.stringify(what)}\n`);
}
