/** three.js as a second implementation: its solids, its writer and its reader of STL, its areas and vector products. */
import {
  BoxGeometry,
  type BufferGeometry,
  CapsuleGeometry,
  ConeGeometry,
  CylinderGeometry,
  Euler,
  ExtrudeGeometry,
  IcosahedronGeometry,
  LatheGeometry,
  Matrix4,
  Mesh,
  Quaternion,
  Shape,
  TorusKnotGeometry,
  Triangle,
  Vector2,
  Vector3,
} from 'three';
import { STLExporter } from 'three/addons/exporters/STLExporter.js';
import { STLLoader } from 'three/addons/loaders/STLLoader.js';
import { describe, expect, it } from 'vitest';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { MeshMeasure } from '../../src/mesh/sum-up.ts';
import type { Corner, Facet } from './solids.ts';
import { fileOf } from './solids.ts';
import { meshXml, modelXml, objectXml, threeMf } from './three-mf-file.ts';

const star = new Shape(
  Array.from({ length: 14 }, (_, nth) => {
    const [reach, angle] = [nth % 2 ? 9 : 16, (Math.PI * nth) / 7];
    return new Vector2(reach * Math.cos(angle), reach * Math.sin(angle));
  }),
);
const vase = [0, 6, 9, 7, 4, 8, 0].map((reach, nth) => new Vector2(reach, 5 * nth));

const SOLIDS: Record<string, BufferGeometry> = {
  box: new BoxGeometry(10, 20, 30, 3, 4, 5),
  cylinder: new CylinderGeometry(8, 11, 30, 90),
  cone: new ConeGeometry(12, 25, 60),
  knot: new TorusKnotGeometry(20, 5, 400, 30),
  capsule: new CapsuleGeometry(6, 20, 12, 40),
  ball: new IcosahedronGeometry(15, 12),
  star: new ExtrudeGeometry(star, { depth: 12, bevelEnabled: false }),
  vase: new LatheGeometry(vase, 72),
};
/** Some turn and place, so that nothing lies along an axis. */
const PLACED = new Matrix4().compose(
  new Vector3(31, -17, 8),
  new Quaternion().setFromEuler(new Euler(0.3, 1.1, -0.7)),
  new Vector3(1, 1, 1),
);

function placed(geometry: BufferGeometry): Mesh {
  return new Mesh(geometry.clone().applyMatrix4(PLACED));
}

function triangles(geometry: BufferGeometry): Triangle[] {
  const flat = geometry.index ? geometry.toNonIndexed() : geometry;
  const place = flat.getAttribute('position');
  const at = (nth: number) => new Vector3().fromBufferAttribute(place, nth);
  return Array.from(
    { length: place.count / 3 },
    (_, nth) => new Triangle(at(3 * nth), at(3 * nth + 1), at(3 * nth + 2)),
  );
}

function byThree(geometry: BufferGeometry) {
  const list = triangles(geometry);
  geometry.computeBoundingBox();
  return {
    areaCm2: list.reduce((sum, one) => sum + one.getArea(), 0) / 100,
    volumeMl: list.reduce((sum, { a, b, c }) => sum + a.dot(new Vector3().crossVectors(b, c)) / 6, 0) / 1000,
    box: geometry.boundingBox!.getSize(new Vector3()).toArray(),
    triangles: list.length,
  };
}

function expectSame(measure: MeshMeasure, three: ReturnType<typeof byThree>): void {
  expect(measure.triangles).toBe(three.triangles);
  expect(measure.areaCm2 / three.areaCm2).toBeCloseTo(1, 6);
  measure.boxMm.forEach((length, axis) => void expect(length).toBeCloseTo(three.box[axis]!, 4));
}

describe.each(Object.entries(SOLIDS))('a %s of three.js', (name, solid) => {
  const mesh = placed(solid);
  const written = new STLExporter().parse(mesh, { binary: true });
  const binary = new Uint8Array(written.buffer, written.byteOffset, written.byteLength);
  const text = new TextEncoder().encode(
    new STLExporter().parse(mesh, { binary: false }) as unknown as string,
  );

  it.each([
    ['binary', binary],
    ['text', text],
  ] as const)(
    'written by it as %s STL has the surface, box and volume that it works out itself',
    async (_, bytes) => {
      const measure = (await measureMesh(fileOf(bytes))) as MeshMeasure;
      expectSame(measure, byThree(mesh.geometry));
      if (name === 'vase' || measure.volumeMl === undefined) return;
      expect(measure.volumeMl / byThree(mesh.geometry).volumeMl).toBeCloseTo(1, 5);
    },
  );

  it('read back by it from the same bytes is the same', async () => {
    const back = new STLLoader().parse(binary.slice().buffer);
    const measure = (await measureMesh(fileOf(binary))) as MeshMeasure;
    expectSame(measure, byThree(back));
  });

  it('as 3MF, turned and placed by the file instead, is the same', async () => {
    const facets = triangles(solid).map(
      ({ a, b, c }) => [a, b, c].map((corner) => corner.toArray() as unknown as Corner) as unknown as Facet,
    );
    const e = PLACED.elements;
    // Column by column in three.js for columns of places, so row by row in 3MF for rows of places.
    const matrix = [0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14].map((nth) => e[nth]).join(' ');
    const model = modelXml(objectXml(1, meshXml(facets)), `<item objectid="1" transform="${matrix}"/>`);
    const measure = (await measureMesh(fileOf(threeMf(model)))) as MeshMeasure;
    expectSame(measure, byThree(mesh.geometry));
  });
});

describe('what is closed in three.js', () => {
  it.each(['box', 'knot', 'ball', 'star'])('a %s is closed here, and one piece', async (name) => {
    const facets = triangles(SOLIDS[name]!).map(
      ({ a, b, c }) => [a, b, c].map((corner) => corner.toArray() as unknown as Corner) as unknown as Facet,
    );
    const model = modelXml(objectXml(1, meshXml(facets)), '<item objectid="1"/>');
    const measure = (await measureMesh(fileOf(threeMf(model)))) as MeshMeasure;
    expect(measure.volumeMl).toBeGreaterThan(0);
  });
});
