/** What the page for developers says of dependencies, against what is there. */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled } from './commands/bundle.ts';

const root = (name: string): string => readFileSync(new URL(`../${name}`, import.meta.url), 'utf8');
const manifest = JSON.parse(root('package.json')) as Record<string, Record<string, string> | undefined>;
const section = /## Dependencies, and why\n([\s\S]*?)(?=\n## |$)/.exec(root('DEVELOPERS.md'))![1]!;

/** The names in the first column of a table. */
function namedIn(table: string): string[] {
  const rows = table.split('\n').filter((line) => line.startsWith('| '));
  const first = rows.slice(1).map((row) => row.split('|')[1]!);
  return first.flatMap((cell) => cell.replace('(mini)', '').split(',')).map((name) => name.trim());
}

const [inBundle, forDeveloping] = section.split('For developing:').map(namedIn) as [string[], string[]];

/** Packages with code in the bundle, by esbuild's own account. */
function packagesOf(main: string): string[] {
  const meta = JSON.parse(readFileSync(join(dirname(main), 'meta.json'), 'utf8')) as {
    outputs: Record<string, { inputs: Record<string, { bytesInOutput: number }> }>;
  };
  const sources = Object.values(meta.outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([path, { bytesInOutput }]) => (bytesInOutput > 0 ? [path] : [])),
  );
  const names = sources.flatMap((path) => /.*node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? []);
  return [...new Set(names)];
}

describe('the tables of dependencies', () => {
  it('name every package of the manifest once, and no other', () => {
    const direct = Object.keys(manifest.devDependencies!).sort();
    expect([...inBundle, ...forDeveloping].sort()).toEqual(direct);
    expect(section).toContain(`takes ${direct.length} packages directly`);
  });

  it('say which are in the bundle', () => {
    const packages = packagesOf(bundled());
    const direct = packages.filter((name) => manifest.devDependencies![name] !== undefined);
    expect([...inBundle].sort()).toEqual(direct.sort());
    expect(section).toContain(
      `puts ${direct.length} packages and the ${packages.length - direct.length} that these`,
    );
  });

  it('are right that the package installs no other', () => {
    for (const kind of [
      'dependencies',
      'optionalDependencies',
      'peerDependencies',
      'bundleDependencies',
      'bundledDependencies',
    ])
      expect(manifest).not.toHaveProperty(kind);
    for (const moment of ['preinstall', 'install', 'postinstall'])
      expect(manifest.scripts).not.toHaveProperty(moment);
  });
});
