// One of several workers: judges the shops it is sent, one at a time, and sends their rows back.
import { parentPort, workerData } from 'node:worker_threads';
import { judgeShop } from './measure.mjs';

const { seed, draws, shops, bundle } = workerData;
const { judge } = await import(bundle);

parentPort?.on('message', (index) => {
  parentPort?.postMessage(judgeShop(index, { seed, draws, judge, withExact: index < shops }));
});
parentPort?.postMessage([]);
