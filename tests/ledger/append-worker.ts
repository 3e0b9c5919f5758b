/**
 * A writer in a process of its own, for the tests of the lock: adds as many events as told and prints the id of each one
 * that was confirmed.
 */
import { append } from '../../src/ledger/append.ts';
import { newId } from '../../src/ledger/id.ts';
import { settle } from '../../src/ledger/settle.ts';

const [path = '', count = '1'] = process.argv.slice(2);

for (let n = 0; n < Number(count); n++) {
  let id = '';
  const done = await append(
    path,
    async (file) => {
      const taken = new Set(file.events.map((written) => written.event.id));
      // Ids from few numbers: without the lock, two writers would soon draw the same one.
      id = newId(
        (one) => taken.has(one),
        () => Math.floor(Math.random() * 4) / 31,
      );
      await settle(file.events, Date.now());
      return { events: [{ id, at: new Date().toISOString(), what: 'rotate', by: String(process.pid) }] };
    },
    { command: 'worker', patienceMs: 20_000 },
  );
  process.stdout.write(done.problems.length === 0 ? `${id}\n` : `FAILED ${JSON.stringify(done.problems)}\n`);
}
