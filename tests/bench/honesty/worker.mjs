// One of several workers: judges the shops it is sent, one at a time, and sends their rows back.
import { parentPort, workerData } from 'node:worker_threads';
import { dateShop } from './dates-measure.mjs';
import { judgeShop } from './measure.mjs';

const { what, seed, draws, shops, bundle } = workerData;
const tested = await import(bundle);

parentPort?.on('message', (index) => {
  parentPort?.postMessage(
    what === 'dates'
      ? dateShop(index, { seed, state: tested.state })
      : judgeShop(index, { seed, draws, judge: tested.judge, withExact: index < shops }),
  );
});
parentPort?.postMessage([]);
