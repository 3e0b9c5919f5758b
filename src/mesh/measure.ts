/** Measures a part in a file of triangles: STL, binary or of text, or 3MF. */
import { EXPORT_AGAIN, Unreadable } from './fault.ts';
import { countIn, KIND_BYTES, kindOf } from './kind.ts';
import { readBinary } from './stl-binary.ts';
import { readText } from './stl-text.ts';
import { type MeshMeasure, sumUp } from './sum-up.ts';
import { MOST_INDEXED, Surface } from './surface.ts';
import type { Triangles } from './triangles.ts';
import type { MeshUnit } from './units.ts';
import type { Unpacker } from './zip.ts';

/** Bytes of a file, from its start to its end, as often as they are asked for. */
export interface MeshBytes {
  sizeBytes: number;
  chunks(): Iterable<Uint8Array>;
  /** For what is packed. */
  unpacker: Unpacker;
  /** Reads the whole as an STL file of text, as {@link readText} does, where there is a quicker way. */
  readText?: (to: Triangles) => Promise<boolean>;
}

/** Why a file could not be measured: the rest of a sentence that names it, and what to do. */
export interface MeshProblem {
  message: string;
  help: string | undefined;
  /** Line of a file of text, from 1. */
  line: number | undefined;
}

export interface MeshOptions {
  /** Of STL files, which do not say it; a 3MF file does. Default: millimetres. */
  unit?: MeshUnit;
  /** Triangles beyond which only sums are kept. */
  most?: number;
}

/** @returns what the part measures, in mL, cm² and mm; or why it cannot be said. Never throws for what is in the file. */
export async function measureMesh(
  file: MeshBytes,
  { unit = 'millimeter', most = MOST_INDEXED }: MeshOptions = {},
): Promise<MeshMeasure | MeshProblem> {
  try {
    const start = startOf(file.chunks());
    const kind = kindOf(start, file.sizeBytes);
    if (kind === 'zip') {
      const { measure3mf } = await import('./three-mf.ts');
      return await measure3mf(file, most);
    }
    return await measureStl(file, {
      isText: kind === 'text',
      expected: expectedIn(start, file, kind === 'text'),
      unit,
      most,
    });
  } catch (error) {
    if (error instanceof Unreadable) return { message: error.message, help: error.help, line: error.line };
    throw error;
  }
}

function startOf(chunks: Iterable<Uint8Array>): Uint8Array {
  const start = new Uint8Array(KIND_BYTES);
  let held = 0;
  for (const chunk of chunks) {
    const taken = chunk.subarray(0, KIND_BYTES - held);
    start.set(taken, held);
    held += taken.length;
    if (held === KIND_BYTES) break;
  }
  return start.subarray(0, held);
}

/** A triangle of text takes 250 bytes, more or less. */
function expectedIn(start: Uint8Array, { sizeBytes }: MeshBytes, isText: boolean): number {
  return isText ? Math.ceil(sizeBytes / 250) : countIn(start);
}

async function measureStl(
  file: MeshBytes,
  { isText, expected, unit, most }: { isText: boolean; expected: number; unit: MeshUnit; most: number },
): Promise<MeshMeasure> {
  const surface = new Surface({ expected, most });
  const remarks: string[] = [];
  if (!isText) readBinary(file.chunks(), surface);
  else if (!(await (file.readText?.(surface) ?? readText(file.chunks(), surface))))
    remarks.push('The file has no "endsolid"; it may have been cut off');
  if (surface.triangles === 0) throw new Unreadable('it holds no triangles', EXPORT_AGAIN);
  return sumUp(surface, {
    format: isText ? 'ASCII STL' : 'binary STL',
    unit,
    unitStated: false,
    remarks,
  });
}
