// Drawn ledgers and imports, damaged in many ways, through the whole program: it says what is wrong with them and never fails itself.
// One more kind of input: parts/fuzz/kinds.mjs. What must hold: parts/fuzz/laws.mjs.
import { spawn } from 'node:child_process';
import { cpSync, existsSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildProgramRoom } from './parts/fuzz/build-room.mjs';
import { runShipped } from './parts/fuzz/shipped.mjs';

export const name = 'fuzz';
export const floors = { 'through everything': 5, 'only read': 80, 'by the program itself': 4 };

const WORKER = fileURLToPath(new URL('parts/fuzz/worker.mjs', import.meta.url));
/** So long without a word is a hang; a case that takes a second of processor time is told by its law. */
const SILENT_MS = 60_000;
/** Of the time, for processes of the shipped program. */
const SHIPPED = 0.15;

export async function run({ seconds, seed, program, folder, say }) {
  const keep = join(tmpdir(), `bathbook-fuzz-${seed}`);
  const room = await buildProgramRoom(join(folder, 'room.cjs'));
  const begunMs = Date.now();
  const untilMs = begunMs + seconds * 1000;
  const step = Math.min(4, availableParallelism());
  const workers = Array.from({ length: step }, (_, from) =>
    runWorker(
      { room, folder, keep, seed, from, step, untilMs: begunMs + seconds * 1000 * (1 - SHIPPED) },
      say,
    ),
  );
  const told = await Promise.all(workers);
  const sum = (figure) => told.reduce((all, one) => all + one[figure], 0);
  const perSecond = Math.round(((sum('cases') + sum('reads')) * 1000) / (Date.now() - begunMs));
  const shipped = await runShipped({ program, folder, keep, seed, untilMs });
  const figures = {
    inputs: sum('cases') + sum('reads') + shipped.cases,
    'inputs a second': perSecond,
    'through everything': sum('cases'),
    'only read': sum('reads'),
    'by the program itself': shipped.cases,
    processes: step,
    'heap MB': Math.max(...told.map(({ peakHeapMb }) => peakHeapMb)),
    'memory MB': Math.max(...told.map(({ peakRssMb }) => peakRssMb)),
  };
  return { figures, failures: [...told.flatMap(({ failures }) => failures), ...shipped.failures] };
}

function runWorker(work, say) {
  const most = Number.MAX_SAFE_INTEGER;
  const child = spawn(process.execPath, ['--expose-gc', WORKER, JSON.stringify({ ...work, most })], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const told = { cases: 0, reads: 0, peakHeapMb: 0, peakRssMb: 0, failures: [], at: work.from };
  let isDone = false;
  let rest = '';
  let err = '';
  let timer;
  const wait = () => {
    clearTimeout(timer);
    timer = setTimeout(() => child.kill('SIGKILL'), SILENT_MS);
  };
  wait();
  child.stderr.on('data', (piece) => (err = (err + piece).slice(-4000)));
  child.stdout.on('data', (piece) => {
    wait();
    const lines = (rest + piece).split('\n');
    rest = lines.pop();
    for (const line of lines) {
      const { at, failure, done, ...figures } = JSON.parse(line);
      if (at !== undefined) told.at = at;
      if (failure) say(failure);
      if (failure) told.failures.push(failure);
      if (done) isDone = true;
      if (done) Object.assign(told, figures);
    }
  });
  return new Promise((resolve) => {
    child.on('close', (code, signal) => {
      clearTimeout(timer);
      if (!isDone) told.failures.push(cutShort({ ...work, at: told.at, how: signal ?? code, err }));
      resolve(told);
    });
  });
}

/** What it was at is kept as it was. */
function cutShort({ folder, keep, seed, from, at, how, err }) {
  const own = join(folder, `own-${from}`);
  const where = join(keep, `${seed}-${at}`);
  if (existsSync(own)) cpSync(own, where, { recursive: true });
  return `case ${at} of seed ${seed} ended the process (${how}), kept in ${where}: ${err}`;
}
