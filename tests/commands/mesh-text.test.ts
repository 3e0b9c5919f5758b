/** Long STL files of text, which a thread of its own reads. */
import { statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Emptier, Filler, newSlots } from '../../src/commands/mesh-text-slots.ts';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { MeshMeasure } from '../../src/mesh/sum-up.ts';
import { fileOf, sphere, textStl } from '../mesh/solids.ts';
import { bundled, HEAD, LINES, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
const folder = tempFolder();
const ledger = join(folder, 'bathbook.yaml');
writeFileSync(ledger, `${HEAD}${LINES.join('\n')}\n`);

/** Shorter files are read in the main thread. */
const LONG = 16_000_000;
const RADIUS = 20;
const N = 160;
/** A ball of rings: two caps, and quadrangles of two each between. */
const TRIANGLES = 4 * N * (N - 1);
const LONG_FILE = textStl(sphere(RADIUS, N), (value) => value.toFixed(9));

function put(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const measured = (path: string) =>
  run(['wash', '--mesh', path, '--dry-run', '--json', '--ledger', ledger, '--as-of', NOW], {
    env: { HOME: folder },
  });
const meshOf = (path: string) => JSON.parse(measured(path).out).data.mesh[0];

describe('a long STL file of text', () => {
  it('measures what a ball of that radius has', () => {
    const path = put('long.stl', LONG_FILE);
    expect(statSync(path).size).toBeGreaterThan(LONG);
    const mesh = meshOf(path);
    expect(mesh.triangles).toBe(TRIANGLES);
    // 4/3 π r³ and 4 π r², less what chords of 1/160 of a half turn lose: below a thousandth.
    expect(mesh.volume_ml / ((4 / 3) * Math.PI * (RADIUS / 10) ** 3)).toBeCloseTo(1, 3);
    expect(mesh.area_cm2 / (4 * Math.PI * (RADIUS / 10) ** 2)).toBeCloseTo(1, 3);
  });

  it('comes to the same, to the bit, as where one thread does both', async () => {
    const alone = await measureMesh(fileOf(new TextEncoder().encode(LONG_FILE), 1_000_000));
    expect(alone).toMatchObject({ triangles: TRIANGLES });
    const { volumeMl, areaCm2 } = alone as MeshMeasure;
    const { volume_ml, area_cm2 } = meshOf(put('long.stl', LONG_FILE));
    expect([volume_ml, area_cm2]).toEqual([volumeMl, areaCm2]);
  });

  it('that is damaged is refused with the line, as a short one is', () => {
    const lines = LONG_FILE.split('\n');
    lines[120_000] = '  vertex 1 2 three';
    const { code, err } = measured(put('damaged.stl', lines.join('\n')));
    expect(code).toBe(65);
    expect(err).toMatch(/in line 120001, "three" stands where a coordinate should/);
  });

  it('that was cut off is told: between two triangles as a remark, within one as a fault', () => {
    const path = put('cut.stl', LONG_FILE.replace(/endsolid[^\n]*\n$/, ''));
    expect(measured(path).err).toContain('it may have been cut off');
    writeFileSync(path, LONG_FILE.slice(0, LONG_FILE.lastIndexOf('endloop')));
    expect(measured(path)).toMatchObject({ code: 65 });
    expect(measured(path).err).toContain('cut off in the middle of a triangle');
  });
});

it('hands triangles over in their order, through more slots than there are, the last one not full', () => {
  const slots = newSlots();
  const free = slots.free[0]!;
  const emptier = new Emptier(slots);
  const taken: number[] = [];
  const to = { add: (...corners: number[]) => void taken.push(...corners) };
  let handed = 0;
  const filler = new Filler(slots, (triangles) => {
    handed += 1;
    emptier.take(triangles, to);
  });
  const many = 4096 * (free + 3) + 17;
  for (let nth = 0; nth < many; nth += 1) filler.add(nth, 1, 2, 3, 4, 5, 6, 7, -nth);
  filler.end();
  filler.end();
  expect(handed).toBe(free + 4);
  expect(taken.length).toBe(9 * many);
  for (let nth = 0; nth < many; nth += 1) {
    if (taken[9 * nth] !== nth || taken[9 * nth + 8] !== -nth) throw new Error(`Triangle ${nth} is another`);
  }
  expect(slots.free[0]).toBe(free);
});
