/** Python's own readers as a second opinion, where there is a Python. */
import { spawnSync } from 'node:child_process';

export const hasPython = spawnSync('python3', ['--version']).status === 0;

/** Runs a program that reads text from stdin and prints JSON. */
export function python(program: string, input: string): unknown {
  const ran = spawnSync('python3', ['-c', program], {
    input,
    encoding: 'utf8',
    env: { PATH: process.env.PATH, PYTHONIOENCODING: 'utf-8', PYTHONUTF8: '1' },
    maxBuffer: 64 * 1024 * 1024,
  });
  if (ran.status !== 0) throw new Error(ran.stderr);
  return JSON.parse(ran.stdout);
}

/** Rows of a CSV text as Python's csv module reads them. */
export function pythonRows(text: string): string[][] {
  const program =
    'import csv, io, json, sys\nd = sys.stdin.buffer.read().decode("utf-8")\nprint(json.dumps(list(csv.reader(io.StringIO(d, newline=""), strict=True))))';
  return python(program, text) as string[][];
}
