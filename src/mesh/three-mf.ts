/** Measures what a 3MF file builds: a zip file with a model, whose objects are placed once or often. */
import { SaxesParser } from 'saxes';
import { EXPORT_AGAIN, Unreadable } from './fault.ts';
import type { MeshBytes } from './measure.ts';
import { type Matrix, type MeshObject, type Model, ModelReader, type Placed } from './model.ts';
import { FARTHEST } from './stl-binary.ts';
import { type MeshMeasure, sumUp } from './sum-up.ts';
import { Surface } from './surface.ts';
import { MM_PER } from './units.ts';
import { Zip } from './zip.ts';

const MOST_FILE_BYTES = 256 * 1024 * 1024;
/** Placed one in another, objects of a few bytes make more triangles than can ever be counted. */
const MOST_TRIANGLES = 20_000_000;
/** No closed surface has more corners than three a triangle; those of no triangle cost as much to place. */
const MOST_CORNERS = 3 * MOST_TRIANGLES;
/** Placed beyond it, mm, in the largest unit: surface and volume would be no numbers. */
const FARTHEST_PLACED = 1000 * FARTHEST;
const MOST_PLACED = 100_000;
const MOST_NESTED = 32;
const MODEL_TYPE = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';
/** Extensions that add nothing to, and take nothing from, the triangles. */
const HARMLESS = /3dmanufacturing\/(?:material|production|core|trianglesets)\//;

/** @throws Unreadable */
export async function measure3mf(file: MeshBytes, most: number): Promise<MeshMeasure> {
  if (file.sizeBytes > MOST_FILE_BYTES) {
    throw new Unreadable('it is larger than 256 MB', 'export fewer parts in one file, or as binary STL');
  }
  const parts = await Parts.of(new Zip(whole(file), file.unpacker));
  const { root, unit } = parts;
  const surface = new Surface({ most });
  const builder = new Builder(parts, surface);
  for (const item of root.model.build) builder.place(item, root.name, scaled(MM_PER[unit]), 0);
  if (surface.triangles === 0) {
    throw new Unreadable(
      'it builds nothing',
      'put the part on the plate before it is exported, or export it as STL',
    );
  }
  return {
    ...sumUp(surface, { format: '3MF', unit: 'millimeter', unitStated: true, remarks: parts.remarks() }),
    unit,
  };
}

function whole({ sizeBytes, chunks }: MeshBytes): Uint8Array {
  const bytes = new Uint8Array(sizeBytes);
  let at = 0;
  for (const chunk of chunks()) {
    bytes.set(chunk.subarray(0, sizeBytes - at), at);
    at += Math.min(chunk.length, sizeBytes - at);
  }
  return bytes.subarray(0, at);
}

/** The model parts of a file, as far as they are built, each read once. */
class Parts {
  readonly root: { name: string; model: Model };
  private readonly zip: Zip;
  private readonly read = new Map<string, Model>();

  static async of(zip: Zip): Promise<Parts> {
    const path = await modelPath(zip);
    const name = path === undefined ? undefined : zip.find(path);
    if (name === undefined) {
      throw new Unreadable('it is a zip file without a 3D model', 'export the part as 3MF or STL');
    }
    const parts = new Parts(zip, name, await readModel(zip, name));
    await parts.reach();
    return parts;
  }

  private constructor(zip: Zip, name: string, model: Model) {
    this.zip = zip;
    this.root = { name, model };
    this.read.set(name, model);
  }

  /** Of the root; millimetres where it is silent. */
  get unit() {
    return this.root.model.unit ?? 'millimeter';
  }

  /** @throws Unreadable where there is no such part, or no such object in it */
  object(path: string, id: string): MeshObject {
    const name = this.zip.find(path);
    if (name === undefined) throw new Unreadable(`it has no part "${path}"`, EXPORT_AGAIN);
    const found = this.read.get(name)?.objects.get(id);
    if (!found) throw new Unreadable(`it has no object "${id}" in "${name}"`, EXPORT_AGAIN);
    return found;
  }

  remarks(): string[] {
    const models = [...this.read.values()];
    const unknown = new Set(models.flatMap(({ required }) => required.filter((one) => !HARMLESS.test(one))));
    const units = new Set(models.flatMap(({ unit }) => unit ?? []));
    const { unprinted } = this.root.model;
    return [
      ...(unprinted > 0 ? [`Parts marked as not to be printed are not counted (${unprinted})`] : []),
      ...[...unknown].map((one) => `What the extension "${one}" of 3MF adds or takes away is not measured`),
      ...(units.size > 1
        ? [`Its parts name several units (${[...units].join(', ')}); that of the first counts`]
        : []),
    ];
  }

  /** Reads the parts in which the objects lie that are built. */
  private async reach(): Promise<void> {
    const seen = new Set<string>();
    const placed = this.root.model.build.map((item) => ({ ...item, path: item.path ?? this.root.name }));
    for (let next = placed.pop(); next !== undefined; next = placed.pop()) {
      const { path, object } = next;
      const name = this.zip.find(path);
      const key = JSON.stringify([name, object]);
      if (name === undefined || seen.has(key)) continue;
      seen.add(key);
      const model = this.read.get(name) ?? (await readModel(this.zip, name));
      this.read.set(name, model);
      const inner = model.objects.get(object)?.components ?? [];
      placed.push(...inner.map((one) => ({ ...one, path: one.path ?? path })));
    }
  }
}

async function readModel(zip: Zip, name: string): Promise<Model> {
  const reader = new ModelReader(name);
  await zip.unpack(name, (bytes) => reader.write(bytes));
  return reader.end();
}

/** The part that the file names as its model; else the usual one. */
async function modelPath(zip: Zip): Promise<string | undefined> {
  const relations = zip.find('_rels/.rels');
  let named: string | undefined;
  if (relations !== undefined) {
    const parser = new SaxesParser();
    parser.on('error', () => undefined);
    parser.on('opentag', ({ attributes }) => {
      if (attributes.Type === MODEL_TYPE) named ??= attributes.Target;
    });
    const decoder = new TextDecoder();
    await zip.unpack(relations, (bytes) => parser.write(decoder.decode(bytes, { stream: true })));
  }
  return named ?? zip.names.find((name) => /^\/?3D\/[^/]+\.model$/i.test(name));
}

function scaled(factor: number): Matrix {
  return [factor, 0, 0, 0, factor, 0, 0, 0, factor, 0, 0, 0];
}

/** The inner placing first, then the outer one. */
function combined(inner: Matrix | undefined, outer: Matrix): Matrix {
  if (!inner) return outer;
  return Array.from({ length: 12 }, (_, nth) => {
    const [row, column] = [Math.floor(nth / 3), nth % 3];
    const sum = [0, 1, 2].reduce((total, k) => total + inner[3 * row + k]! * outer[3 * k + column]!, 0);
    return row === 3 ? sum + outer[9 + column]! : sum;
  });
}

/** Below nought where it makes a mirror image. */
function determinant(m: Matrix): number {
  const [a, b, c, d, e, f, g, h, i] = m as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
}

class Builder {
  private readonly parts: Parts;
  private readonly surface: Surface;
  private placed = 0;
  private corners = 0;

  constructor(parts: Parts, surface: Surface) {
    this.parts = parts;
    this.surface = surface;
  }

  place({ object: id, path, matrix }: Placed, from: string, outer: Matrix, nested: number): void {
    this.placed += 1;
    if (nested > MOST_NESTED || this.placed > MOST_PLACED) {
      throw new Unreadable('its objects are placed in one another without end, or nearly', EXPORT_AGAIN);
    }
    const part = path ?? from;
    const object = this.parts.object(part, id);
    const total = combined(matrix, outer);
    this.addMesh(object, total, id);
    for (const component of object.components) this.place(component, part, total, nested + 1);
  }

  private addMesh({ corners, triangles }: MeshObject, matrix: Matrix, id: string): void {
    const { surface } = this;
    this.corners += corners.length / 3;
    if (surface.triangles + triangles.length / 3 > MOST_TRIANGLES || this.corners > MOST_CORNERS) {
      throw new Unreadable('it builds more than 20 million triangles', 'export fewer parts in one file');
    }
    surface.piece();
    const at = cornersPlaced(corners, matrix, id);
    const mirrored = determinant(matrix) < 0;
    for (let nth = 0; nth < triangles.length; nth += 3) {
      const a = triangles.at(nth);
      const b = triangles.at(nth + (mirrored ? 2 : 1));
      const c = triangles.at(nth + (mirrored ? 1 : 2));
      if (3 * Math.max(a, b, c) >= corners.length) {
        throw new Unreadable(
          `object "${id}" has a triangle of corner ${Math.max(a, b, c)}, and ${corners.length / 3} corners`,
          EXPORT_AGAIN,
        );
      }
      const [p, q, r] = [3 * a, 3 * b, 3 * c];
      surface.add(
        at[p]!,
        at[p + 1]!,
        at[p + 2]!,
        at[q]!,
        at[q + 1]!,
        at[q + 2]!,
        at[r]!,
        at[r + 1]!,
        at[r + 2]!,
      );
    }
  }
}

/** @throws Unreadable where one comes to lie farther than any printer reaches */
function cornersPlaced(corners: MeshObject['corners'], m: Matrix, id: string): Float64Array {
  const placed = new Float64Array(corners.length);
  for (let at = 0; at < corners.length; at += 3) {
    const [x, y, z] = [corners.at(at), corners.at(at + 1), corners.at(at + 2)];
    for (let axis = 0; axis < 3; axis += 1) {
      const value = x * m[axis]! + y * m[3 + axis]! + z * m[6 + axis]! + m[9 + axis]!;
      if (!(Math.abs(value) < FARTHEST_PLACED)) {
        throw new Unreadable(`object "${id}" is placed beyond ${FARTHEST_PLACED} mm`, EXPORT_AGAIN);
      }
      placed[at + axis] = value;
    }
  }
  return placed;
}
