// Any other byte in the place of each byte of small ledgers, each byte removed and doubled, and the ledgers cut at each: what is read is
// held against the law in tests/ledger/damage.ts. The places come in an order drawn afresh, so a short run is a sample of the whole.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildRoom } from './parts/build.mjs';
import { randomOf, shuffled } from './parts/random.mjs';

export const name = 'bytes';
export const floors = { reads: 3000, told: 1000, 'a value, unknowable': 30, cuts: 10 };

/** What no reader can know for a change, in words. */
const UNKNOWABLE = {
  same: 'the same data',
  value: 'a value, unknowable',
  name: 'a name, unknowable',
  words: 'words of a list, unknowable',
  'line gone': 'a line become a remark',
  'line come': 'a remark become a line',
  'without effect': 'in a void amend',
};

export async function run({ seconds, seed, folder, say }) {
  const until = performance.now() + seconds * 1000;
  const room = await import(
    pathToFileURL(await buildRoom(join(folder, 'damage.mjs'), { entry: 'damage.mjs' }))
  );
  const originals = [];
  for (const [ledger, text] of Object.entries(room.LEDGERS)) {
    originals.push(await room.originalOf(ledger, text));
  }
  const places = originals.flatMap((original) => [...original.bytes.keys()].map((at) => ({ original, at })));
  const figures = { bytes: places.length, 'bytes gone through': 0, reads: 0, cuts: 0, 'longest read ms': 0 };
  const failures = [];
  for (const { original, at } of shuffled(randomOf(seed), places)) {
    if (performance.now() > until || failures.length > 50) break;
    for (const { bytes, how } of damagesAt(original.bytes, at, room)) {
      const fromMs = performance.now();
      const { outcome, broken } = await judged(room, original, bytes, at);
      figures['longest read ms'] = Math.max(
        figures['longest read ms'],
        Math.round(performance.now() - fromMs),
      );
      const figure = UNKNOWABLE[outcome] ?? outcome;
      figures[figure] = (figures[figure] ?? 0) + 1;
      figures.reads += 1;
      failures.push(...broken.map((why) => `${original.name}, byte ${at} ${how}: ${why}`));
    }
    failures.push(
      ...(await room.judgeCut(original, at)).map((why) => `${original.name}, cut at ${at}: ${why}`),
    );
    figures.cuts += 1;
    figures['bytes gone through'] += 1;
    if (figures.cuts % 1000 === 0) say(`${figures.cuts} bytes of ${places.length}`);
  }
  return { figures, failures };
}

function* damagesAt(bytes, at, { allReplacements, doubled, removed, replaced }) {
  for (const by of allReplacements(bytes[at])) yield { bytes: replaced(bytes, at, by), how: `becomes ${by}` };
  yield { bytes: removed(bytes, at), how: 'removed' };
  yield { bytes: doubled(bytes, at), how: 'doubled' };
}

async function judged(room, original, bytes, at) {
  try {
    return await room.judge(original, bytes, at);
  } catch (error) {
    return { outcome: 'a crash', broken: [error.stack] };
  }
}
