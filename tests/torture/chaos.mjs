// Six writers and two readers of one ledger, and a kill at random every few milliseconds; after each round the ledger is held
// against what was confirmed.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { buildRoom } from './parts/build.mjs';
import { crowd } from './parts/crowd.mjs';
import { eventsByOther, wrongIds } from './parts/other-parser.mjs';
import { randomOf } from './parts/random.mjs';
import { deadOwner, quantile, recoveries } from './parts/recovery.mjs';
import { LINES, ledgerOf } from './parts/sample.mjs';
import { newBook, programReader, programWriter, roomWriter, WRITES } from './parts/told.mjs';

export const name = 'chaos';
export const floors = {
  'kills of the program': 10,
  'kills of the room': 10,
  'confirmed by the program': 1,
  'confirmed by the room': 10,
  'reads told': 1,
  recoveries: 20,
};

const WRITER = fileURLToPath(new URL('parts/writer.mjs', import.meta.url));
const FIRST = ['fill2', 'fill3', 'wash4'];
/** A new ledger then: the longer one is, the longer a command takes, and the less is seen of the moment that it writes. */
const EVENTS_A_LEDGER = 400;
/** Locks are had again sooner than a person would notice. */
const RECOVERED_MS = 50;
/** The whole program or its ledger room alone, and how often one is killed; the second gives commands time to end. */
const ROUNDS = [
  { by: 'program', meanMs: 25 },
  { by: 'room', meanMs: 25 },
  { by: 'program', meanMs: 120 },
  { by: 'room', meanMs: 25 },
];

export async function run({ seconds, seed, program, folder, say }) {
  const until = performance.now() + seconds * 1000;
  const bench = {
    program,
    folder,
    random: randomOf(seed),
    roomPath: await buildRoom(join(folder, 'room.mjs')),
    env: { XDG_CACHE_HOME: join(folder, 'cache') },
  };
  const room = await import(pathToFileURL(bench.roomPath));
  const figures = {};
  const times = { one: [], two: [] };
  const failures = [];
  const owner = deadOwner();
  let shop;
  for (let nth = 0; nth < ROUNDS.length || performance.now() < until; nth += 1) {
    if (shop === undefined || shop.events > EVENTS_A_LEDGER) shop = newShop(folder);
    const { by, meanMs } = ROUNDS[nth % ROUNDS.length];
    const leftSeconds = (until - performance.now()) / 1000;
    const lasts = Math.max(1, Math.min(5, seconds / 6, leftSeconds));
    const counts = await crowd(slotsOf(by, shop, bench), { ...bench, seconds: lasts, meanMs, cwd: folder });
    const found = [...shop.book.failures.splice(0), ...holdAgainst(shop, bench)];
    failures.push(...found.map((why) => `round ${nth + 1}, by the ${by}: ${why}`));
    times.one.push(...(await recoveries(room.takeLock, shop.ledger, { count: 20, owner })));
    times.two.push(...(await recoveries(room.takeLock, shop.ledger, { count: 5, owner, withSecond: true })));
    count(figures, { by, shop, counts });
    if (nth % 20 === 19) say(`${figures['kills of the program'] + figures['kills of the room']} kills`);
    if (failures.length > 50) break;
  }
  tellTimes(figures, times, failures);
  return { figures, failures };
}

function newShop(folder) {
  const place = mkdtempSync(join(folder, 'shop-'));
  const ledger = join(place, 'bathbook.yaml');
  writeFileSync(ledger, ledgerOf(LINES).replaceAll('2025-03-03', dayFromNow(-1)));
  return {
    place,
    ledger,
    book: newBook(),
    events: FIRST.length,
    seen: { confirmed: 0, busy: 0, reads: 0, torn: 0 },
  };
}

/** Of the clock that the program goes by: a bath poured long ago would be empty. */
function dayFromNow(days) {
  return new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
}

function slotsOf(by, { ledger, book }, { program, roomPath, random }) {
  const reader = () => programReader(book, program, ledger);
  const writers = WRITES.map(
    (words) => () =>
      by === 'room'
        ? roomWriter(book, [WRITER, roomPath, ledger, 'loop', '100000'])
        : programWriter(book, program, ledger, { words, undo: words[0] !== 'import' && random() < 1 / 15 }),
  );
  return [...writers, reader, reader];
}

/** After the round: another write succeeds, and the ledger has what was confirmed, once, whole, and nothing lies about. */
function holdAgainst(shop, { program, folder, env }) {
  const { ledger, book, place } = shop;
  const wrong = [];
  const ask = (words, cache) => {
    const ran = spawnSync(process.execPath, [program, ...words, '--ledger', ledger], {
      env: cache ? { XDG_CACHE_HOME: cache } : env,
      encoding: 'utf8',
    });
    if (ran.status !== 0) wrong.push(`after it, ${words.join(' ')} ended with ${ran.status}: ${ran.stderr}`);
    return ran.stdout;
  };
  const next = ask(['inspect', 'ok', '--wash', 'none', '--json']);
  if (next) book.confirmed.add(JSON.parse(next).data.event.id);
  const text = readFileSync(ledger, 'utf8');
  if (!text.endsWith('\n')) wrong.push('the last line has no end');
  const events = eventsByOther(text);
  const undone = existsSync(`${ledger}.undone`) ? readFileSync(`${ledger}.undone`, 'utf8') : '';
  const must = [...book.confirmed].filter((id) => !undone.includes(`"${id}"`));
  wrong.push(...wrongIds(events, new Set([...FIRST.filter((id) => !undone.includes(`"${id}"`)), ...must])));
  const there = new Set(events.map(({ id }) => id));
  for (const id of book.takenBack) if (there.has(id)) wrong.push(`${id} was taken back and is there`);
  ask(['check']);
  const now = ['baths', '--json', '--as-of', `${dayFromNow(1)}T12:00:00Z`];
  const fresh = join(folder, 'fresh-cache');
  if (ask(now) !== ask(now, fresh))
    wrong.push('baths tells something else where nothing is kept of earlier runs');
  rmSync(fresh, { recursive: true, force: true });
  const names = readdirSync(place).filter((file) => !/^(bathbook\.yaml|new-\d+\.ndjson)$/.test(file));
  const odd = names.filter((file) => !/^bathbook\.yaml\.(torn-[\w-]+|undone)$/.test(file));
  for (const file of odd) wrong.push(`${file} was left behind`);
  shop.events = events.length;
  shop.torn = names.filter((file) => file.includes('.torn-')).length;
  return wrong;
}

/** Adds what has come since the round before. */
function count(figures, { by, shop, counts }) {
  const { book, seen } = shop;
  const add = (figure, value) => {
    figures[figure] = (figures[figure] ?? 0) + value;
  };
  add('rounds', 1);
  add(`kills of the ${by}`, counts.killed);
  add(`started of the ${by}`, counts.started);
  add(`confirmed by the ${by}`, book.confirmed.size - seen.confirmed);
  add('reads told', book.reads - seen.reads);
  add('found locked, exit 75', book.busy - seen.busy);
  add('torn lines moved aside', shop.torn - seen.torn);
  shop.seen = { confirmed: book.confirmed.size, busy: book.busy, reads: book.reads, torn: shop.torn };
}

/** A busy machine makes some slow, so the middle one is judged and the others are told. */
function tellTimes(figures, times, failures) {
  figures.recoveries = times.one.length + times.two.length;
  for (const [which, label] of [
    ['one', 'recovery'],
    ['two', 'recovery of both locks'],
  ]) {
    const sorted = times[which].sort((a, b) => a - b);
    const [p50, p95, max] = [quantile(sorted, 0.5), quantile(sorted, 0.95), sorted.at(-1)];
    figures[`${label} p50/p95/max ms`] = [p50, p95, max].map((ms) => ms.toFixed(2)).join(' / ');
    if (p50 >= RECOVERED_MS) failures.push(`${label} takes ${p50.toFixed(0)} ms, at most ${RECOVERED_MS}`);
  }
}
