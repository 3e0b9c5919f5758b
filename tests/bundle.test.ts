import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, tempFolder } from './commands/bundle.ts';

const folder = dirname(bundled());

interface Meta {
  outputs: Record<string, { inputs: Record<string, unknown> }>;
  inputs: Record<string, unknown>;
  /** Chunks that were put together into one file. */
  common: string[];
}

const meta = JSON.parse(readFileSync(join(folder, 'meta.json'), 'utf8')) as Meta;
const inputs = new Map(
  Object.entries(meta.outputs).map(([path, output]) => [basename(path), Object.keys(output.inputs)]),
);
const inCommon = meta.common.flatMap((name) => inputs.get(basename(name))!);

/** The files that Node reads for a command, and the npm packages that are in them. */
function readBy(args: string[]): { files: string[]; packages: Set<string> } {
  const watch = join(folder, 'watch.cjs');
  writeFileSync(
    watch,
    `process.argv.splice(1, 1);
     require(process.argv[1]);
     process.on('exit', () => console.error(JSON.stringify(Object.keys(require.cache))));`,
  );
  const ran = spawnSync(process.execPath, [watch, join(folder, 'main.js'), ...args], {
    env: {},
    encoding: 'utf8',
  });
  const files = (JSON.parse(ran.stderr.trim().split('\n').at(-1)!) as string[]).filter(
    (file) => file !== watch,
  );
  const sources = files.map((file) => basename(file)).flatMap((name) => inputs.get(name) ?? inCommon);
  const packages = sources.map((source) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(source)?.[1]);
  return { files, packages: new Set(packages.filter((name) => name !== undefined)) };
}

const HEAVY = ['yaml', 'cli-table3', 'chrono-node', 'zod', 'papaparse', 'd3-scale'];

describe('the steps at which the torture tests kill the process', () => {
  const codeIn = (where: string): string =>
    readdirSync(where)
      .filter((name) => name.endsWith('.js'))
      .map((name) => readFileSync(join(where, name), 'utf8'))
      .join('\n');
  const STEPS = /KILL_POINT|BATHBOOK_KILL_AT|SIGKILL|lock draft written|half written/;

  it('are not in the shipped bundle', () => {
    expect(codeIn(folder)).not.toMatch(STEPS);
  });

  it('are in the one made for those tests, so that this test can see them', () => {
    const hooked = join(tempFolder(), 'dist');
    execFileSync(process.execPath, ['esbuild.config.mjs', hooked, '--with-kill-points']);
    for (const word of STEPS.source.split('|')) expect(codeIn(hooked)).toContain(word);
  });
});

/** Bytes of code; what is read at each start, and what a package carries. Raised on purpose only, with the reason in the commit. */
const EVERYDAY_BYTES = 600_000;
const ALL_BYTES = 2_600_000;

describe('the bytes of the bundle', () => {
  const sizes = new Map(
    readdirSync(folder)
      .filter((name) => name.endsWith('.js'))
      .map((name) => [name, readFileSync(join(folder, name)).length]),
  );

  it('stay within their budget, those of every day and all together', () => {
    expect(sizes.get('modules.js')).toBeLessThan(EVERYDAY_BYTES);
    expect([...sizes.values()].reduce((sum, bytes) => sum + bytes, 0)).toBeLessThan(ALL_BYTES);
  });

  it('hold no words of other languages that the checks of values come with', () => {
    const locales = Object.values(meta.outputs)
      .flatMap((output) => Object.keys(output.inputs))
      .filter((input) => /zod\/.*\/locales\/(?!en\.)[a-z]/i.test(input));
    expect(locales).toEqual([]);
  });
});

describe('what is loaded', () => {
  it('this test can see packages in the bundle', () => {
    expect(readBy(['baths', '--ledger', '/nowhere']).packages).toContain('commander');
  });

  it('for --version: one file of ours and no package', () => {
    const { files, packages } = readBy(['--version']);
    expect(files).toHaveLength(1);
    expect([...packages]).toEqual([]);
    const bytes = files.reduce((sum, file) => sum + readFileSync(file).length, 0);
    expect(bytes).toBeLessThan(12_000);
  });

  it('for help: none of what is heavy', () => {
    for (const args of [['--help'], ['wash', '--help']]) {
      const { packages } = readBy(args);
      for (const name of HEAVY) expect([...packages]).not.toContain(name);
    }
  });

  it('for a command without a ledger: nothing that reads YAML, dates or draws tables', () => {
    const { packages } = readBy(['baths', '--ledger', '/nowhere']);
    for (const name of ['yaml', 'cli-table3', 'chrono-node', 'zod'])
      expect([...packages]).not.toContain(name);
  });

  it('for a usual ledger off a terminal: neither the YAML parser nor the drawer of tables', () => {
    const ledger = join(folder, 'bathbook.yaml');
    execFileSync(process.execPath, [join(folder, 'main.js'), 'setup', '--ledger', ledger], {
      env: {},
      stdio: 'ignore',
    });
    expect(existsSync(ledger)).toBe(true);
    const { packages } = readBy(['baths', '--ledger', ledger]);
    for (const name of ['yaml', 'cli-table3', 'chrono-node', 'papaparse'])
      expect([...packages]).not.toContain(name);
  });

  it('for a report in words: no scales of charts; for a page those as well', () => {
    const ledger = join(folder, 'charts.yaml');
    execFileSync(process.execPath, [join(folder, 'main.js'), 'setup', '--ledger', ledger], {
      env: {},
      stdio: 'ignore',
    });
    expect([...readBy(['report', '--ledger', ledger]).packages]).not.toContain('d3-scale');
    expect(readBy(['report', '--format', 'html', '--ledger', ledger]).packages).toContain('d3-scale');
  });

  it('the bundle as a whole does hold them, so that they are found when needed', () => {
    for (const name of [...HEAVY, 'commander', 'chalk']) {
      expect(Object.keys(meta.inputs).some((input) => input.includes(`node_modules/${name}/`))).toBe(true);
    }
  });
});
