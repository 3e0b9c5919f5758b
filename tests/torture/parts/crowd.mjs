import { spawn } from 'node:child_process';
import { wholeBelow } from './random.mjs';

/**
 * Keeps as many processes running as there are slots, kills one at random again and again, and at the end all of them.
 *
 * @param slots - each gives `{args, ended}` when asked for the next process: its arguments, and what is told of its end,
 *   `{code, killed, out, err}`
 * @param on - `seconds` it lasts; `meanMs` between two kills, drawn from an exponential distribution; `env`, `cwd`
 * @returns how many were started and how many killed
 */
export async function crowd(slots, { seconds, meanMs, random, env, cwd }) {
  const running = new Set();
  const counts = { started: 0, killed: 0 };
  let isOver = false;
  const keep = async (next) => {
    while (!isOver) {
      const { args, ended } = next();
      counts.started += 1;
      ended(await processOf(args, { env, cwd, running }));
    }
  };
  const kept = slots.map(keep);
  const until = performance.now() + seconds * 1000;
  while (performance.now() < until) {
    await pause(-Math.log(1 - random()) * meanMs);
    const all = [...running].filter(({ killed }) => !killed);
    if (all.length > 0 && all[wholeBelow(random, all.length)].kill('SIGKILL')) counts.killed += 1;
  }
  isOver = true;
  for (const child of running) if (!child.killed && child.kill('SIGKILL')) counts.killed += 1;
  await Promise.all(kept);
  return counts;
}

function pause(ms) {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

function processOf(args, { env, cwd, running }) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, args, { env, cwd, stdio: ['ignore', 'pipe', 'pipe'] });
    running.add(child);
    let out = '';
    let err = '';
    child.stdout.on('data', (data) => {
      out += data;
    });
    child.stderr.on('data', (data) => {
      err += data;
    });
    child.on('close', (code, signal) => {
      running.delete(child);
      resolve({ code, killed: signal === 'SIGKILL', out, err });
    });
  });
}
