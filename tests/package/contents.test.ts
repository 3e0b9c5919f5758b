import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

interface Packed {
  files: { path: string; mode: number }[];
  size: number;
}

const isBuilt = existsSync('dist/bathbook.1');

/** What npm would pack, of what was built. */
function packed(): Packed {
  const args = ['pack', '--dry-run', '--json', '--ignore-scripts', '--offline'];
  const out = execFileSync('npm', args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
  return (JSON.parse(out.slice(out.indexOf('['))) as Packed[])[0]!;
}

describe.skipIf(!isBuilt)('the package (left out before npm run build)', () => {
  const { files, size } = isBuilt ? packed() : { files: [], size: 0 };
  const paths = new Set(files.map(({ path }) => path));

  it('holds the program, its manual, the data with their sources, and no more', () => {
    const known =
      /^(?:package\.json|README\.md|LICENSE|bin\/(?:bathbook\.js|package\.json)|dist\/[\w-]+\.js|dist\/package\.json|dist\/bathbook\.1|dist\/THIRD-PARTY\.txt|data\/[\w.-]+|src\/.*\.md)$/;
    expect([...paths].filter((path) => !known.test(path))).toEqual([]);
    for (const path of [
      'bin/bathbook.js',
      'dist/main.js',
      'dist/modules.js',
      'dist/complete.js',
      'dist/bathbook.1',
    ])
      expect(paths).toContain(path);
  });

  it('is small', () => {
    expect(size).toBeLessThan(1_500_000);
  });

  it('has every page that the README points to, but for those who work on the code', () => {
    const links = [...readFileSync('README.md', 'utf8').matchAll(/\]\(([^)#:\s]+)(?:#[^)]*)?\)/g)].map(
      ([, to]) => to!,
    );
    expect(links.length).toBeGreaterThan(3);
    const absent = links.filter((to) => ![...paths].some((path) => path === to || path.startsWith(`${to}/`)));
    expect(absent.filter((to) => to !== 'DEVELOPERS.md' && !to.startsWith('.'))).toEqual([]);
  });

  it('says whose code is in it, with their licences', () => {
    const notices = readFileSync('dist/THIRD-PARTY.txt', 'utf8');
    for (const name of ['commander', 'yaml', 'zod', 'chalk', 'd3-scale', 'd3-array'])
      expect(notices).toMatch(new RegExp(`^${name} \\d`, 'm'));
    expect(
      notices.match(/permission to use, copy, modify|Permission is hereby granted/gi)!.length,
    ).toBeGreaterThan(8);
  });
});

describe('the pictures of the README', () => {
  const pictures = [...readFileSync('README.md', 'utf8').matchAll(/!\[([^\]]*)\]\(([^)]+)\)/g)];

  it('are there, say what they show, and load soon', () => {
    expect(pictures.length).toBeGreaterThan(0);
    for (const [, shown, path] of pictures) {
      expect(shown!.length).toBeGreaterThan(20);
      const bytes = readFileSync(path!);
      expect(bytes.subarray(1, 4).toString()).toBe('PNG');
      expect(bytes.length).toBeLessThan(150_000);
    }
  });
});
