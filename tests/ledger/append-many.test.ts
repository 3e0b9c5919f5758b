/** Several processes write to one ledger at once, and some of them are killed while they do. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readLedger } from '../../src/ledger/read.ts';
import { ledger } from './sample.ts';

let folder = '';
let worker = '';
let path = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-append-'));
  worker = join(folder, 'worker.mjs');
  await build({
    entryPoints: [fileURLToPath(new URL('append-worker.ts', import.meta.url))],
    outfile: worker,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20.19',
    external: ['yaml'],
    logLevel: 'error',
  });
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

beforeEach(() => {
  path = join(mkdtempSync(join(folder, 'shop-')), 'bathbook.yaml');
  writeFileSync(path, ledger());
});

interface Writer {
  child: ChildProcess;
  /** What it printed, once it has ended. */
  printed: Promise<string[]>;
}

function start(count: number): Writer {
  const child = spawn(process.execPath, [worker, path, String(count)], { stdio: ['ignore', 'pipe', 'pipe'] });
  let output = '';
  child.stdout.on('data', (data) => {
    output += data;
  });
  child.stderr.on('data', (data) => {
    output += `STDERR ${data}`;
  });
  const printed = new Promise<string[]>((resolve) =>
    child.on('close', () => resolve(output.split('\n').filter(Boolean))),
  );
  return { child, printed };
}

async function idsInFile(): Promise<string[]> {
  const file = await readLedger(readFileSync(path));
  expect(file.problems).toEqual([]);
  expect(file.tail).toBe('whole');
  return file.events.map((written) => written.event.id);
}

describe('many writers', () => {
  it('lose nothing, double nothing, tear nothing', async () => {
    const writers = Array.from({ length: 6 }, () => start(15));
    const confirmed = (await Promise.all(writers.map((writer) => writer.printed))).flat();
    const ids = await idsInFile();
    expect(ids).toHaveLength(90);
    expect([...ids].sort()).toEqual([...confirmed].sort());
    expect(new Set(ids).size).toBe(90);
    expect(readdirSync(join(path, '..'))).toEqual(['bathbook.yaml']);
  });

  it('that are killed lose nothing that was confirmed, and their locks do not stay', async () => {
    const confirmed: string[] = [];
    const rounds = 8;
    for (let round = 0; round < rounds; round++) {
      const writers = Array.from({ length: 3 }, () => start(200));
      // A busy machine takes long to start them.
      await Promise.race(writers.map(({ child }) => once(child.stdout!, 'data')));
      await new Promise((resolve) => setTimeout(resolve, 60 + round * 17));
      for (const writer of writers) {
        writer.child.kill('SIGKILL');
      }
      confirmed.push(...(await Promise.all(writers.map((writer) => writer.printed))).flat());
    }
    const last = await start(1).printed;
    expect(last).toHaveLength(1);
    confirmed.push(...last);
    expect(confirmed.filter((line) => !/^[2-9a-z]{5}$/.test(line))).toEqual([]);
    expect(confirmed.length).toBeGreaterThan(rounds);
    const ids = await idsInFile();
    expect(new Set(ids).size).toBe(ids.length);
    expect(confirmed.filter((id) => !ids.includes(id))).toEqual([]);
    expect(existsSync(`${path}.lock`)).toBe(false);
  });
});
