import { spawn } from 'node:child_process';

/** Nothing takes so long but what hangs. */
const HANGS_AFTER_MS = 60_000;

/** Runs Node to its end, and gives what it told. One that hangs ends by the signal. */
export async function ended(args, options) {
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'], ...options });
  const timer = setTimeout(() => child.kill('SIGKILL'), HANGS_AFTER_MS);
  let out = '';
  let err = '';
  child.stdout.on('data', (data) => (out += data));
  child.stderr.on('data', (data) => (err += data));
  const [code, signal] = await new Promise((resolve) => child.on('close', (...how) => resolve(how)));
  clearTimeout(timer);
  return { code, signal, out, err };
}
