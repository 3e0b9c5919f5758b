import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

/** What each room may import from, besides itself. `import type` may come from anywhere below commands. */
const ROOMS: Record<string, readonly string[]> = {
  substance: ['data'],
  mesh: [],
  ledger: ['substance'],
  bath: ['substance'],
  belief: ['bath', 'substance'],
  outlook: ['belief', 'bath', 'substance'],
  records: ['belief', 'bath', 'substance', 'data'],
  timer: ['bath', 'substance'],
  vapour: ['records', 'bath', 'substance'],
  compare: ['outlook', 'belief', 'bath', 'substance'],
  explain: ['outlook', 'belief', 'bath', 'substance'],
  exchange: ['outlook', 'belief', 'bath', 'ledger', 'substance'],
  checkpoint: ['records', 'outlook', 'belief', 'bath', 'ledger', 'cache-folder.ts'],
  render: [
    'mesh',
    'vapour',
    'compare',
    'explain',
    'outlook',
    'records',
    'belief',
    'bath',
    'substance',
    'ledger',
  ],
};

/** Files that touch the disk. */
const TOUCHES_DISK = /^src\/(ledger\/(append|lock)[\w-]*|checkpoint\/file)\.ts$/;

interface Import {
  file: string;
  from: string;
  isType: boolean;
}

function files(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? files(path) : path.endsWith('.ts') ? [path] : [];
  });
}

function importsOf(file: string): Import[] {
  const text = readFileSync(file, 'utf8');
  const static_ = [...text.matchAll(/^(?:import|export)\s+(type\s)?[^;]*?from\s+'([^']+)'/gms)];
  const bare = [...text.matchAll(/^import\s+()'([^']+)'/gm)];
  const dynamic = [...text.matchAll(/\bimport\(()\s*'([^']+)'/g)];
  return [...static_, ...bare, ...dynamic].map(([, type, from]) => ({
    file,
    isType: type !== undefined && type !== '',
    from: from!.startsWith('.') ? relative('.', resolve(dirname(file), from!)) : from!,
  }));
}

function roomOf(path: string): string {
  return path.startsWith('src/') ? path.split('/')[1]! : path.split('/')[0]!;
}

const all = files('src').flatMap(importsOf);

describe('the rooms of src', () => {
  it('are seen by this test at all', () => {
    expect(all.length).toBeGreaterThan(200);
    for (const room of Object.keys(ROOMS)) expect(all.some(({ file }) => roomOf(file) === room)).toBe(true);
    expect(importsOf('src/main.ts').map(({ from }) => from)).toContain('src/commands/program.ts');
  });

  it.each(Object.entries(ROOMS))('%s imports only from %j', (room, allowed) => {
    const wrong = all.filter(({ file, from, isType }) => {
      const target = roomOf(from);
      const isOurs = from.startsWith('src/') || from.startsWith('data/');
      return roomOf(file) === room && isOurs && target !== room && !allowed.includes(target) && !isType;
    });
    expect(wrong).toEqual([]);
  });

  it('take no types from commands, but for the definitions that help is made of', () => {
    const upwards = all.filter(
      ({ file, from }) => roomOf(file) !== 'commands' && from.startsWith('src/commands/'),
    );
    const others = upwards.filter(({ file }) => file !== 'src/main.ts' && file !== 'src/render/help.ts');
    expect(others).toEqual([]);
    expect(upwards.filter(({ file, isType }) => file === 'src/render/help.ts' && !isType)).toEqual([]);
  });

  it('import nothing of Node below commands, but where the ledger is written', () => {
    const wrong = all.filter(
      ({ file, from }) => roomOf(file) in ROOMS && from.startsWith('node:') && !TOUCHES_DISK.test(file),
    );
    expect(wrong).toEqual([]);
  });

  it('read no clock, draw no chance and print nothing below commands', () => {
    const pure = files('src').filter((file) => roomOf(file) in ROOMS && !TOUCHES_DISK.test(file));
    const worldly =
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bprocess\.(?!env\.BATHBOOK_VERSION)|\bconsole\./;
    const wrong = pure.filter((file) =>
      worldly.test(readFileSync(file, 'utf8').replaceAll(/\/\*.*?\*\/|\/\/.*$/gms, '')),
    );
    expect(wrong).toEqual([]);
  });
});
