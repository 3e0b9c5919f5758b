// The process kills itself after each step of a write, on ledgers in every state; the next write must find its way.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { buildProgram, buildRoom } from './parts/build.mjs';
import { eventsByOther, wrongIds } from './parts/other-parser.mjs';
import { oneOf, randomOf, shuffled } from './parts/random.mjs';
import { deadOwner } from './parts/recovery.mjs';
import { HEAD, LINES, ledgerOf } from './parts/sample.mjs';

export const name = 'kill';
/** Each step at least once, whatever the machine is busy with. */
export const floors = { 'steps killed at': 25, kills: 30, 'kills of the whole program': 5 };

const WRITER = fileURLToPath(new URL('parts/writer.mjs', import.meta.url));
const TORN = '  - {id: "torn5", at: 2025-03-03T1';
const crlf = (text) => text.replaceAll('\n', '\r\n');
const whole = ledgerOf(LINES);

/** The ledger before the kill, and whether the lock of a process that is gone lies there. */
const STATES = {
  whole: { text: whole },
  'no final newline': { text: whole.trimEnd() },
  'torn tail': { text: whole + TORN },
  'torn in a character': {
    text: Buffer.concat([Buffer.from(`${whole}  - {id: "torn5", note: "`), Buffer.from([0xc3])]),
  },
  'empty list': { text: `${HEAD.trimEnd()} []\n`, before: [] },
  'no events': { text: HEAD, before: [] },
  'Windows line ends': { text: crlf(whole) },
  'Windows line ends, torn': { text: crlf(whole) + TORN },
  'byte order mark': { text: `\ufeff${whole}` },
  'stale lock': { text: whole, stale: ['.lock'] },
  'two stale locks': { text: whole, stale: ['.lock', '.lock.break'] },
  'stale lock and torn tail': { text: whole + TORN, stale: ['.lock'] },
};
const WAYS = ['one', 'many', 'undo'];

export async function run({ seconds, seed, program, folder, root, say }) {
  const until = performance.now() + seconds * 1000;
  const random = randomOf(seed);
  const bench = {
    folder,
    program,
    hooked: buildProgram(root, join(folder, 'hooked'), { withKillPoints: true }),
    hookedRoom: await buildRoom(join(folder, 'hooked.mjs'), { withKillPoints: true }),
    room: await import(pathToFileURL(await buildRoom(join(folder, 'room.mjs'))).href),
    dead: deadOwner(),
    env: { XDG_CACHE_HOME: join(folder, 'cache') },
  };
  const steps = stepsIn(join(root, 'src', 'ledger'));
  const figures = {
    steps: steps.length,
    'steps killed at': 0,
    cases: 0,
    kills: 0,
    'kills of the whole program': 0,
  };
  const killedAt = new Set();
  const failures = [];
  const { first, rest } = casesOf(steps, random);
  const work = async () => {
    for (;;) {
      const one = first.shift() ?? (performance.now() < until ? rest.shift() : undefined);
      if (!one) return;
      const { wrong, killed } = await tryCase(one, bench).catch((error) => ({ wrong: [error.stack] }));
      failures.push(...wrong.map((why) => `${told(one)}: ${why}`));
      figures.cases += 1;
      if (!killed) continue;
      killedAt.add(one.step);
      figures.kills += 1;
      if (one.byProgram) figures['kills of the whole program'] += 1;
    }
  };
  say(`${first.length + rest.length} cases of ${steps.length} steps`);
  await Promise.all([work(), work()]);
  figures['steps killed at'] = killedAt.size;
  figures['cases left'] = rest.length;
  const never = steps.filter((step) => !killedAt.has(step));
  if (never.length > 0) failures.push(`never came to the steps ${never.join(', ')}`);
  return { figures, failures };
}

/** The steps that the source names: one that is added is tried as well. */
function stepsIn(folder) {
  const text = readdirSync(folder).map((file) => readFileSync(join(folder, file), 'utf8'));
  return text.flatMap((one) =>
    [...one.matchAll(/KILL_POINT: .*killPoint\('([^']+)'/g)].map(([, step]) => step),
  );
}

/** Those that reach each step, and some by the program; then, while there is time, all others in an order drawn afresh. */
function casesOf(steps, random) {
  const all = steps.flatMap((step) => [
    ...Object.entries(STATES).flatMap(([state, { before }]) => [
      ...WAYS.map((way) => ({ step, state, way })),
      { step, state, way: before ? 'import' : oneOf(random, ['wash', 'undo', 'import']), byProgram: true },
    ]),
    { step, state: 'no file', way: 'create' },
    { step, state: 'no file', way: 'setup', byProgram: true },
  ]);
  const first = [
    ...steps.map((step) => ({ step, ...reaching(step) })),
    ...SOME.map((step) => ({ step, state: 'torn tail', way: 'wash', byProgram: true })),
  ];
  return { first, rest: shuffled(random, all) };
}

const SOME = ['lock linked', 'decided', 'tail cut', 'half written', 'line end missing', 'unlocked'];

function reaching(step) {
  if (/^draft|^folder/.test(step)) return { state: 'no file', way: 'create' };
  if (step === 'last line cut') return { state: 'whole', way: 'undo' };
  if (step === 'list opened') return { state: 'empty list', way: 'one' };
  return { state: 'stale lock and torn tail', way: 'many' };
}

function told({ step, state, way, byProgram }) {
  return `${way}${byProgram ? ' by the program' : ''} on "${state}", killed at "${step}"`;
}

async function tryCase(one, bench) {
  const place = mkdtempSync(join(bench.folder, 'case-'));
  try {
    return await (one.state === 'no file' ? tryCreate : tryWrite)(one, place, bench);
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
}

async function tryWrite(one, place, bench) {
  const path = join(place, 'bathbook.yaml');
  const { text, stale = [], before = ['fill2', 'fill3', 'wash4'] } = STATES[one.state];
  writeFileSync(path, text);
  for (const end of stale) writeFileSync(path + end, JSON.stringify(bench.dead));
  const first = await ran(one, path, bench);
  const wrong = [...first.wrong, ...(await wrongToReader(path, bench.room))];
  const taken = one.way === 'undo' ? before.at(-1) : undefined;
  const must = new Set(before.filter((id) => id !== taken).concat(first.confirmed));
  wrong.push(
    ...wrongIds(
      (await bench.room.readLedger(readFileSync(path))).events.map(({ event }) => event),
      must,
    ),
  );
  const next = one.byProgram ? nextByProgram(path, bench) : await nextInProcess(path, bench.room);
  wrong.push(...next.wrong);
  for (const id of next.confirmed) must.add(id);
  const events = eventsByOther(readFileSync(path, 'utf8'));
  wrong.push(...wrongIds(events, must), ...wrongFiles(place, text));
  if (one.way === 'undo') wrong.push(...wrongUndo(path, events, taken, first.killed));
  if (events.length > before.length + 3 + next.confirmed.length)
    wrong.push('there are more events than were logged');
  for (const id of before) {
    const line = LINES.find((candidate) => candidate.includes(`"${id}"`));
    if (id !== taken && !readFileSync(path, 'utf8').includes(line))
      wrong.push(`the line of ${id} is not as it was`);
  }
  return { wrong, killed: first.killed };
}

/** Runs the command that kills itself. What it confirmed, if it got so far. */
async function ran({ step, way, byProgram }, path, bench) {
  const args = byProgram ? [bench.hooked, ...argsOf(way, path)] : [WRITER, bench.hookedRoom, path, way];
  const child = spawn(process.execPath, args, {
    env: { ...bench.env, BATHBOOK_KILL_AT: step },
    cwd: bench.folder,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let out = '';
  let err = '';
  child.stdout.on('data', (data) => (out += data));
  child.stderr.on('data', (data) => (err += data));
  const [code, signal] = await new Promise((resolve) => child.on('close', (...ended) => resolve(ended)));
  const killed = signal === 'SIGKILL';
  const wrong = [];
  if (!killed && (code !== 0 || out.startsWith('!')) && !isRefusal(way, out + err))
    wrong.push(`ended with ${code}: ${out}${err}`);
  const confirmed = byProgram ? [] : [...out.matchAll(/^\+(?!made)(\w+)$/gm)].map(([, id]) => id);
  if (byProgram && !killed && code === 0 && way === 'wash') confirmed.push(JSON.parse(out).data.event.id);
  if (byProgram && !killed && code === 0 && way === 'import') confirmed.push('new01', 'new02');
  return { killed, wrong, confirmed };
}

/** Undo has nothing to take back on an empty ledger, and the program voids what a torn line stands after. */
function isRefusal(way, text) {
  return way === 'undo' && /nothing-to-undo|has no events|voided|not-last-line/.test(text);
}

const NEW = ['new01', 'new02'].map(
  (id) => `{"id":"${id}","at":"2025-03-04T08:00:00-04:00","what":"inspect","result":"ok"}\n`,
);

function argsOf(way, path) {
  const tail = ['--ledger', path, '--json', '--no-input'];
  switch (way) {
    case 'wash':
      return ['wash', '1', 'crown', '--at', '2025-03-04 09:00', ...tail];
    case 'undo':
      return ['undo', ...tail];
    case 'setup':
      return ['setup', ...tail];
    default:
      writeFileSync(join(path, '..', 'new.ndjson'), NEW.join(''));
      return ['import', join(path, '..', 'new.ndjson'), ...tail];
  }
}

/** Right after the kill, without a write: no error, at most the note of a torn line. */
async function wrongToReader(path, { readLedger }) {
  const { problems } = await readLedger(readFileSync(path));
  return problems
    .filter(({ code }) => code !== 'torn-tail')
    .map(({ message }) => `a reader sees: ${message}`);
}

async function nextInProcess(path, { append }) {
  const event = { id: 'next6', at: '2025-03-05T08:00:00Z', what: 'inspect', result: 'ok' };
  const { problems } = await append(path, async () => ({ events: [event] }));
  return { confirmed: ['next6'], wrong: problems.map(({ message }) => `the next write: ${message}`) };
}

/** The same import once more, which adds what is not there yet; then the check. */
function nextByProgram(path, { program, env }) {
  const wrong = [];
  for (const args of [argsOf('import', path), ['check', '--ledger', path], ['baths', '--ledger', path]]) {
    const { status, stderr } = spawnSync(process.execPath, [program, ...args], { env, encoding: 'utf8' });
    if (status !== 0) wrong.push(`then ${args[0]} ended with ${status}: ${stderr}`);
  }
  return { confirmed: ['new01', 'new02'], wrong };
}

/** After the next write nothing lies about but what was kept aside. */
function wrongFiles(place, text) {
  const wrong = [];
  const names = readdirSync(place).filter((file) => file !== 'bathbook.yaml' && file !== 'new.ndjson');
  for (const file of names)
    if (!/^bathbook\.yaml\.(torn-[\w-]+|undone)$/.test(file)) wrong.push(`${file} was left behind`);
  const torn = names.filter((file) => file.includes('.torn-')).map((file) => readFileSync(join(place, file)));
  const bytes = Buffer.from(text);
  const tail = bytes.subarray(bytes.lastIndexOf(10) + 1);
  const isTorn = tail.length > 0 && tail.at(-1) !== 0x7d;
  if (isTorn && !torn.some((kept) => kept.equals(tail))) wrong.push('the torn line was not kept');
  return wrong;
}

/** What is taken back is there still, or voided, or it is kept. */
function wrongUndo(path, events, taken, killed) {
  if (taken === undefined) return [];
  const kept = existsSync(`${path}.undone`) && readFileSync(`${path}.undone`, 'utf8').includes(`"${taken}"`);
  const there = events.some(({ id }) => id === taken);
  const voided = events.some(({ what, of }) => what === 'void' && of === taken);
  if (!there && !kept) return [`${taken} was taken back and is not kept`];
  return there && !voided && !killed && kept ? [`${taken} is there after it was taken back`] : [];
}

async function tryCreate(one, place, bench) {
  const folder = join(place, 'a', 'b');
  const path = join(folder, 'bathbook.yaml');
  const first = await ran(one, path, { ...bench, env: { ...bench.env, HOME: place } });
  const wrong = first.wrong;
  const there = existsSync(path);
  if (there) wrong.push(...(await wrongToReader(path, bench.room)));
  if (!there) {
    const problem = bench.room.create(path, HEAD, { makeFolder: true });
    if (problem) wrong.push(`making it again: ${problem.message}`);
  }
  const next = await nextInProcess(path, bench.room);
  wrong.push(...next.wrong, ...wrongIds(eventsByOther(readFileSync(path, 'utf8')), new Set(['next6'])));
  wrong.push(...wrongFiles(folder, HEAD));
  if (statSync(path).nlink !== 1) wrong.push('the ledger has a second name');
  return { wrong, killed: first.killed };
}
