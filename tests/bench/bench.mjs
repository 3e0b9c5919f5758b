// Start-up and replay as ratios to an empty `node` start, interleaved, in an environment of their own, with a cache that is warm.
//   npm run bench                 all commands
//   npm run bench -- --runs 9
//   npm run bench -- --long       a million events as well; a minute more
//   npm run bench -- --compare    beside the obvious build (tests/bench/obvious.mjs), without a cache
import { spawnSync } from 'node:child_process';
import {
  closeSync,
  copyFileSync,
  fsyncSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeLedger } from './make-ledger.mjs';
import { buildObvious } from './obvious.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const runs = Number(process.argv[process.argv.indexOf('--runs') + 1] || 25) || 25;
const isLong = process.argv.includes('--long');
const isCompared = process.argv.includes('--compare');
const folder = mkdtempSync(join(tmpdir(), 'bathbook-bench-'));
const empty = join(folder, 'empty.mjs');
writeFileSync(empty, '');
const programs = { ours: join(root, 'bin', 'bathbook.js') };
if (isCompared) programs.obvious = await buildObvious(join(folder, 'obvious'));

// With a reading in place of every 26th event.
const READ = '1000-read';
const SIZES = [200, 1000, READ, 10_000, 100_000, ...(isLong ? [1_000_000] : [])];
const ledgers = Object.fromEntries(SIZES.map((name) => [name, join(folder, `${name}.yaml`)]));
for (const [name, path] of Object.entries(ledgers))
  writeFileSync(path, makeLedger(Number.parseInt(name, 10), name === READ ? 26 : 0).text);

const WASH = ['wash', '6', 'model', '2', 'mask'];
const cases = [
  { name: 'empty node start', args: null },
  { name: '--version', args: ['--version'], goal: 1.6 },
  { name: '--help', args: ['--help'], goal: 1.6 },
  { name: 'wash --help', args: ['wash', '--help'], goal: 1.6 },
  { name: 'tables --wt 91', args: ['tables', '--wt', '91'] },
  { name: 'check, 200 events', args: withLedger(200, 'check') },
  { name: 'baths, 200 events', args: withLedger(200, 'baths'), goal: 2.2 },
  { name: 'baths, 1 000 events', args: withLedger(1000, 'baths'), goal: 2.5 },
  { name: 'baths, 38 of 1 000 readings', args: withLedger(READ, 'baths') },
  { name: 'baths, 100 000 events', args: withLedger(100_000, 'baths'), goal: 3 },
  { name: 'outlook, 1 000 events', args: withLedger(1000, 'outlook'), goal: 3 },
  { name: 'due, 1 000 events', args: withLedger(1000, 'due'), ends: [0, 1, 2] },
  { name: 'due, 100 000 events', args: withLedger(100_000, 'due'), ends: [0, 1, 2] },
  { name: 'report, 1 000 events', args: withLedger(1000, 'report') },
  { name: 'compare, 8 draws', args: withLedger(1000, 'compare', '--draws', '8') },
  { name: 'calibrate, 38 readings', args: withLedger(READ, 'calibrate') },
  { name: 'wash, 1 000 events', args: withLedger(1000, ...WASH), goal: 2.5, writes: 1000 },
  { name: 'wash, 100 000 events', args: withLedger(100_000, ...WASH), goal: 3.2, writes: 100_000 },
].filter(({ name }) => !isCompared || !name.includes('100 000'));

function withLedger(events, ...command) {
  return [...command, '--ledger', ledgers[events], '--as-of', makeLedger.lastAt(Number.parseInt(events, 10))];
}

/** Where the program of this name keeps what can be made again; the obvious build keeps nothing. */
function environmentOf(program) {
  const env = { PATH: '/usr/bin:/bin' };
  return program === 'ours' ? { ...env, HOME: folder } : env;
}

/** One run: milliseconds. */
function once(program, args, ends = [0]) {
  const start = process.hrtime.bigint();
  const done = spawnSync(process.execPath, args ? [programs[program], ...args] : [empty], {
    env: environmentOf(program),
    encoding: 'utf8',
  });
  const ms = Number(process.hrtime.bigint() - start) / 1e6;
  if (!ends.includes(done.status))
    throw new Error(`${args.join(' ')} ended with ${done.status}: ${done.stderr}`);
  return ms;
}

/** Peak resident memory in megabytes, as the child itself tells at its end. */
function peakMb(program, args, env = environmentOf(program)) {
  const script = `process.on('exit', () => require('node:fs').writeSync(2, 'PEAK ' + process.resourceUsage().maxRSS + '\\n'))`;
  const preload = join(folder, 'peak.cjs');
  writeFileSync(preload, script);
  const file = args ? [programs[program], ...args] : [empty];
  const done = spawnSync(process.execPath, ['--require', preload, ...file], { env, encoding: 'utf8' });
  return Number(/PEAK (\d+)/.exec(done.stderr)?.[1] ?? Number.NaN) / 1024;
}

const at = (sorted, share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
const inOrder = (list) => list.toSorted((a, b) => a - b);

/** As it was, an hour ago and on the disk: what was copied just now would be read once more, and be waited for with the new line. */
function putBack(events) {
  copyFileSync(`${ledgers[events]}.kept`, ledgers[events]);
  const hourAgo = Date.now() / 1000 - 3600;
  utimesSync(ledgers[events], hourAgo, hourAgo);
  const file = openSync(ledgers[events], 'r+');
  fsyncSync(file);
  closeSync(file);
}

const times = new Map();
for (const { name } of cases)
  for (const program of Object.keys(programs)) times.set(`${program} ${name}`, []);
for (const { writes } of cases) if (writes) copyFileSync(ledgers[writes], `${ledgers[writes]}.kept`);
// The first runs make compiled code and checkpoints, and are not counted.
for (let run = -2; run < runs; run += 1) {
  for (const { name, args, writes, ends } of cases) {
    for (const program of Object.keys(programs)) {
      if (writes) putBack(writes);
      const ms = once(program, args, ends);
      if (run >= 0) times.get(`${program} ${name}`).push(ms);
    }
  }
}

const base = at(inOrder(times.get('ours empty node start')), 0.5);
console.log(
  `node ${process.versions.node}, ${availableParallelism()} cores, medians of ${runs}, ratios to an empty start of ${base.toFixed(1)} ms\n`,
);
console.log(
  `command                         ratio   p10   p90      ms  peak MB  ${isCompared ? 'obvious build, no cache' : 'goal'}`,
);
for (const { name, args, goal, writes } of cases) {
  if (writes) putBack(writes);
  const list = inOrder(times.get(`ours ${name}`));
  const ratio = at(list, 0.5) / base;
  const verdict = goal === undefined ? '' : `${goal.toFixed(1)} ${ratio <= goal ? 'met' : 'MISSED'}`;
  const other = isCompared ? (at(inOrder(times.get(`obvious ${name}`)), 0.5) / base).toFixed(2) : verdict;
  const columns = [ratio, at(list, 0.1) / base, at(list, 0.9) / base].map((value) =>
    value.toFixed(2).padStart(5),
  );
  console.log(
    `${name.padEnd(30)}  ${columns.join(' ')}  ${at(list, 0.5).toFixed(1).padStart(6)}  ${peakMb('ours', args).toFixed(0).padStart(7)}  ${other}`,
  );
}

if (!isCompared) {
  console.log('\nbaths without a cache: every event is read and replayed, with bands');
  const GOALS = { 100000: { s: 2.5, mb: 200 }, 1000000: { s: 25, mb: 600 } };
  const nowhere = { PATH: '/usr/bin:/bin' };
  const met = (value, goal) =>
    goal === undefined ? '' : ` (goal ${goal} ${value <= goal ? 'met' : 'MISSED'})`;
  let before;
  for (const events of SIZES.filter((size) => size !== READ && size !== 200)) {
    const args = [programs.ours, ...withLedger(events, 'baths')];
    const list = [];
    for (let run = 0; run < (events < 1_000_000 ? 5 : 1); run += 1) {
      const start = process.hrtime.bigint();
      const { status, stderr } = spawnSync(process.execPath, args, { env: nowhere, encoding: 'utf8' });
      if (status !== 0) throw new Error(stderr);
      list.push(Number(process.hrtime.bigint() - start) / 1e9);
    }
    const seconds = at(inOrder(list), 0.5);
    const mb = peakMb('ours', withLedger(events, 'baths'), nowhere);
    const goal = GOALS[events] ?? {};
    // Beyond what an empty start takes: the power of the number of events by which it grows.
    const net = seconds - base / 1000;
    const grows = before
      ? `, grows as events^${(Math.log(net / before.net) / Math.log(events / before.events)).toFixed(2)}`
      : '';
    before = { net, events };
    console.log(
      `${String(events).padStart(9)} events  ${seconds.toFixed(2)} s${met(seconds, goal.s)}  ${mb.toFixed(0)} MB${met(mb, goal.mb)}${grows}`,
    );
  }
}

const dist = join(root, 'dist');
const bytes = readdirSync(dist)
  .filter((name) => name.endsWith('.js'))
  .reduce((sum, name) => sum + statSync(join(dist, name)).size, 0);
console.log(
  `\nbundle ${(bytes / 1024).toFixed(0)} kB in all; first chunk ${(readFileSync(join(dist, 'main.js')).length / 1024).toFixed(1)} kB`,
);
rmSync(folder, { recursive: true, force: true });
