/** What a 3MF file builds: units, placing, components, parts of its own, as the 3MF core and production specifications have them. */
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { MeshMeasure } from '../../src/mesh/sum-up.ts';
import { box, fileOf, moved, sphere, turned } from './solids.ts';
import { meshXml, modelXml, objectXml, oneObject, threeMf } from './three-mf-file.ts';

/** 6 mL, 22 cm². */
const BOX = box([0, 0, 0], [10, 20, 30]);
const BOX_XML = objectXml(1, meshXml(BOX));

async function measured(file: Uint8Array, piece = 5000): Promise<MeshMeasure> {
  const measure = await measureMesh(fileOf(file, piece));
  if ('message' in measure) throw new Error(measure.message);
  return measure;
}

describe('a box in a 3MF file', () => {
  it.each([0, 6] as const)('packed at level %i is measured, and says its unit', async (level) => {
    const measure = await measured(threeMf(oneObject(BOX), {}, level));
    expect(measure).toMatchObject({
      format: '3MF',
      unit: 'millimeter',
      unitStated: true,
      pieces: 1,
      openEdges: 0,
    });
    expect(measure.volumeMl).toBeCloseTo(6, 12);
    expect(measure.areaCm2).toBeCloseTo(22, 12);
  });

  // The core specification: micron, millimeter, centimeter, inch, foot, meter; millimeter where nothing is said.
  it.each([
    ['unit="micron"', 0.001, 'micron'],
    ['unit="centimeter"', 10, 'centimeter'],
    ['unit="inch"', 25.4, 'inch'],
    ['unit="foot"', 304.8, 'foot'],
    ['unit="meter"', 1000, 'meter'],
    ['', 1, 'millimeter'],
  ] as const)('with %s is as large as that', async (attribute, mm, unit) => {
    const measure = await measured(threeMf(oneObject(BOX, attribute)));
    expect(measure.unit).toBe(unit);
    expect(measure.volumeMl! / (6 * mm ** 3)).toBeCloseTo(1, 12);
    expect(measure.areaCm2 / (22 * mm ** 2)).toBeCloseTo(1, 12);
    expect(measure.boxMm.map((length) => length / mm)).toEqual(
      [10, 20, 30].map((length) => expect.closeTo(length, 9)),
    );
  });

  it('is found where the file says its model is, else where it usually is', async () => {
    const bytes = (text: string) => new TextEncoder().encode(text);
    const usual = zipSync({ '3D/3dmodel.model': bytes(oneObject(BOX)) });
    expect((await measured(usual)).volumeMl).toBeCloseTo(6, 12);
    await expect(measured(zipSync({ 'word/document.xml': bytes('<a/>') }))).rejects.toThrow(
      'a zip file without a 3D model',
    );
  });
});

describe('placing', () => {
  it('counts what is built, as often as it is built, and nothing else', async () => {
    const unused = objectXml(2, meshXml(sphere(40, 6)));
    const build = '<item objectid="1"/><item objectid="1" transform="1 0 0 0 1 0 0 0 1 50 0 0"/>';
    const measure = await measured(threeMf(modelXml(BOX_XML + unused, build)));
    expect(measure).toMatchObject({ triangles: 24, pieces: 2, crossing: 0 });
    expect(measure.volumeMl).toBeCloseTo(12, 12);
    expect(measure.boxMm).toEqual([60, 20, 30]);
  });

  it('turns, scales and moves by rows, places being rows: x’ = x m00 + y m10 + z m20 + m30', async () => {
    // x goes to y, y to z, z to x, twice, half and three times as long.
    const measure = await measured(
      threeMf(modelXml(BOX_XML, '<item objectid="1" transform="0 2 0 0 0 0.5 3 0 0 100 -7 9"/>')),
    );
    expect(measure.boxMm).toEqual([90, 20, 10]);
    expect(measure.volumeMl).toBeCloseTo(18, 12);
  });

  it('in components goes from the inside out', async () => {
    // Moved by 100, then doubled: the gap between the two doubles as well.
    const pair = objectXml(
      2,
      '<components><component objectid="1"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 100 0 0"/></components>',
    );
    const measure = await measured(
      threeMf(modelXml(BOX_XML + pair, '<item objectid="2" transform="2 0 0 0 2 0 0 0 2 0 0 0"/>')),
    );
    expect(measure.volumeMl).toBeCloseTo(2 * 8 * 6, 9);
    expect(measure.boxMm).toEqual([220, 40, 60]);
  });

  it('in a mirror keeps outside out', async () => {
    const measure = await measured(
      threeMf(modelXml(BOX_XML, '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>')),
    );
    expect(measure).toMatchObject({ insideOut: 0 });
    expect(measure.volumeMl).toBeCloseTo(6, 12);
  });

  it('of equal places in two objects does not join them', async () => {
    const resources = BOX_XML + objectXml(2, meshXml(moved(BOX, [10, 0, 0])));
    const measure = await measured(threeMf(modelXml(resources, '<item objectid="1"/><item objectid="2"/>')));
    expect(measure).toMatchObject({ pieces: 2, doubled: false, crossing: 0 });
  });

  it('finds a shut hollow within one object', async () => {
    const hollow = [...sphere(15, 20), ...turned(sphere(12, 20))];
    expect(await measured(threeMf(oneObject(hollow)))).toMatchObject({ pieces: 1, voids: 1 });
  });

  it('takes objects from other parts of the file (production extension)', async () => {
    const extension =
      'unit="millimeter" xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06" requiredextensions="p"';
    const other = modelXml(objectXml(5, meshXml(BOX)), '');
    const inRoot = objectXml(
      1,
      '<components><component objectid="5" p:path="/3D/Objects/a.model"/></components>',
    );
    const file = threeMf(
      modelXml(
        inRoot,
        '<item objectid="1"/><item objectid="5" p:path="/3D/Objects/a.model" transform="1 0 0 0 1 0 0 0 1 0 99 0"/>',
        extension,
      ),
      { '3D/Objects/a.model': other },
    );
    const measure = await measured(file);
    expect(measure.volumeMl).toBeCloseTo(12, 12);
    expect(measure.remarks).toEqual([]);
  });

  it('leaves out what is marked as not to be printed, and says so', async () => {
    const build =
      '<item objectid="1"/><item objectid="1" printable="0" transform="1 0 0 0 1 0 0 0 1 99 0 0"/>';
    const measure = await measured(threeMf(modelXml(BOX_XML, build)));
    expect(measure.volumeMl).toBeCloseTo(6, 12);
    expect(measure.remarks).toEqual(['Parts marked as not to be printed are not counted (1)']);
  });

  it('names an extension that it does not know', async () => {
    const lattice = 'http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02';
    const measure = await measured(threeMf(oneObject(BOX, `xmlns:b="${lattice}" requiredextensions="b"`)));
    expect(measure.remarks[0]).toContain(lattice);
  });
});

describe('the same model written otherwise', () => {
  const facets = [...sphere(15, 12), ...turned(sphere(12, 10))];
  const plain = oneObject(facets);
  const WAYS: Record<string, string> = {
    'on one line': plain.replaceAll('\n', ''),
    'with other breaks': plain.replaceAll('\n', '\r\n\t '),
    'with single quotes': plain.replaceAll('"', "'"),
    'with attributes in another order': plain.replaceAll(
      /<vertex (x=\S+) (y=\S+) (z=\S+)/g,
      '<vertex $3 $1 $2',
    ),
    'with attributes of extensions': plain.replaceAll(/(<triangle [^/]+)\/>/g, '$1 pid="1" p1="2" m:x="3"/>'),
    'with materials': plain.replaceAll(/(<triangle [^/]+)\/>/g, '$1pid="1" p1="2" p2="2" p3="2"/>'),
    'with end tags': plain.replaceAll(/<(vertex|triangle)( [^/]*)\/>/g, '<$1$2></$1>'),
    'with comments': plain.replaceAll(/<(vertex|triangle) /g, '<!-- > <vertex x="1" y="2" z="3"/> --><$1 '),
    'with words between': plain.replaceAll(
      /<(vertex|triangle) /g,
      ' words &amp; <![CDATA[<vertex x="9" y="9" z="9"/>]]> <$1 ',
    ),
    'with a prefix': plain.replaceAll(/<(\/?)(?!\?)/g, '<$1c:').replace(' xmlns=', ' xmlns:c='),
    'with elements of others that are called the same': plain
      .replaceAll('<vertex ', '<o:vertex x="1" y="1" z="1"/><vertex ')
      .replace('<mesh>', '<o:mesh><vertices><vertex x="5" y="5" z="5"/></vertices></o:mesh><mesh>'),
    'with numbers in other forms': plain.replaceAll(
      /(?<=[xyz]=)"(-?\d+\.\d+)"/g,
      (_, number) => `" ${Number(number).toExponential(17)} "`,
    ),
    'with a sign for its bytes': `\ufeff${plain}`,
  };

  it.each(Object.entries(WAYS))('%s measures the same', async (_, text) => {
    expect(text).not.toBe(plain);
    const expected = await measured(threeMf(plain));
    expect(await measured(threeMf(text))).toEqual(expected);
  });

  it('in pieces of any size, that end anywhere, measures the same', async () => {
    const { ModelReader } = await import('../../src/mesh/model.ts');
    // What stands between may be in any language.
    const between = plain.replaceAll(/<(vertex|triangle) /g, '<!-- ∎ é 𝕏 --><$1 ');
    for (const text of [plain, between, WAYS['with comments']!, WAYS['with end tags']!]) {
      const whole = readIn(new ModelReader('a'), text, text.length);
      for (const size of [1, 2, 7, 31, 100, 1000])
        expect(readIn(new ModelReader('a'), text, size)).toEqual(whole);
      expect(whole.corners).toHaveLength(3 * (12 * 24 - 24 + 2 + 10 * 20 - 20 + 2));
      expect(whole.triangles).toHaveLength(3 * facets.length);
    }
  });
});

function readIn(
  reader: { write(bytes: Uint8Array): void; end(): { objects: Map<string, Read> } },
  text: string,
  size: number,
) {
  const bytes = new TextEncoder().encode(text);
  for (let at = 0; at < bytes.length; at += size) reader.write(bytes.subarray(at, at + size));
  const object = reader.end().objects.get('1')!;
  const list = (numbers: Read['corners']) =>
    Array.from({ length: numbers.length }, (_, nth) => numbers.at(nth));
  return { corners: list(object.corners), triangles: list(object.triangles) };
}

interface Read {
  corners: { length: number; at(place: number): number };
  triangles: { length: number; at(place: number): number };
}
