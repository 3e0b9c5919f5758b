// What must hold after a run on a disk that failed.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { eventsByOther, wrongIds } from './other-parser.mjs';
import { HEAD } from './sample.mjs';

/** No such file, cannot create, input or output, locked; 65 where what was read was not all. */
const CODES = [65, 66, 73, 74, 75];
const OWN = ['bathbook.yaml', 'new.ndjson', 'out.csv', 'page.html', 'cache', 'state'];
const NEXT = { id: 'next6', at: '2025-03-05T08:00:00Z', what: 'inspect', result: 'ok' };
const OLD = 'of last week\n';

/** What is wrong, in sentences. */
export async function wrongAfter(on) {
  return [...wrongEnd(on), ...wrongLedger(on), ...wrongFiles(on), ...(await wrongNext(on))];
}

function wrongEnd({ scene, call, ran }) {
  const { code, signal, err, out } = ran;
  const isDone = (scene.codes ?? [0]).includes(code);
  const wrong = [];
  if (!isDone && !CODES.includes(code)) wrong.push(`ended with ${code ?? signal}: ${err}${out}`);
  if (/^ +at |TypeError|is not a function|undefined/m.test(err))
    wrong.push(`told like a fault of the program: ${err}`);
  if (!isDone && call !== 'say' && !/Cannot/.test(err))
    wrong.push(`ended with ${code} and no reason: ${err}`);
  return wrong;
}

function wrongLedger({ scene, call, lasts, path, before, ran }) {
  const isDone = (scene.codes ?? [0]).includes(ran.code);
  if (!existsSync(path)) return before === undefined && !isDone ? [] : ['there is no ledger'];
  const now = readFileSync(path);
  if (scene.text === undefined)
    return isDone || call === 'say' ? [] : [`ended with ${ran.code}, and a ledger was made`];
  if (!isDone && now.equals(before)) return [];
  if (!isDone && lasts && (isTornAside(now, before, path) || isListOpened(now, before))) return [];
  if (!isDone && call !== 'say')
    return [`ended with ${ran.code}, and the ledger is not as it was: ${ran.err}${tailOf(now)}`];
  const must = scene.makes && ran.out !== '' ? scene.makes(ran.out) : [];
  const ids = idsOf(before).filter((id) => id !== scene.takes);
  const events = eventsByOther(now.toString());
  const wrong = wrongIds(events, new Set([...ids, ...must]));
  if (scene.takes && events.some(({ id }) => id === scene.takes))
    wrong.push(`${scene.takes} is there after undo`);
  if (!scene.makes && !scene.takes && !now.equals(before)) wrong.push('the ledger was changed');
  return wrong;
}

/** A line that was torn before is kept beside the ledger, where a disk that goes on failing does not let it be put back. */
function isTornAside(now, before, path) {
  const length = before.lastIndexOf(10) + 1;
  const aside = readdirSync(dirname(path)).find((name) => name.includes('.torn-'));
  return (
    aside !== undefined &&
    now.equals(before.subarray(0, length)) &&
    readFileSync(join(dirname(path), aside)).equals(before.subarray(length))
  );
}

/** A remark or blanks in the place of an empty list say the same. */
function isListOpened(now, before) {
  return ['#]', '# ', '  '].some(
    (instead) => now.toString() === before.toString().replace(/\[\]\n$/, `${instead}\n`),
  );
}

function idsOf(before) {
  return [...before.toString().matchAll(/\{id: "(\w+)", at: \S+, what/g)].map(([, id]) => id);
}

function tailOf(bytes) {
  return `\n…${JSON.stringify(bytes.toString().slice(-200))}`;
}

function wrongFiles({ scene, call, shop, ran }) {
  const wrong = [];
  const isDone = (scene.codes ?? [0]).includes(ran.code);
  // What cannot be removed stays, and the next run sweeps it up.
  if (call !== 'unlink') wrong.push(...leftIn(shop, isDone ? [] : staleOf(scene)), ...leftInState(shop));
  if (scene.writes && (ran.code !== 0 || call === 'say')) {
    const text = readFileSync(join(shop, scene.writes), 'utf8');
    if (ran.code !== 0 && call !== 'say' && text !== OLD)
      wrong.push(`${scene.writes} was not written, and is changed`);
  }
  if (scene.writes && ran.code === 0) {
    const text = readFileSync(join(shop, scene.writes), 'utf8');
    if (text === OLD || text.length < 100) wrong.push(`${scene.writes} was not written`);
  }
  return wrong;
}

/** Locks of processes that are gone, which the run had no chance to break. */
function staleOf({ stale = [] }) {
  return stale.map((end) => `bathbook.yaml${end}`);
}

function leftIn(shop, lain = []) {
  return readdirSync(shop)
    .filter(
      (name) =>
        !OWN.includes(name) && !lain.includes(name) && !/^bathbook\.yaml\.(torn-[\w-]+|undone)$/.test(name),
    )
    .map((name) => `${name} was left behind`);
}

/** Drafts of what is kept of reports and reminders. */
function leftInState(shop) {
  const state = join(shop, 'state', 'bathbook');
  return (existsSync(state) ? readdirSync(state) : [])
    .filter((name) => !name.endsWith('.json'))
    .map((name) => `${name} was left behind in the state folder`);
}

/** The same shop once more, on a disk that is well. */
async function wrongNext({ scene, shop, path, room }) {
  if (scene.text === undefined && existsSync(path)) return [];
  if (scene.text === undefined) {
    const made = room.create(path, HEAD);
    return made === null ? leftIn(shop) : [`then it could not be made: ${made.message}`];
  }
  const had = (await room.readLedger(readFileSync(path))).events.map(({ event }) => event.id);
  const { problems } = await room.append(path, async () => ({ events: [NEXT] }));
  const wrong = problems.map(({ message }) => `then the next write: ${message}`);
  const events = eventsByOther(readFileSync(path, 'utf8'));
  return [...wrong, ...wrongIds(events, new Set([...had, NEXT.id])), ...leftIn(shop)];
}
