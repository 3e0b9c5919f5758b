/** A worker thread of `compare`: takes one piece of work after the other. */
import { parentPort, workerData } from 'node:worker_threads';
import { type Basis, PartRunner } from '../compare/part.ts';
import type { Plant } from '../compare/plant.ts';

/** A habit in the draws from `from` up to but not including `to`. */
export interface Piece {
  id: number;
  plant: Plant;
  from: number;
  to: number;
}

const runner = new PartRunner(workerData as Basis);

parentPort!.on('message', ({ id, plant, from, to }: Piece) => {
  parentPort!.postMessage({ id, part: runner.run(plant, from, to) });
});
