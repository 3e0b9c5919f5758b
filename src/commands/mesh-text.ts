/** Reading a long STL file of text in a thread of its own. */
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { Unreadable } from '../mesh/fault.ts';
import type { Triangles } from '../mesh/triangles.ts';
import { Emptier, newSlots } from './mesh-text-slots.ts';
import type { Told } from './mesh-text-worker.ts';

/**
 * As `readText` of src/mesh, in two threads: one reads, this one takes the triangles in their order.
 *
 * @returns whether the last solid was brought to its end
 * @throws Unreadable; an error of the system with its code
 */
export function readTextApart(path: string, to: Triangles): Promise<boolean> {
  const slots = newSlots();
  const emptier = new Emptier(slots);
  const worker = new Worker(join(__dirname, 'mesh-text-worker.js'), { workerData: { path, slots } });
  return new Promise((resolve, reject) => {
    worker.on('message', (told: Told) => {
      if ('triangles' in told) emptier.take(told.triangles, to);
      else if ('whole' in told) resolve(told.whole);
      else if ('wrong' in told) reject(new Unreadable(told.wrong.message, told.wrong.help, told.wrong.line));
      else reject(Object.assign(new Error(told.code), { code: told.code }));
    });
    worker.on('error', reject);
    worker.on('exit', (code) => reject(new Error(`The thread that reads ended with ${code}`)));
  });
}
