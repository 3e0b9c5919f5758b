/** The thread that reads a long STL file of text while the main one measures. */
import { parentPort, workerData } from 'node:worker_threads';
import { Unreadable } from '../mesh/fault.ts';
import { readText } from '../mesh/stl-text.ts';
import { piecesOf } from './mesh-pieces.ts';
import { Filler, type Slots } from './mesh-text-slots.ts';

/** What the thread tells the main one. */
export type Told =
  | { triangles: number }
  /** Read to the end; false where the file was cut off between two triangles. */
  | { whole: boolean }
  | { wrong: { message: string; help: string | undefined; line: number | undefined } }
  /** Of the system. */
  | { code: string };

const tell = (told: Told): void => parentPort!.postMessage(told);
const { path, slots } = workerData as { path: string; slots: Slots };

try {
  const filler = new Filler(slots, (triangles) => tell({ triangles }));
  const whole = readText(piecesOf(path), filler);
  filler.end();
  tell({ whole });
} catch (error) {
  const { code } = error as NodeJS.ErrnoException;
  if (error instanceof Unreadable)
    tell({ wrong: { message: error.message, help: error.help, line: error.line } });
  else if (code !== undefined) tell({ code });
  else throw error;
}
