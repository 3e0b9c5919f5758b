// A share of the cases by the program as it is shipped: a process each, with its own streams, exit status and time.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { randomOf } from '../random.mjs';
import { drawCase } from './kinds.mjs';
import { broken } from './laws.mjs';

/** Far from the cases of the workers. */
const FROM = 500_000_000;
const HANGS_AFTER_MS = 60_000;

export async function runShipped({ program, folder, keep, seed, untilMs }) {
  const failures = [];
  let cases = 0;
  for (let nth = FROM; Date.now() < untilMs || cases < 5; nth += 1) {
    const drawn = drawCase(randomOf(seed * 1_000_003 + nth));
    const own = join(folder, `shipped-${nth}`);
    mkdirSync(own);
    for (const [name, bytes] of Object.entries(drawn.files)) writeFileSync(join(own, name), bytes);
    const ran = drawn.runs.map((args) => runOnce(program, args, own));
    const after = readFileSync(join(own, 'bathbook.yaml'));
    const told = broken({
      files: drawn.files,
      ran,
      after,
      unfit: () => null,
      readers: {},
    });
    cases += 1;
    for (const { law, why, command } of told) {
      const where = join(keep, `${seed}-${nth}`);
      mkdirSync(where, { recursive: true });
      for (const [name, bytes] of Object.entries(drawn.files)) writeFileSync(join(where, name), bytes);
      failures.push(
        `${law}, case ${nth} of seed ${seed}, by the shipped program: ${why}\n    bathbook ${command}\n    kept in ${where}`,
      );
    }
  }
  return { cases, failures };
}

function runOnce(program, args, cwd) {
  const ran = spawnSync(process.execPath, [program, ...args], {
    cwd,
    env: { HOME: cwd },
    timeout: HANGS_AFTER_MS,
    maxBuffer: 2 ** 26,
  });
  const [out, err] = [ran.stdout, ran.stderr].map((bytes) => bytes.toString());
  return {
    args,
    code: ran.status ?? `of ${ran.signal}`,
    out,
    err,
    data: [],
    cpuMs: ran.error ? HANGS_AFTER_MS : 0,
  };
}
