/** `wash --mesh` as a person or a program runs it. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { binaryStl, box, sphere, textStl, torus, turned } from '../mesh/solids.ts';
import { oneObject, threeMf } from '../mesh/three-mf-file.ts';
import { bundled, HEAD, LINES, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
/** g/mL, of the catalogue's standard resin. */
const STANDARD_G_ML = 1.11;

function bench(head = HEAD, lines = LINES) {
  const folder = tempFolder();
  const ledger = join(folder, 'bathbook.yaml');
  writeFileSync(ledger, `${head}${lines.join('\n')}\n`);
  const put = (name: string, bytes: Uint8Array | string) => writeFileSync(join(folder, name), bytes);
  // 6 mL and 22 cm²; 1.5 mL and 8 cm²; a ball with a shut hollow.
  put('block.stl', binaryStl(box([0, 0, 0], [10, 20, 30]), 'solid from a program that writes so'));
  put('die of ours.3mf', threeMf(oneObject(box([0, 0, 0], [10, 10, 15]))));
  put('ball.stl', textStl([...sphere(15, 40), ...turned(sphere(12, 40))]));
  put('open.stl', binaryStl(box([0, 0, 0], [10, 20, 30]).slice(2)));
  put('inches.stl', binaryStl(torus(20 / 25.4, 5 / 25.4, 40)));
  put('cut.stl', binaryStl(box([0, 0, 0], [10, 20, 30])).subarray(0, 500));
  put('long.stl', binaryStl(box([0, 0, 0], [10, 20, 30_000])));
  put('7', binaryStl(box([0, 0, 0], [10, 20, 30])));
  const go = (...args: string[]) =>
    run([...args, '--as-of', NOW], { cwd: folder, env: { HOME: folder, BATHBOOK_LEDGER: ledger } });
  const data = (...args: string[]) => JSON.parse(go(...args, '--json').out).data;
  return { folder, ledger, put, go, data, text: () => readFileSync(ledger, 'utf8') };
}

describe('wash --mesh', () => {
  it('logs the volume and the surface of all parts, and not how their files are called', () => {
    const { go, text } = bench();
    const { code, out } = go('wash', '--mesh', '6', 'block.stl', '2x', 'die of ours.3mf');
    expect(code).toBe(0);
    expect(text().trimEnd().split('\n').at(-1)).toMatch(/what: wash, volume_ml: 39, area_cm2: 148\}$/);
    expect(text()).not.toMatch(/block|die of/);
    const words = out.replaceAll(/\s+/g, ' ');
    expect(words).toContain('6 x block.stl: 6 mL, 22 cm² each, 10 x 20 x 30 mm; binary STL, 12 triangles');
    expect(words).toContain('2 x die of ours.3mf: 1.5 mL, 8 cm² each, 10 x 10 x 15 mm; 3MF, 12 triangles');
  });

  it('brings as much resin as the same volume and surface given outright', () => {
    const { data } = bench();
    const measured = data('wash', '--mesh', 'block.stl', '--dry-run');
    const given = data('wash', '--volume', '6', '--area', '22', '--dry-run');
    expect(measured.carry_g).toEqual(given.carry_g);
    expect(measured.after).toEqual(given.after);
  });

  it.each([
    ['6', '--mesh', 'block.stl'],
    ['--mesh', '6', 'block.stl'],
    ['--mesh', '6x', 'block.stl'],
    ['--mesh', 'x6', 'block.stl'],
    ['--mesh', '2', 'block.stl', '--mesh', '4', 'block.stl'],
    ['--mesh', '6', './7'],
  ])('counts six in %s %s %s', (...args) => {
    const { data } = bench();
    expect(data('wash', ...args, '--dry-run').event).toMatchObject({ volume_ml: 36, area_cm2: 132 });
  });

  it('takes a shut hollow for trapped resin, with a warning, unless it is told otherwise', () => {
    const { data } = bench();
    const { event, mesh, warnings } = data('wash', '--mesh', '2', 'ball.stl', '--dry-run');
    expect(mesh[0]).toMatchObject({ voids: 1, pieces: 1, format: 'ASCII STL' });
    expect(event.trapped_g).toBeCloseTo(2 * mesh[0].void_ml * STANDARD_G_ML, 2);
    // A ball of 12 mm radius holds 7.24 mL; its triangles a little less.
    expect(mesh[0].void_ml).toBeCloseTo((4 / 3) * Math.PI * 1.2 ** 3, 1);
    expect(warnings[0]).toContain('"ball.stl" has 1 hollow without an opening');
    expect(data('wash', '--mesh', 'ball.stl', '--trapped', '0', '--dry-run').event.trapped_g).toBe(0);
    expect(data('wash', '--mesh', 'ball.stl', '--carry', '3', '--dry-run').event.trapped_g).toBeUndefined();
  });

  it('logs the surface alone where the volume is not known', () => {
    const { data } = bench();
    const { event, mesh, warnings } = data('wash', '--mesh', 'open.stl', 'block.stl', '--dry-run');
    expect(event.volume_ml).toBeUndefined();
    expect(event.area_cm2).toBe(42);
    expect(mesh[0]).toMatchObject({ volume_ml: null, open_edges: 4 });
    expect(warnings[0]).toContain('does not enclose a volume (4 open edges)');
  });

  it('asks whether a part is in inches, and takes them', () => {
    const { data } = bench();
    const wrong = data('wash', '--mesh', 'inches.stl', '--dry-run');
    expect(wrong.warnings[0]).toContain('--mesh-unit inch');
    const right = data('wash', '--mesh', 'inches.stl', '--mesh-unit', 'inch', '--dry-run');
    expect(right.warnings).toEqual([]);
    expect(right.mesh[0].box_mm[0]).toBeCloseTo(50, 4);
    // The unit is that of STL files; a 3MF file has its own.
    expect(
      data('wash', '--mesh', 'die of ours.3mf', '--mesh-unit', 'inch', '--dry-run').event.volume_ml,
    ).toBe(1.5);
  });

  it('shows the line that makes a named part of a file, which the head takes as it is', () => {
    const { go, text } = bench();
    const before = text();
    const { out, err } = go('wash', '--mesh', 'block.stl', '--as-part', 'block-a', '--dry-run');
    expect(text()).toBe(before);
    expect(err).toContain('under "parts:"');
    const line = out.trimEnd().split('\n').at(-1)!;
    expect(line).toBe('  block-a: {shape: solid, volume_ml: 6, area_cm2: 22}');
    const kept = bench(HEAD.replace('events:', `parts:\n${line}\nevents:`));
    expect(kept.go('check').code).toBe(0);
    const named = kept.data('wash', '3', 'block-a', '--dry-run');
    const measured = kept.data('wash', '--mesh', '3', 'block.stl', '--dry-run');
    expect(named.area_cm2).toBe(measured.area_cm2);
    expect(named.carry_g).toEqual(measured.carry_g);
  });

  it('shows the line in the document as well', () => {
    const { data } = bench();
    expect(data('wash', '--mesh', 'open.stl', '--as-part', 'lid', '--hollow', '--dry-run').part_line).toBe(
      '  lid: {shape: hollow, area_cm2: 20}',
    );
  });
});

describe('the document of wash --mesh', () => {
  it.each([
    ['block.stl', 'die of ours.3mf'],
    ['ball.stl'],
    ['open.stl', '--as-part', 'lid'],
    ['inches.stl', '--mesh-unit', 'inch'],
  ])('of %s is what its schema says', (...args) => {
    const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
    (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
    const fits = ajv.compile(documentSchema('wash') as object);
    const document = JSON.parse(bench().go('wash', '--mesh', ...args, '--dry-run', '--json').out);
    fits(document);
    expect(fits.errors).toBeNull();
    expect(document.data.mesh.length).toBeGreaterThan(0);
    // A document without what it must have does not.
    const { area_cm2: _, ...less } = document.data.mesh[0];
    expect(fits({ ...document, data: { ...document.data, mesh: [less] } })).toBe(false);
  });
});

describe('wash --mesh refuses', () => {
  it.each<[string[], number, RegExp]>([
    [['--mesh', 'none.stl'], 66, /Cannot measure "none.stl": there is no such file/],
    [['--mesh', '6xblock.stl'], 66, /a count is a word of its own: --mesh 6 block.stl/i],
    [['--mesh', '.'], 66, /Cannot measure ".": it is no file/],
    [['--mesh', 'block.stl/x'], 66, /there is no such file/],
    [['--mesh', 'cut.stl'], 65, /Cannot measure "cut.stl": it is cut off/],
    [['--mesh', 'bathbook.yaml'], 65, /it is neither STL nor 3MF/],
    [['--mesh', 'long.stl'], 65, /is 30 m at its longest[\s\S]*--mesh-unit/],
    [['--mesh', 'block.stl', 'cut.stl', 'none.stl'], 65, /"cut.stl"[\s\S]*"none.stl"/],
    [['--mesh'], 64, /--mesh/],
    [['--mesh', '6'], 64, /no file comes with "6"/],
    [['--mesh', '0', 'block.stl'], 64, /"0" is no count of parts/],
    [['--mesh', '5000', 'block.stl'], 64, /"5000" is no count of parts/],
    [['6', 'model', '--mesh', 'block.stl'], 64, /both named parts \("6 model"\) and --mesh/],
    [['--mesh', 'block.stl', '--area', '30'], 64, /both --mesh and --volume or --area/],
    [['--mesh', 'block.stl', '--mesh-unit', 'ell'], 64, /"ell" for --mesh-unit/],
    [['--mesh', 'block.stl', 'ball.stl', '--as-part', 'a'], 64, /several files with --as-part/],
    [['--mesh', 'block.stl', '--as-part', 'a b'], 64, /"a b" for --as-part/],
    [['6', 'model', '--as-part', 'a'], 64, /without a file/],
    [['6', 'model', '--mesh-unit', 'cm'], 64, /without a file/],
  ])('%j with %i', (args, exit, message) => {
    const { go, text } = bench();
    const before = text();
    const { code, err, out } = go('wash', ...args);
    expect(err).toMatch(message);
    expect(err).toContain('help: ');
    expect([code, out]).toEqual([exit, '']);
    expect(text()).toBe(before);
  });

  it('a file that would steer the terminal by its name, and one that is a pipe or a folder called part.stl', () => {
    const { go, folder } = bench();
    mkdirSync(join(folder, 'part.stl'));
    expect(go('wash', '--mesh', 'part.stl').code).toBe(66);
    const { err } = go('wash', '--mesh', 'a\u001b[31m.stl');
    expect(err).not.toContain('\u001b');
    writeFileSync(join(folder, 'b\u001b[31m.stl'), binaryStl(box([0, 0, 0], [10, 20, 30]).slice(2)));
    for (const more of [[], ['--json']]) {
      const told = go('wash', '--mesh', 'b\u001b[31m.stl', '--dry-run', ...more);
      expect(told.err).toContain('does not enclose a volume');
      expect(told.out + told.err).not.toContain('\u001b');
    }
  });
});
