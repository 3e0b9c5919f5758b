// Runs a case in this process and tells which laws it breaks.
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { broken } from './laws.mjs';

/** A folder to run cases in, one after the other; `room` is the program: build-room.mjs. */
export function newRunner(room, folder, unfit) {
  process.chdir(folder);
  return async (drawn) => {
    for (const name of readdirSync(folder)) rmSync(join(folder, name), { recursive: true, force: true });
    for (const [name, bytes] of Object.entries(drawn.files)) writeFileSync(join(folder, name), bytes);
    const ran = [];
    for (const args of drawn.runs) ran.push(await room.run(args));
    const after = readFileSync(join(folder, 'bathbook.yaml'));
    return broken({
      files: drawn.files,
      ran,
      after,
      unfit,
      readers: room.readers,
    });
  };
}
