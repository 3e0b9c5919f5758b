/** Small 3MF files that ask for very much work, or for numbers beyond all: each is refused, and soon. */
import { describe, expect, it } from 'vitest';
import { measureMesh } from '../../src/mesh/measure.ts';
import { box, fileOf } from './solids.ts';
import { meshXml, modelXml, objectXml, threeMf } from './three-mf-file.ts';

const CUBE = meshXml(box([0, 0, 0], [10, 10, 10]));

describe('a 3MF file', () => {
  it('with many corners of no triangle, placed often, is refused', { timeout: 20_000 }, async () => {
    const spare = '<vertex x="1" y="2" z="3" />'.repeat(100_000);
    const mesh = CUBE.replace('</vertices>', `${spare}</vertices>`);
    const model = modelXml(objectXml(1, mesh), '<item objectid="1"/>'.repeat(90_000));
    const measured = await measureMesh(fileOf(threeMf(model)));
    expect(measured).toMatchObject({ message: expect.stringContaining('20 million triangles') as string });
  });

  it.each([
    ['a scale beyond all', '1e200 0 0 0 1e200 0 0 0 1e200 0 0 0'],
    ['a place beyond all', '1 0 0 0 1 0 0 0 1 1e300 0 0'],
    ['what is no number', '1e308 1e308 0 -1e308 1e308 0 0 0 1e308 1e308 0 0'],
  ])('placed by %s is refused, with the object', async (_, transform) => {
    const model = modelXml(objectXml(7, CUBE), `<item objectid="7" transform="${transform}"/>`);
    const measured = await measureMesh(fileOf(threeMf(model)));
    expect(measured).toMatchObject({
      message: expect.stringMatching(/object "7" is placed beyond/) as string,
    });
  });

  it('in metres, a kilometre away, is measured', async () => {
    const model = modelXml(
      objectXml(1, CUBE),
      '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 1000 0 0"/>',
      'unit="meter"',
    );
    const measured = await measureMesh(fileOf(threeMf(model)));
    // A cube of 10 m holds 1000 m³, which are 1e9 mL.
    expect((measured as { volumeMl: number }).volumeMl).toBeCloseTo(1e9, -3);
  });
});
