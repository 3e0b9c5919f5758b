// Each call by which the program reaches the disk fails once, and then for good, in each way a disk can; and every command that
// writes meets a full one. What was there stays, what is confirmed is there, and the next run goes on as if nothing had been.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { buildRoom } from './parts/build.mjs';
import { FAULTS } from './parts/disk-faults.mjs';
import { wrongAfter } from './parts/disk-law.mjs';
import { SCENES } from './parts/disk-scenes.mjs';
import { ended } from './parts/ended.mjs';
import { randomOf, shuffled } from './parts/random.mjs';
import { deadOwner } from './parts/recovery.mjs';

export const name = 'disk';
export const floors = { 'calls of clean runs': 300, 'faults struck': 40 };

const PRELOAD = fileURLToPath(new URL('parts/fault-disk.cjs', import.meta.url));

export async function run({ seconds, seed, program, folder, say }) {
  const until = performance.now() + seconds * 1000;
  const bench = {
    program,
    folder,
    dead: deadOwner(),
    room: await import(pathToFileURL(await buildRoom(join(folder, 'room.mjs'))).href),
  };
  const failures = [];
  const figures = {
    'calls of clean runs': 0,
    cases: 0,
    'faults struck': 0,
    'runs that wrote all the same': 0,
  };
  const cases = [];
  for (const scene of SCENES) {
    const clean = await tryCase({ scene }, bench);
    failures.push(...clean.wrong.map((why) => `${scene.name} without a fault: ${why}`));
    figures['calls of clean runs'] += clean.calls.length;
    cases.push(...casesOf(scene, clean.calls));
  }
  const left = shuffled(randomOf(seed), cases);
  say(`${left.length} cases of ${SCENES.length} commands`);
  const work = async () => {
    // A busy machine has to try as many as say something.
    const isTooFew = () => figures['faults struck'] < floors['faults struck'];
    while ((performance.now() < until || isTooFew()) && left.length > 0) {
      const one = left.pop();
      const { wrong, struck, code } = await tryCase(one, bench).catch((error) => ({ wrong: [error.stack] }));
      failures.push(...wrong.map((why) => `${one.scene.name}, ${one.fault}: ${why}`));
      figures.cases += 1;
      if (struck) figures['faults struck'] += 1;
      if (struck && code === 0) figures['runs that wrote all the same'] += 1;
    }
  };
  await Promise.all([work(), work()]);
  figures['cases left'] = left.length;
  return { figures, failures };
}

/** Each call of the clean run, by each fault, alone and with all after it. */
function casesOf(scene, calls) {
  const nth = {};
  return calls.flatMap((line) => {
    const [call, made] = line.split(' ');
    nth[call] = (nth[call] ?? 0) + 1;
    return FAULTS[call]
      .filter(({ only }) => only === undefined || only.includes(made))
      .flatMap(({ fault }) =>
        ['', '+'].map((lasts) => ({ scene, call, lasts, fault: `${call}:${nth[call]}${lasts}:${fault}` })),
      );
  });
}

async function tryCase({ scene, fault = '', call, lasts }, bench) {
  const place = mkdtempSync(join(bench.folder, 'case-'));
  try {
    const shop = join(place, 'shop');
    mkdirSync(shop);
    const path = join(shop, 'bathbook.yaml');
    scene.prepare(shop, path, bench);
    const before = scene.text === undefined ? undefined : readFileSync(path);
    const callsFile = join(place, 'calls');
    writeFileSync(callsFile, '');
    const env = {
      HOME: shop,
      XDG_CACHE_HOME: join(scene.isCold ? shop : bench.folder, 'cache'),
      XDG_STATE_HOME: join(shop, 'state'),
    };
    const ran = await ended(
      ['--require', PRELOAD, bench.program, ...scene.words, '--ledger', path, '--no-input'],
      {
        cwd: shop,
        env: { ...env, FAULT: fault, FAULT_WITHIN: `${shop}:answer`, FAULT_CALLS: callsFile },
      },
    );
    const calls = readFileSync(callsFile, 'utf8').split('\n').filter(Boolean);
    const wrong = await wrongAfter({ scene, call, lasts, shop, path, before, ran, room: bench.room });
    return { wrong, calls, struck: calls.some((line) => line.startsWith('!')), code: ran.code };
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
}
