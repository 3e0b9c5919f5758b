/** The minute of CI, and that the frame fails when a part does. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../commands/bundle.ts';

const RUN = fileURLToPath(new URL('run.mjs', import.meta.url));

interface Done {
  seed: number;
  parts: {
    name: string;
    figures: Record<string, number | string>;
    floors: Record<string, number>;
    failures: string[];
  }[];
}

function torture(...args: string[]): { code: number | null; done: Done; told: string } {
  const ran = spawnSync(process.execPath, [RUN, '--json', ...args], { encoding: 'utf8' });
  return { code: ran.status, done: JSON.parse(ran.stdout || 'null') as Done, told: ran.stderr };
}

describe('the frame', () => {
  const PART = `
    export const name = 'sample';
    export const floors = { tries: 3 };
    export const run = ({ seed }) => BODY;`;
  const runPart = (body: string): ReturnType<typeof torture> => {
    const folder = join(tempFolder(), 'parts');
    mkdirSync(folder);
    writeFileSync(join(folder, 'sample.mjs'), PART.replace('BODY', body));
    return torture('--parts', folder, '--minutes', '0.02', '--seed', '9');
  };

  it('passes a part that holds, and gives it the seed', () => {
    const { code, done } = runPart('({ figures: { tries: 3, seed }, failures: [] })');
    expect(done).toMatchObject({ seed: 9, parts: [{ name: 'sample', figures: { seed: 9 }, failures: [] }] });
    expect(code).toBe(0);
  });

  it.each([
    ['tells of a failure', '({ figures: { tries: 3 }, failures: ["lost k3f9"] })', 'lost k3f9'],
    ['throws', '{ throw new Error("out of it") }', 'out of it'],
    ['did next to nothing', '({ figures: { tries: 2 }, failures: [] })', 'tries is 2'],
    ['did nothing', '({})', 'tries is undefined'],
  ])('fails when a part %s, and says how to repeat it', (_, body, why) => {
    const { code, told } = runPart(body);
    expect(code).toBe(1);
    expect(told).toContain(why);
    expect(told).toContain('npm run torture -- --only sample --seed 9');
  });
});

describe('a minute of it', () => {
  it('holds', { timeout: 600_000 }, () => {
    const { code, done, told } = torture('--minutes', '1');
    expect(done, told).not.toBeNull();
    for (const { name, failures, floors } of done.parts) {
      expect(failures, `${name}, seed ${done.seed}`).toEqual([]);
      expect(Object.keys(floors), `${name} says what is too little`).not.toEqual([]);
    }
    expect(done.parts.length).toBeGreaterThan(0);
    expect(code).toBe(0);
  });
});
