/** What the shipped program could do at all: it has no way to a network, starts no other program, and makes no code of texts. */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, tempFolder } from '../commands/bundle.ts';

const main = bundled();
const folder = dirname(main);
const code = readdirSync(folder)
  .filter((name) => name.endsWith('.js'))
  .map((name) => ({ name, text: readFileSync(join(folder, name), 'utf8') }));

/** Modules of Node that are loaded, and what for. */
const LOADED: Record<string, string> = {
  crypto: 'comparing a kept checkpoint',
  fs: 'the ledger, and files that are asked for',
  os: 'the home folder, the name of the computer in a lock',
  path: 'names of files',
  'readline/promises': 'questions on a terminal',
  readline: 'keys on a terminal',
  vm: 'running our own code as it was compiled before',
  v8: 'less compiling of what is over soon',
  worker_threads: 'years side by side',
  zlib: 'packed meshes',
};

const loadedIn = (text: string): string[] =>
  [...text.matchAll(/\b(?:require|import)\(\s*["'](?:node:)?([\w/]+)["']\s*\)/g)].map(([, name]) => name!);

describe('the bundle', () => {
  it('loads no module of Node but a few', () => {
    const loaded = new Set(
      code.flatMap(({ text }) => loadedIn(text)).filter((name) => builtinModules.includes(name)),
    );
    expect(loaded).toContain('fs');
    expect([...loaded].filter((name) => LOADED[name] === undefined)).toEqual([]);
    for (const name of [
      'net',
      'http',
      'https',
      'http2',
      'tls',
      'dns',
      'dgram',
      'inspector',
      'child_process',
      'cluster',
      'repl',
      'wasi',
    ])
      expect(loaded).not.toContain(name);
  });

  it.each([
    ['fetches nothing', /\bfetch\s*\(|\bWebSocket\b|\bEventSource\b|\bsendBeacon\b|\bnavigator\b\s*\./],
    ['makes no code of a text', /\beval\s*\(|\bnew Function\b|\bFunction\s*\(\s*["'`a-z]|\bimportScripts\b/],
    ['reaches no binding of the engine', /\bprocess\s*\.\s*binding\b|\bdlopen\b/],
  ])('%s', (_, sign) => {
    const found = code.flatMap(({ name, text }) => {
      const match = sign.exec(text);
      return match ? [`${name}: ${text.slice(Math.max(0, match.index - 60), match.index + 60)}`] : [];
    });
    expect(found).toEqual([]);
  });

  it('runs compiled code in one place, where it is its own (src/pack.ts)', () => {
    const runs = code.flatMap(({ text }) => [...text.matchAll(/\.runIn\w*Context\b|\bcompileFunction\b/g)]);
    expect(runs.map(([call]) => call)).toEqual(['.runInThisContext']);
  });

  /** The reader of CSV has a loader for browsers, in which Node has no part. */
  it('has a loader of pages in one library for browsers alone', () => {
    const named = code.filter(({ text }) => text.includes('XMLHttpRequest')).map(({ name }) => name);
    expect(named.filter((name) => !name.startsWith('papaparse'))).toEqual([]);
    expect(globalThis).not.toHaveProperty('XMLHttpRequest');
  });
});

const canUnshare = spawnSync('unshare', ['--user', '--map-root-user', '--net', 'true']).status === 0;

describe('without a network', () => {
  it.skipIf(!canUnshare)('everything goes as ever (needs unshare --net)', () => {
    const shop = tempFolder();
    const ledger = join(shop, 'bathbook.yaml');
    writeFileSync(ledger, `${HEAD}${LINES.join('\n')}\n`);
    const env = { HOME: shop, PATH: process.env.PATH! };
    const run = (alone: boolean, ...args: string[]) => {
      const words = [
        process.execPath,
        main,
        ...args,
        '--ledger',
        ledger,
        '--as-of',
        '2026-11-20T09:00:00-04:00',
        '--no-input',
      ];
      const [command, ...rest] = alone ? ['unshare', '--user', '--map-root-user', '--net', ...words] : words;
      const { status, stdout, stderr } = spawnSync(command!, rest, { encoding: 'utf8', env });
      return { status, stdout, stderr };
    };
    for (const args of [
      ['baths', '--json'],
      ['report', '--format', 'html', '--from', '2026-11-01'],
      ['export', 'ics'],
      ['doctor', '--no-such'],
    ]) {
      expect(run(true, ...args)).toEqual(run(false, ...args));
    }
    expect(run(true, 'wash', '1', 'model').status).toBe(0);
  });
});
