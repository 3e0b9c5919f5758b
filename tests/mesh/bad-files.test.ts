/** Files that are no parts, or were: each is told with what to do, and none takes long. */
import { describe, expect, it } from 'vitest';
import { UNPACKER } from '../../src/commands/unpacker.ts';
import { type MeshProblem, measureMesh } from '../../src/mesh/measure.ts';
import { binaryStl, box, fileOf, sphere, textStl } from './solids.ts';
import { meshXml, modelXml, objectXml, oneObject, threeMf } from './three-mf-file.ts';

const CUBE = box([0, 0, 0], [10, 10, 10]);
const bytes = (text: string) => new TextEncoder().encode(text);

async function problem(file: Uint8Array): Promise<MeshProblem> {
  const measure = await measureMesh(fileOf(file));
  if (!('message' in measure)) throw new Error(`measured: ${JSON.stringify(measure)}`);
  return measure;
}

function changed(file: Uint8Array, change: (view: DataView, copy: Uint8Array) => void): Uint8Array {
  const copy = file.slice();
  change(new DataView(copy.buffer), copy);
  return copy;
}

describe('STL files that are damaged', () => {
  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(0), /^it is empty$/],
    ['one byte', new Uint8Array(1), /neither STL nor 3MF/],
    ['a head without triangles', new Uint8Array(84), /holds no triangles/],
    [
      'cut off',
      binaryStl(CUBE).subarray(0, 400),
      /cut off: it says that it holds 12 triangles, and is 400 bytes long, which is room for 6/,
    ],
    ['cut off by a byte', binaryStl(CUBE).subarray(0, -1), /cut off/],
    [
      'a count that is too low',
      changed(binaryStl(CUBE), (view) => view.setUint32(80, 3, true)),
      /says that it holds 3 triangles.*room for 12/,
    ],
    [
      'a count that is too high',
      changed(binaryStl(CUBE), (view) => view.setUint32(80, 4e9, true)),
      /says that it holds 4000000000/,
    ],
    [
      'not a number',
      changed(binaryStl(CUBE), (view) => view.setFloat32(84 + 50 * 4 + 20, Number.NaN, true)),
      /triangle 5 has a corner that is no place/,
    ],
    [
      'without end',
      changed(binaryStl(CUBE), (view) => view.setFloat32(84 + 12, Number.POSITIVE_INFINITY, true)),
      /triangle 1 has a corner/,
    ],
    [
      'too far',
      changed(binaryStl(CUBE), (view) => view.setFloat32(84 + 12, 3e38, true)),
      /triangle 1 has a corner/,
    ],
  ])('%s', async (_, file, message) => {
    const told = await problem(file);
    expect(told.message).toMatch(message);
    expect(told.help).toMatch(/export|name the file/);
  });
});

describe('STL files of text that are damaged', () => {
  const text = textStl(CUBE);
  const at = (from: string, to: string) => bytes(text.replace(from, to));

  it.each<[string, Uint8Array, RegExp, number | undefined]>([
    [
      'a word in the place of another',
      at('endloop', 'endlop'),
      /"endlop" stands where "vertex" or "endloop" should/,
      7,
    ],
    [
      'a word in the place of a number',
      at('vertex 0 0 0', 'vertex 0 zero 0'),
      /"zero" stands where a coordinate should/,
      4,
    ],
    [
      'a decimal comma',
      at('vertex 0 0 0', 'vertex 0 0,5 0'),
      /"0,5" stands where a coordinate should; numbers are written with a point/,
      4,
    ],
    ['nan', at('vertex 0 0 0', 'vertex 0 nan 0'), /"nan"/, 4],
    ['too large', at('vertex 0 0 0', 'vertex 0 1e30 0'), /"1e30"/, 4],
    [
      'a missing coordinate',
      at('vertex 0 0 0', 'vertex 0 0'),
      /"vertex" stands where a coordinate should/,
      5,
    ],
    ['four corners', at('endloop', 'vertex 0 0 0\nendloop'), /a triangle has 4 corners/, 8],
    ['two corners', at('vertex 0 0 0\n', ''), /a triangle has 2 corners/, 6],
    ['cut off in a triangle', bytes(text.slice(0, 300)), /cut off in the middle of a triangle/, undefined],
    ['no triangle at all', bytes('solid\nendsolid\n'), /holds no triangles/, undefined],
    ['only its first word', bytes('solid'), /holds no triangles/, undefined],
    [
      'a story',
      bytes('solid ground is what the story begins on\nand it goes on'),
      /"and" stands where "facet"/,
      2,
    ],
    ['a word without end', bytes(`solid x\n${'a'.repeat(100_000)}`), /stands where "facet"/, 2],
  ])('%s', async (_, file, message, line) => {
    const told = await problem(file);
    expect(told.message).toMatch(message);
    if (line !== undefined) expect(told.line).toBe(line);
    expect(told.help).toMatch(/export/);
  });

  it('cut off between two triangles is measured as far as it goes, with holes, and told', async () => {
    const measure = await measureMesh(fileOf(bytes(text.slice(0, text.lastIndexOf('facet normal')))));
    expect(measure).toMatchObject({
      triangles: 11,
      openEdges: 3,
      remarks: ['The file has no "endsolid"; it may have been cut off'],
    });
  });
});

describe('other files', () => {
  it.each<[string, string, RegExp]>([
    ['PLY', 'ply\nformat ascii 1.0\nelement vertex 8\n', /PLY/],
    ['STEP', "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n", /STEP/],
    ['OBJ', '# made here\no part\nv 0 0 0\nv 1 0 0\n', /OBJ/],
    ['a ledger', 'format: bathbook/1\nshop: {}\n'.repeat(10), /before slicing/],
    ['XML', '<?xml version="1.0"?>\n<amf unit="millimeter"/>'.padEnd(400), /before slicing/],
  ])('%s is named', async (_, text, help) => {
    const told = await problem(bytes(text));
    expect(told.message).toBe('it is neither STL nor 3MF');
    expect(told.help).toMatch(help);
  });

  it('noise is none, or damaged, of every length', async () => {
    let seed = 12345;
    const noise = () => {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      return seed >>> 24;
    };
    for (let length = 1; length < 2000; length += 37) {
      const told = await problem(Uint8Array.from({ length }, noise));
      expect(told.message).toMatch(/neither STL nor 3MF|holds|cut off/);
    }
  });
});

describe('3MF files that are damaged', () => {
  const good = threeMf(oneObject(CUBE));
  const local = (copy: Uint8Array, name: string) =>
    Buffer.from(copy.buffer, copy.byteOffset, copy.length).indexOf(name) - 30;
  const listed = (copy: Uint8Array, name: string) =>
    Buffer.from(copy.buffer, copy.byteOffset, copy.length).lastIndexOf(name) - 46;

  it.each<[string, Uint8Array, RegExp]>([
    ['cut off', good.subarray(0, good.length - 30), /no table of contents/],
    ['cut in half', good.subarray(0, good.length >> 1), /no table of contents/],
    [
      'its contents elsewhere',
      changed(good, (view, copy) => view.setUint32(copy.length - 6, 17, true)),
      /table of contents is damaged/,
    ],
    [
      'encrypted',
      changed(good, (view, copy) => view.setUint16(listed(copy, '3D/part.model') + 8, 1, true)),
      /"3D\/part.model" in it is encrypted/,
    ],
    [
      'packed otherwise',
      changed(good, (view, copy) => view.setUint16(listed(copy, '3D/part.model') + 10, 14, true)),
      /packed in a way that is not read \(14\)/,
    ],
    [
      'a byte changed in the packed part',
      changed(good, (_, copy) => {
        copy[local(copy, '3D/part.model') + 30 + 13 + 90]! ^= 255;
      }),
      /in it is damaged/,
    ],
    [
      'a byte changed in a part that is not packed',
      changed(threeMf(oneObject(CUBE), {}, 0), (_, copy) => {
        copy[Buffer.from(copy).indexOf('x="10"') + 3] = 0x37;
      }),
      /in it is damaged/,
    ],
    [
      'a head elsewhere',
      changed(good, (view, copy) => view.setUint32(listed(copy, '3D/part.model') + 42, 3, true)),
      /in it is cut off/,
    ],
    [
      'a size beyond the file',
      changed(good, (view, copy) => view.setUint32(listed(copy, '3D/part.model') + 20, 1e9, true)),
      /in it is cut off/,
    ],
    ['a zip file of something else', threeMf('').slice(), /damaged|no/],
    ['no XML', threeMf('solid part'), /"3D\/part.model" in it is damaged/],
    ['XML that ends too early', threeMf(oneObject(CUBE).slice(0, 700)), /in it is damaged/],
    [
      'entities',
      threeMf(oneObject(CUBE).replace('<model', '<!DOCTYPE model [<!ENTITY a "bbbb">]>\n<model')),
      /declares entities/,
    ],
    [
      'an entity that is not declared',
      threeMf(oneObject(CUBE).replace('x="10"', 'x="&a;"')),
      /in it is damaged/,
    ],
    ['a unit of its own', threeMf(oneObject(CUBE, 'unit="cubit"')), /its unit is "cubit"/],
    [
      'a coordinate that is none',
      threeMf(oneObject(CUBE).replace('x="10"', 'x="ten"')),
      /a corner has the coordinate "ten"/,
    ],
    [
      'a coordinate left out',
      threeMf(oneObject(CUBE).replace('x="10"', '')),
      /a corner has the coordinate ""/,
    ],
    [
      'a corner that is not there',
      threeMf(oneObject(CUBE).replace('v1="0"', 'v1="8"')),
      /object "1" has a triangle of corner 8, and 8 corners/,
    ],
    ['a corner below nought', threeMf(oneObject(CUBE).replace('v1="0"', 'v1="-1"')), /names the corner "-1"/],
    ['half a corner', threeMf(oneObject(CUBE).replace('v1="0"', 'v1="0.5"')), /names the corner "0.5"/],
    [
      'a transform of eleven',
      threeMf(oneObject(CUBE).replace('objectid="1"', 'objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"')),
      /not twelve numbers/,
    ],
    [
      'an object that is not there',
      threeMf(oneObject(CUBE).replace('objectid="1"', 'objectid="7"')),
      /no object "7"/,
    ],
    [
      'a part that is not there',
      threeMf(oneObject(CUBE).replace('objectid="1"', 'objectid="1" p:path="/3D/else.model"')),
      /no part "\/3D\/else.model"/,
    ],
    ['nothing on the plate', threeMf(modelXml(objectXml(1, meshXml(CUBE)), '')), /builds nothing/],
    [
      'an object made of itself',
      threeMf(
        modelXml(objectXml(1, '<components><component objectid="1"/></components>'), '<item objectid="1"/>'),
      ),
      /placed in one another without end/,
    ],
    ['elements in elements without end', threeMf(`<model>${'<a>'.repeat(100_000)}`), /too deep/],
  ])('%s', async (_, file, message) => {
    const told = await problem(file);
    expect(told.message).toMatch(message);
    expect(told.help ?? 'export').toMatch(/export|units of 3MF|plate|copy/);
  });

  it('objects that double and double again end soon', async () => {
    const doubling = Array.from({ length: 30 }, (_, nth) =>
      objectXml(nth + 2, `<components>${`<component objectid="${nth + 1}"/>`.repeat(2)}</components>`),
    ).join('\n');
    const told = await problem(
      threeMf(modelXml(objectXml(1, meshXml(CUBE)) + doubling, '<item objectid="31"/>')),
    );
    expect(told.message).toMatch(/without end/);
  });

  it('a zip file that unpacks to far more than it should ends at the bound', async () => {
    const { Zip } = await import('../../src/mesh/zip.ts');
    const bomb = threeMf(`<model>${' '.repeat(20_000_000)}</model>`);
    expect(bomb.length).toBeLessThan(30_000);
    const zip = new Zip(bomb, UNPACKER, 1_000_000);
    let seen = 0;
    const unpacked = zip.unpack('3D/part.model', (piece) => {
      seen += piece.length;
    });
    await expect(unpacked).rejects.toThrow('it unpacks to more than 1 MB');
    expect(seen).toBeLessThan(1_000_001);
  });

  it('cut at any place, or with any byte changed, never throws and never hangs', async () => {
    for (let at = 0; at < good.length; at += 11) {
      expect(await measureMesh(fileOf(good.subarray(0, at)))).toHaveProperty('message');
      const measure = await measureMesh(
        fileOf(
          changed(good, (_, copy) => {
            copy[at]! ^= 0x55;
          }),
        ),
      );
      // What is not in the model may change; what is in it is held to its check sum.
      if (!('message' in measure)) expect(measure.volumeMl).toBeCloseTo(1, 12);
    }
  });

  it('a sphere of text, cut anywhere, is told or has holes', async () => {
    const text = textStl(sphere(10, 6));
    for (let at = 6; at < text.length - 20; at += 101) {
      const measure = await measureMesh(fileOf(bytes(text.slice(0, at))));
      if (!('message' in measure)) expect(measure.remarks).toHaveLength(1);
    }
  });
});
