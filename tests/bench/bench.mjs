// Start-up and replay as ratios to an empty `node` start, interleaved, with an emptied environment.
//   npm run bench            all commands
//   npm run bench -- --runs 9
import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeLedger } from './make-ledger.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const bin = join(root, 'bin', 'bathbook.js');
const runs = Number(process.argv[process.argv.indexOf('--runs') + 1] || 25) || 25;
const folder = mkdtempSync(join(tmpdir(), 'bathbook-bench-'));
const empty = join(folder, 'empty.mjs');
writeFileSync(empty, '');

// With a reading in place of every 26th event, the longest as well.
const READ = '1000-read';
const ledgers = Object.fromEntries(
  [200, 1000, READ, 100_000].map((name) => [name, join(folder, `${name}.yaml`)]),
);
let asOf = '';
for (const [name, path] of Object.entries(ledgers)) {
  const made = makeLedger(Number.parseInt(name, 10), name === READ ? 26 : 0);
  writeFileSync(path, made.text);
  asOf = made.lastAt > asOf ? made.lastAt : asOf;
}

const cases = [
  { name: 'empty node start', args: [empty] },
  { name: '--version', args: [bin, '--version'], goal: 1.8 },
  { name: '--help', args: [bin, '--help'], goal: 1.8 },
  { name: 'wash --help', args: [bin, 'wash', '--help'] },
  { name: 'check, 200 events', args: [bin, 'check', ledgers[200], '--as-of', makeLedger.lastAt(200)] },
  // Bands may cost half as much again as the plain replay, which took 2.35 and 3.22.
  { name: 'baths, 200 events', args: withLedger(200, 'baths'), goal: 3.5 },
  { name: 'baths, 1 000 events', args: withLedger(1000, 'baths'), goal: 4.8 },
  { name: 'baths, 38 of 1 000 readings', args: withLedger(READ, 'baths') },
  { name: 'outlook, 1 000 events', args: withLedger(1000, 'outlook'), goal: 3 },
  { name: 'due, 1 000 events', args: withLedger(1000, 'due'), ends: [0, 1, 2] },
  { name: 'report, 1 000 events', args: withLedger(1000, 'report') },
  { name: 'compare, 8 draws', args: withLedger(1000, 'compare', '--draws', '8') },
  { name: 'calibrate, 38 readings', args: withLedger(READ, 'calibrate') },
  {
    name: 'wash, 1 000 events, fsync',
    args: withLedger(1000, 'wash', '6', 'model', '2', 'mask'),
    goal: 3,
    writes: 1000,
  },
  { name: 'tables --wt 91', args: [bin, 'tables', '--wt', '91'] },
];

function withLedger(events, ...command) {
  return [
    bin,
    ...command,
    '--ledger',
    ledgers[events],
    '--as-of',
    makeLedger.lastAt(Number.parseInt(events, 10)),
  ];
}

/** One run in an emptied environment: milliseconds and peak resident megabytes. */
function once(args, ends = [0]) {
  const timed = ['-f', '%M', process.execPath, ...args];
  const start = process.hrtime.bigint();
  const plain = spawnSync(process.execPath, args, {
    env: { PATH: '/usr/bin:/bin', HOME: folder },
    encoding: 'utf8',
  });
  const ms = Number(process.hrtime.bigint() - start) / 1e6;
  if (!ends.includes(plain.status))
    throw new Error(`${args.join(' ')} ended with ${plain.status}: ${plain.stderr}`);
  return { ms, timed };
}

/** Peak memory by /proc, sampled at exit by the child itself. */
function peakMb(args) {
  const script = `process.on('exit', () => require('node:fs').writeSync(2, 'PEAK ' + process.resourceUsage().maxRSS + '\\n'))`;
  const preload = join(folder, 'peak.cjs');
  writeFileSync(preload, script);
  const done = spawnSync(process.execPath, ['--require', preload, ...args], {
    env: { PATH: '/usr/bin:/bin', HOME: folder },
    encoding: 'utf8',
  });
  return Number(/PEAK (\d+)/.exec(done.stderr)?.[1] ?? Number.NaN) / 1024;
}

const at = (sorted, share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];

const times = new Map(cases.map(({ name }) => [name, []]));
const kept = new Map(
  cases.filter(({ writes }) => writes).map(({ writes }) => [writes, `${ledgers[writes]}.kept`]),
);
for (const [events, copy] of kept) copyFileSync(ledgers[events], copy);
for (let run = 0; run < runs + 1; run += 1) {
  for (const { name, args, writes, ends } of cases) {
    if (writes) copyFileSync(kept.get(writes), ledgers[writes]);
    const { ms } = once(args, ends);
    if (run > 0) times.get(name).push(ms);
  }
}

const sorted = (name) => times.get(name).toSorted((a, b) => a - b);
const base = at(sorted('empty node start'), 0.5);
console.log(
  `node ${process.versions.node}, ${availableParallelism()} cores, medians of ${runs}, ratios to an empty start of ${base.toFixed(1)} ms\n`,
);
console.log('command                         ratio   p10   p90      ms  peak MB  goal');
for (const { name, args, goal } of cases) {
  const list = sorted(name);
  const ratio = at(list, 0.5) / base;
  const verdict = goal === undefined ? '' : `${goal.toFixed(1)} ${ratio <= goal ? 'met' : 'MISSED'}`;
  const columns = [ratio, at(list, 0.1) / base, at(list, 0.9) / base].map((value) =>
    value.toFixed(2).padStart(5),
  );
  console.log(
    `${name.padEnd(30)}  ${columns.join(' ')}  ${at(list, 0.5).toFixed(1).padStart(6)}  ${peakMb(args).toFixed(0).padStart(7)}  ${verdict}`,
  );
}

console.log('\n100 000 events, cold');
const cold = [];
for (let run = 0; run < 5; run += 1) cold.push(once(withLedger(100_000, 'baths')).ms);
const coldMs = at(
  cold.toSorted((a, b) => a - b),
  0.5,
);
const coldMb = peakMb(withLedger(100_000, 'baths'));
console.log(
  `baths  ${(coldMs / 1000).toFixed(2)} s (goal 2.5 ${coldMs <= 2500 ? 'met' : 'MISSED'})  ${coldMb.toFixed(0)} MB (goal 200 ${coldMb <= 200 ? 'met' : 'MISSED'})`,
);

const dist = join(root, 'dist');
const bytes = readdirSync(dist)
  .filter((name) => name.endsWith('.js'))
  .reduce((sum, name) => sum + statSync(join(dist, name)).size, 0);
console.log(
  `\nbundle ${(bytes / 1024).toFixed(0)} kB in all; first chunk ${(readFileSync(join(dist, 'main.js')).length / 1024).toFixed(1)} kB`,
);
rmSync(folder, { recursive: true, force: true });
