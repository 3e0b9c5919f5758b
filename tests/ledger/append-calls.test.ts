/**
 * Every call to the disk that a write makes, in its order, and each of them failing once: whatever fails, the ledger is as it was or has
 * the event, nothing is left beside it, and every file is closed.
 */
import { mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { append } from '../../src/ledger/append.ts';
import { create } from '../../src/ledger/append-create.ts';
import { cutLast } from '../../src/ledger/append-cut-last.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import type { Problem } from '../../src/ledger/problem.ts';
import { exitCodeOf } from '../../src/ledger/problems.ts';
import { FILL, HEAD, ledger, WASH } from './sample.ts';

interface Disk {
  calls: string[];
  /** Files that are open, by their numbers. */
  open: Map<number, string>;
  role(path: string): string;
  fails(nth: number, call: string): string | undefined;
}

const disk = vi.hoisted<Disk>(() => ({
  calls: [],
  open: new Map(),
  role: (path) => path,
  fails: () => undefined,
}));

vi.mock('node:fs', async (original) => {
  const real = await original<Record<string, (...args: unknown[]) => unknown>>();
  const watched = [
    'openSync', 'closeSync', 'readSync', 'writeSync', 'fsyncSync', 'ftruncateSync', 'fstatSync', 'linkSync', 'unlinkSync', 'renameSync',
    'mkdirSync', 'readFileSync', 'writeFileSync', 'readdirSync', 'statSync',
  ]; // biome-ignore format: names
  const watch = (name: string) => {
    const call = (...args: unknown[]) => {
      const [first, second] = args;
      const of = name === 'linkSync' ? second : first;
      const told = `${name.replace('Sync', '')} ${disk.role(typeof of === 'number' ? disk.open.get(of)! : String(of))}`;
      const nth = disk.calls.push(told) - 1;
      const code = disk.fails(nth, told);
      const fail = () => Object.assign(new Error(`${code}: it failed, ${name}`), { code, errno: -5 });
      if (code !== undefined && name !== 'closeSync') throw fail();
      const result = real[name]!(...args);
      if (name === 'openSync') disk.open.set(result as number, String(first));
      if (name === 'closeSync') disk.open.delete(first as number);
      // A file is closed whatever the system says of it.
      if (code !== undefined) throw fail();
      return result;
    };
    return [name, call] as const;
  };
  return { ...real, ...Object.fromEntries(watched.map(watch)) };
});

let folder = '';
let path = '';

beforeEach(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'bathbook-calls-')));
  path = join(folder, 'bathbook.yaml');
  disk.role = (at) =>
    at
      .replace(/^\/proc\/.*/, 'process')
      .replace(folder, '')
      .replace(/^\/?bathbook\.yaml/, 'ledger')
      .replace(/\.lock\.[0-9a-z]+-[0-9a-z]+$/, '.lock draft')
      .replace(/\.new-[0-9a-z]+-[0-9a-z]+$/, ' draft')
      .replace(/\.torn-.*/, ' torn')
      .replace(/^$/, 'folder');
});

afterEach(() => {
  disk.fails = () => undefined;
  rmSync(folder, { recursive: true, force: true });
});

const ROTATE: LedgerEvent = { id: 'r1', at: '2026-11-20T08:00:00-04:00', what: 'rotate' };
const LINE = '  - {id: "r1", at: 2026-11-20T08:00:00-04:00, what: rotate}\n';
const TORN = '  - {id: "k5q2", at: 2026-1';
const GONE = { token: 'x', pid: 2 ** 22 + 1, started: '1', host: hostname(), since: 'then', command: 'c' };

interface Scene {
  before: string | null;
  after: string;
  /** Beside the ledger when it went well. */
  beside?: RegExp[];
  prepare?(): void;
  act?(): Promise<{ problems: Problem[] }>;
}

const add = () => append(path, async () => ({ events: [ROTATE] }), { patienceMs: 40 });
const cut = () => cutLast(path, async () => ({ cut: true }), { patienceMs: 40 });
const make = async () => {
  const problem = create(path, HEAD);
  return { problems: problem === null ? [] : [problem] };
};

const SCENES: Record<string, Scene> = {
  'a line added': { before: ledger(FILL), after: ledger(FILL) + LINE },
  'a line added where the last one has no end': {
    before: ledger(FILL).trimEnd(),
    after: ledger(FILL) + LINE,
  },
  'the first line of an empty list': {
    before: `${HEAD}events: []\n`,
    after: `${HEAD}events:   \n${LINE}`,
  },
  'a line added, a torn one moved aside': {
    before: ledger(FILL) + TORN,
    after: ledger(FILL) + LINE,
    beside: [/^bathbook\.yaml\.torn-/],
  },
  'a line added under a lock that a dead process left': {
    before: ledger(FILL),
    after: ledger(FILL) + LINE,
    prepare: () => writeFileSync(`${path}.lock`, JSON.stringify(GONE)),
  },
  'the last line cut off': {
    before: ledger(FILL, WASH),
    after: ledger(FILL),
    beside: [/^bathbook\.yaml\.undone$/],
    act: cut,
  },
  'a new ledger': { before: null, after: HEAD, act: make },
};

interface Outcome {
  problems: Problem[];
  calls: string[];
  text: string | null;
  names: string[];
  open: string[];
}

function prepared({ before, prepare }: Scene): void {
  for (const name of readdirSync(folder)) rmSync(join(folder, name));
  if (before !== null) writeFileSync(path, before);
  prepare?.();
  disk.calls = [];
  disk.open.clear();
}

async function played(scene: Scene, fails: Disk['fails'] = () => undefined): Promise<Outcome> {
  prepared(scene);
  disk.fails = fails;
  const { problems } = await (scene.act ?? add)();
  disk.fails = () => undefined;
  const [calls, open] = [[...disk.calls], [...disk.open.values()]];
  const names = readdirSync(folder);
  return {
    problems,
    calls,
    open,
    names,
    text: names.includes('bathbook.yaml') ? readFileSync(path, 'utf8') : null,
  };
}

/** The calls that matter for what is on the disk. */
const CHANGES = /^(?:link|unlink|write|writeFile|fsync|ftruncate|rename|mkdir) /;

describe('what a write does to the disk, in its order', () => {
  const LOCKED = ['writeFile ledger.lock draft', 'link ledger.lock', 'unlink ledger.lock draft'];
  const ADDED = ['write ledger', 'fsync ledger'];
  const ORDER: Record<string, string[]> = {
    'a line added': [...LOCKED, ...ADDED, 'unlink ledger.lock'],
    'a line added where the last one has no end': [...LOCKED, ...ADDED, 'unlink ledger.lock'],
    // "[" becomes a remark first, then "]" goes, then the remark.
    'the first line of an empty list': [...LOCKED, 'write ledger', 'write ledger', 'write ledger', ...ADDED, 'unlink ledger.lock'],
    'a line added, a torn one moved aside': [
      ...LOCKED,
      'write ledger torn', 'fsync ledger torn', 'fsync folder',
      'ftruncate ledger', 'fsync ledger',
      ...ADDED,
      'unlink ledger.lock',
    ],
    'the last line cut off': [
      ...LOCKED,
      'write ledger.undone', 'fsync ledger.undone', 'fsync folder',
      'ftruncate ledger', 'fsync ledger',
      'unlink ledger.lock',
    ],
    'a new ledger': ['write ledger draft', 'fsync ledger draft', 'link ledger', 'unlink ledger draft', 'fsync folder'],
  }; // biome-ignore format: one step after the other

  it.each(Object.entries(ORDER))('%s', async (name, order) => {
    const { calls, problems } = await played(SCENES[name]!);
    expect(problems).toEqual([]);
    expect(calls.filter((call) => CHANGES.test(call))).toEqual(order);
  });

  it('reads a short ledger once to decide, and again to see that nobody changed it', async () => {
    const { calls } = await played(SCENES['a line added']!);
    expect(calls.filter((call) => /^read(?:File)? ledger$/.test(call))).toEqual([
      'readFile ledger',
      'read ledger',
    ]);
  });
});

describe.each(Object.entries(SCENES))('with any one call failing: %s', (_, scene) => {
  it('goes well where none does', async () => {
    const { problems, text, names, open } = await played(scene);
    expect([problems, text, open]).toEqual([[], scene.after, []]);
    const beside = names.filter((name) => name !== 'bathbook.yaml');
    expect(beside).toHaveLength(scene.beside?.length ?? 0);
    for (const [nth, name] of beside.entries()) expect(name).toMatch(scene.beside![nth]!);
  });

  it.each(['EIO', 'ENOSPC'])('%s leaves it as it was, or done', async (code) => {
    const { calls } = await played(scene);
    let [refused, done] = [0, 0];
    for (let failing = 0; failing < calls.length; failing += 1) {
      let failed = '';
      const outcome = await played(scene, (nth, call) => {
        if (nth !== failing) return undefined;
        failed = call;
        return code;
      });
      const told = { failing, failed, code, ...outcome };
      expect(outcome.open, JSON.stringify(told)).toEqual([]);
      const isDone = outcome.problems.length === 0;
      if (isDone) done += 1;
      else refused += 1;
      expect(outcome.text, JSON.stringify(told)).toBe(isDone ? scene.after : scene.before);
      judgeNames(told, scene);
      for (const problem of outcome.problems) {
        expect(problem.message).toMatch(/^Cannot \w+/);
        expect(problem.message, JSON.stringify(told)).toContain(path);
        expect(problem.help).toMatch(/\w/);
        expect([66, 73, 74, 75, 77], JSON.stringify(told)).toContain(exitCodeOf(outcome.problems));
      }
      // Nothing that is left stands in the way of the next; but this process lives, and a lock that it could not remove is its own.
      if (/ledger\.lock$/.test(failed)) rmSync(`${path}.lock`, { force: true });
      if (scene.before !== null) {
        const next = await append(path, async () => ({ events: [{ ...ROTATE, id: 'r2' }] }), {
          patienceMs: 2000,
        });
        expect(next.problems, JSON.stringify(told)).toEqual([]);
      }
    }
    expect(refused).toBeGreaterThan(3);
    expect(done).toBeGreaterThan(2);
  });
});

/** What may lie beside the ledger: what belongs there once it is done, and what could not be removed. */
function judgeNames(
  { failed, names, problems, ...told }: Outcome & { failed: string },
  { beside = [], prepare }: Scene,
): void {
  const may = [/^bathbook\.yaml$/];
  if (problems.length === 0) may.push(...beside);
  if (failed.startsWith('unlink') || prepare) may.push(/\.lock/, /\.new-/);
  // A lock whose file cannot be looked at is left, and the next one to come removes it.
  if (/ledger\.lock$/.test(failed)) may.push(/\.lock$/);
  // Of a file that was opened and cannot be looked at nobody knows whether it was there before; it is empty.
  if (/^fstat ledger(?: torn|\.undone)$/.test(failed)) may.push(/\.torn-|\.undone$/);
  const odd = names.filter((name) => !may.some((one) => one.test(name)));
  expect(odd, JSON.stringify({ failed, problems, told })).toEqual([]);
}
