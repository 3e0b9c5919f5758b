/** A model part of a 3MF file (3MF core specification 1.3; production extension 1.1): its meshes, and what is built of them. */
import { SaxesParser } from 'saxes';
import { EXPORT_AGAIN, Unreadable } from './fault.ts';
import { Runs } from './model-runs.ts';
import { Numbers } from './numbers.ts';
import { FARTHEST } from './stl-binary.ts';
import { type MeshUnit, MM_PER } from './units.ts';

/** Three by four, row by row, as the file writes it: x' = x m0 + y m3 + z m6 + m9, and so on. */
export type Matrix = readonly number[];

/** Something placed: an object of this part, or of another one of the file. */
export interface Placed {
  object: string;
  path: string | undefined;
  matrix: Matrix | undefined;
}

export interface MeshObject {
  /** x y z each. */
  corners: Numbers<Float64Array>;
  /** Three corners each. */
  triangles: Numbers<Uint32Array>;
  components: Placed[];
}

export interface Model {
  /** Undefined where the part does not say: millimetres. */
  unit: MeshUnit | undefined;
  objects: Map<string, MeshObject>;
  build: Placed[];
  /** Items on the plate that are marked as not to be printed, which some programs do beside the specification. */
  unprinted: number;
  /** Names of the extensions that a reader must know, by their addresses. */
  required: string[];
}

/** Elements of the core specification that matter here, where they may stand. */
const WITHIN: Record<string, string> = {
  resources: 'model',
  object: 'resources',
  mesh: 'object',
  vertices: 'mesh',
  vertex: 'vertices',
  triangles: 'mesh',
  triangle: 'triangles',
  components: 'object',
  component: 'components',
  build: 'model',
  item: 'build',
};
const MOST_DEPTH = 64;

/** Takes the text of a part piece by piece. */
export class ModelReader {
  private readonly model: Model = {
    unit: undefined,
    objects: new Map(),
    build: [],
    unprinted: 0,
    required: [],
  };
  private readonly parser = new SaxesParser({ position: false });
  /** Names of the open elements; empty for those that do not matter. */
  private readonly open: string[] = [];
  private object: MeshObject | undefined;
  /** What the names of the core specification begin with here, as that of the root does; mostly nothing. */
  private prefix = '';
  /** Runs of corners and triangles are read without the parser; this says which may come next. */
  private run: 'vertices' | 'triangles' | undefined;
  private readonly runs = new Runs();
  private readonly decoder = new TextDecoder();

  constructor(name: string) {
    const { parser } = this;
    parser.on('error', ({ message }) => {
      throw new Unreadable(`"${name}" in it is damaged: ${message.replace(/\.$/, '')}`, EXPORT_AGAIN);
    });
    parser.on('doctype', () => {
      throw new Unreadable(`"${name}" in it declares entities, which a 3MF file must not`, EXPORT_AGAIN);
    });
    parser.on('opentag', ({ name: element, attributes }) =>
      this.opened(element, attributes as Record<string, string>),
    );
    parser.on('closetag', () => this.closed());
  }

  write(bytes: Uint8Array): void {
    // One sign a byte, so that places are the same.
    let text: string | undefined;
    let at = 0;
    while (at < bytes.length) {
      if (this.run !== undefined) at = this.readRun(bytes, at);
      if (!this.inList) text ??= LATIN1.decode(bytes);
      const end = this.inList ? pastTag(bytes, at) : pastListTag(text!, at);
      this.parse(this.decoder.decode(bytes.subarray(at, end), STREAM));
      at = end;
    }
  }

  /** A run may begin only where an element ended with the very last sign that the parser was given. */
  private parse(text: string): void {
    if (text === '') return;
    this.parser.write(text.slice(0, -1));
    this.run = undefined;
    this.parser.write(text.slice(-1));
  }

  private get inList(): boolean {
    const within = this.open.at(-1);
    return within === 'vertices' || within === 'triangles';
  }

  /** @throws Unreadable where the text ends too early */
  end(): Model {
    this.parse(this.decoder.decode());
    this.parser.close();
    return this.model;
  }

  /** Reads elements as nearly all are written; gives the place of the first that is not. */
  private readRun(bytes: Uint8Array, from: number): number {
    const { corners, triangles } = this.object!;
    return this.run === 'vertices'
      ? this.runs.vertices(bytes, from, corners)
      : this.runs.triangles(bytes, from, triangles);
  }

  private opened(name: string, attributes: Record<string, string>): void {
    const [prefix, local] = name.includes(':') ? (name.split(':', 2) as [string, string]) : ['', name];
    if (this.open.length === 0) this.prefix = prefix;
    if (this.open.length === MOST_DEPTH)
      throw new Unreadable('its elements lie too deep in one another', EXPORT_AGAIN);
    const parent = this.open.at(-1);
    const matters =
      prefix === this.prefix &&
      (parent === undefined ? local === 'model' : parent !== '' && WITHIN[local] === parent);
    this.open.push(matters ? local : '');
    this.run = undefined;
    if (matters) this.take(local, attributes);
  }

  private closed(): void {
    this.open.pop();
    const within = this.open.at(-1);
    this.run = within === 'vertices' || within === 'triangles' ? within : undefined;
  }

  private take(element: string, attributes: Record<string, string>): void {
    switch (element) {
      case 'model':
        this.takeModel(attributes);
        return;
      case 'object':
        this.object = {
          corners: new Numbers(Float64Array),
          triangles: new Numbers(Uint32Array),
          components: [],
        };
        this.model.objects.set(attributes.id ?? '', this.object);
        return;
      case 'vertices':
      case 'triangles':
        this.run = element;
        return;
      case 'vertex':
        this.vertex(attributes.x, attributes.y, attributes.z);
        return;
      case 'triangle':
        this.triangle(attributes.v1, attributes.v2, attributes.v3);
        return;
      case 'component':
        this.object!.components.push(placedBy(attributes));
        return;
      case 'item':
        if (attributes.printable === '0') this.model.unprinted += 1;
        else this.model.build.push(placedBy(attributes));
        return;
    }
  }

  private takeModel(attributes: Record<string, string>): void {
    const { unit } = attributes;
    if (unit !== undefined) {
      if (!Object.hasOwn(MM_PER, unit)) {
        throw new Unreadable(
          `its unit is "${unit}"`,
          `the units of 3MF are ${Object.keys(MM_PER).join(', ')}`,
        );
      }
      this.model.unit = unit as MeshUnit;
    }
    const prefixes = (attributes.requiredextensions ?? '').split(/\s+/).filter(Boolean);
    this.model.required = prefixes.map((prefix) => attributes[`xmlns:${prefix}`] ?? prefix);
  }

  private vertex(x: string | undefined, y: string | undefined, z: string | undefined): void {
    const { corners } = this.object!;
    corners.push(coordinate(x));
    corners.push(coordinate(y));
    corners.push(coordinate(z));
  }

  private triangle(a: string | undefined, b: string | undefined, c: string | undefined): void {
    const { triangles } = this.object!;
    triangles.push(place(a));
    triangles.push(place(b));
    triangles.push(place(c));
  }
}

function pastTag(bytes: Uint8Array, from: number): number {
  const end = bytes.indexOf(TAG_END, from);
  return end < 0 ? bytes.length : end + 1;
}

/** Past the next tag that opens a list of corners or triangles; the end of the text where there is none. */
function pastListTag(text: string, from: number): number {
  LISTS.lastIndex = from;
  return LISTS.test(text) ? LISTS.lastIndex : text.length;
}

const TAG_END = 62;
const STREAM = { stream: true };
const LATIN1 = new TextDecoder('latin1');
const LISTS = /<(?:[\w.-]+:)?(?:vertices|triangles)\b[^>]*>/g;

function coordinate(text: string | undefined): number {
  const number = text === undefined || text.trim() === '' ? Number.NaN : Number(text);
  if (Math.abs(number) < FARTHEST) return number;
  throw new Unreadable(`a corner has the coordinate "${text ?? ''}"`, EXPORT_AGAIN);
}

function place(text: string | undefined): number {
  const number = text === undefined || text.trim() === '' ? Number.NaN : Number(text);
  if (Number.isInteger(number) && number >= 0 && number < 2 ** 31) return number;
  throw new Unreadable(`a triangle names the corner "${text ?? ''}"`, EXPORT_AGAIN);
}

function placedBy(attributes: Record<string, string>): Placed {
  const path = Object.keys(attributes).find((name) => name === 'path' || name.endsWith(':path'));
  const { objectid = '', transform } = attributes;
  return {
    object: objectid,
    path: path === undefined ? undefined : attributes[path],
    matrix: transform === undefined ? undefined : matrixOf(transform),
  };
}

function matrixOf(text: string): Matrix {
  const numbers = text.trim().split(/\s+/).map(Number);
  if (numbers.length === 12 && numbers.every(Number.isFinite)) return numbers;
  throw new Unreadable(`a transform is "${text.slice(0, 40)}", not twelve numbers`, EXPORT_AGAIN);
}
