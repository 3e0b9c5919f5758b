import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const page = new URL('../../src/bath/README.md', import.meta.url);
const text = readFileSync(page, 'utf8');
const sources = readFileSync(new URL('../../data/SOURCES.md', import.meta.url), 'utf8');

describe('the page of equations', () => {
  it('names only sources that are listed', () => {
    const ids = new Set(
      [...text.matchAll(/\(([A-Z0-9, ]{4,})\)/g)].flatMap(([, list]) => list!.split(/,\s*/)),
    );
    expect(ids.size).toBeGreaterThan(8);
    for (const id of ids) expect(sources, id).toContain(`**${id}**`);
  });

  it('links and names only files that are there', () => {
    const links = [...text.matchAll(/\]\(([^)#]+)\)/g)].map(([, link]) => link!);
    const files = [...text.matchAll(/`([a-z-]+\.ts)`/g)].map(([, name]) => name!);
    expect(links.length + files.length).toBeGreaterThan(8);
    for (const name of [...links, ...files]) expect(existsSync(new URL(name, page)), name).toBe(true);
  });
});
