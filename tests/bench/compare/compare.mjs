// `compare` beside a plain C loop of the same model: whether every total agrees, then washes a second of processor time.
//   npm run bench:compare                    checks, then times
//   npm run bench:compare -- --runs 31       so many interleaved pairs
//   npm run bench:compare -- --golden        writes the totals of years.c into tests/compare/c-golden.json; then npm run format
//
// Needs a C compiler, `cc` or what CC names. Both sides work through the same drawn worlds and count the same things, C from an
// input file that holds the drawn loads. JavaScript is timed twice: from drawn loads as well (`runYears`), and as a worker runs
// it (`PartRunner`), which has drawn them for the habit before. Processor seconds of the whole process, its compiler and collector threads included, but
// not what warming it up took; what else the machine does still moves a ratio, which p10 and p90 show.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { inputText } from './input.mjs';
import { openHeader, perDay, practice } from './shop.mjs';

const GOAL = 0.5;
const TOLERANCE = 1e-9;
/** No more than a worker keeps the loads of. */
const DRAWS = 8;
const SEED = 7;
/** Processor seconds of one sample of C, at least one pass. */
const SAMPLE_S = 0.15;
const WARM_UP_PASSES = 4;
/** Standard deviations of ln κ of the drawn worlds: src/bath/README.md. */
const SPREAD = { carry: 0.45, drag: 0.5, dissolution: 0.35, evaporation: 0.7, moisture: 0.7 };
const COUNTS = ['days', 'washes', 'parts', 'pouredMl', 'wasteMl', 'wasteG', 'changes', 'overLimit'];
const GOLDEN = new URL('../../compare/c-golden.json', import.meta.url);

const root = fileURLToPath(new URL('../../..', import.meta.url));
const runs = Math.max(7, Number(process.argv[process.argv.indexOf('--runs') + 1]) || 15);
const folder = mkdtempSync(join(tmpdir(), 'bathbook-years-'));
try {
  await main();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function main() {
  const compiler = process.env.CC ?? 'cc';
  if (spawnSync(compiler, ['--version']).error) {
    console.log(`no C compiler: "${compiler}" cannot be run`);
    return;
  }
  run(compiler, ['-O2', '-std=c11', '-o', join(folder, 'years'), source('years.c'), '-lm']);
  if (process.argv.includes('--golden')) {
    writeGolden();
    return;
  }
  const program = await bundled('program');
  const cases = casesOf(program);
  const version = run(compiler, ['--version']).split('\n')[0];
  console.log(`node ${process.versions.node}; ${version}, -O2; ${availableParallelism()} cores\n`);
  // A second instance of the program, so that watching it does not slow down the one that is timed.
  const agree = checkAll(cases, await bundled('watched'));
  if (!agree) {
    console.log(`\nDISAGREES beyond ${TOLERANCE}: no times, since the work is not the same`);
    process.exitCode = 1;
    return;
  }
  timeAll(cases, program);
}

/** The comparison's own modules, under a name of their own. */
async function bundled(name) {
  const outfile = join(folder, `${name}.mjs`);
  const modules = ['habits', 'part', 'run', 'schedule', 'world', 'draws'];
  await build({
    stdin: {
      contents: modules.map((module) => `export * from './src/compare/${module}.ts';`).join('\n'),
      resolveDir: root,
    },
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20.19',
    loader: { '.csv': 'text', '.yaml': 'text' },
    logLevel: 'warning',
  });
  return import(pathToFileURL(outfile).href);
}

function casesOf(program) {
  const habits = program.habitsOf(practice);
  const find = (name) => habits.find((habit) => habit.name.startsWith(name)).practice;
  const normals = normalsOf(program);
  const basis = basisOf(normals, 1);
  const open = { ...practice, header: openHeader };
  const list = [
    ['rotate at the limits', practice, basis],
    ['rotate at half of them', program.atShare(practice, 0.5), basis],
    ['refill all', find('refill all'), basis],
    ['one bath', find('one bath'), basis],
    ['three baths in turn', find('three baths'), basis],
    ['baths of half the size', find('baths of half'), basis],
    ['spin before the first bath', find('spin'), basis],
    ['open baths, five times the air', open, basisOf(normals, 5)],
  ];
  return list.map(([name, one, on], at) => {
    const path = join(folder, `${at}.txt`);
    const draws = on.draws.map((truth, draw) => ({ truth, schedule: scheduleIn(program, on, one, draw) }));
    writeFileSync(path, inputText(one, on.best, draws));
    return { name, practice: one, basis: on, path };
  });
}

/** The loads that a worker draws for a world. */
function scheduleIn(program, basis, one, draw) {
  const seed = basis.seed * 1_000_003 + draw;
  return program.scheduleOf({ seed, perDay, loads: one.washes.length });
}

function normalsOf({ drawer, normal }) {
  const draw = drawer(SEED);
  return Array.from({ length: 7 * DRAWS }, () => normal(draw));
}

function basisOf(normals, air) {
  const drawn = (one) => {
    const [a, b, c, ...rest] = normals.slice(7 * one, 7 * one + 7);
    const place = (d, e) => ({
      evaporation: air * Math.exp(SPREAD.evaporation * d),
      moisture: air * Math.exp(SPREAD.moisture * e),
    });
    return {
      carry: Math.exp(SPREAD.carry * a),
      drag: Math.exp(SPREAD.drag * b),
      dissolution: Math.exp(SPREAD.dissolution * c),
      air: [place(rest[0], rest[1]), place(rest[2], rest[3])],
    };
  };
  const usual = { evaporation: air, moisture: air };
  const best = { carry: 1.1, drag: 0.9, dissolution: 1.2, air: [usual, usual] };
  return { draws: Array.from({ length: DRAWS }, (_, one) => drawn(one)), best, perDay, seed: SEED };
}

function checkAll(cases, program) {
  console.log('greatest relative difference of any total, C and JavaScript');
  let agree = true;
  for (const one of cases) {
    const { worst, where, washes, changes } = check(one, program);
    if (!(worst <= TOLERANCE)) agree = false;
    const note = worst <= TOLERANCE ? '' : `  ${where}`;
    console.log(
      `${one.name.padEnd(32)} ${worst.toExponential(1)}  ${washes} washes, ${changes} changes counted${note}`,
    );
  }
  return agree;
}

function check({ practice: one, basis, path }, program) {
  const c = totals(run(join(folder, 'years'), [path]));
  const worlds = [];
  const { refill } = program.World.prototype;
  program.World.prototype.refill = function (bath) {
    if (!worlds.includes(this)) worlds.push(this);
    return refill.call(this, bath);
  };
  const part = new program.PartRunner(basis).run(program.layOut(one), 0, DRAWS);
  program.World.prototype.refill = refill;
  let worst = 0;
  let where = '';
  const compare = (name, own, other) => {
    const difference = own === other ? 0 : Math.abs(own - other) / Math.max(Math.abs(own), Math.abs(other));
    if (difference <= worst) return;
    worst = difference;
    where = `${name}: C ${own}, JavaScript ${other}`;
  };
  c.draws.forEach((draw, at) => {
    for (const key of COUNTS) compare(`${key} of world ${at}`, draw[key], part.rows[at][key]);
    for (const [which, place] of [
      ['truth', 0],
      ['ledger', 1],
    ]) {
      draw[which].forEach((grams, mass) => {
        compare(`mass ${mass} of ${which} ${at}`, grams, worlds[2 * at + place].masses[mass]);
      });
    }
  });
  compare('washes followed', sum(c.draws, 'followed'), part.followed);
  for (const key of ['lastBath', 'residue']) {
    part[key].forEach((many, bin) => {
      compare(`bin ${bin} of ${key}`, c[key][bin] ?? 0, many);
    });
  }
  return { worst, where, washes: sum(c.draws, 'washes'), changes: sum(c.draws, 'changes') };
}

/** What years.c printed. */
function totals(text) {
  const made = { draws: [], lastBath: {}, residue: {} };
  for (const line of text.trim().split('\n')) {
    const [name, ...words] = line.split(' ');
    if (name === 'draw') {
      const [truth, ledger] = ['truth', 'ledger'].map((which) => words.indexOf(which));
      const draw = Object.fromEntries([...COUNTS, 'followed'].map((key, at) => [key, Number(words[at])]));
      draw.truth = words.slice(truth + 1, ledger).map(Number);
      draw.ledger = words.slice(ledger + 1).map(Number);
      made.draws.push(draw);
    } else {
      const spread = name === 'residue' ? made.residue : made.lastBath;
      for (let at = 0; at < words.length; at += 2) spread[words[at]] = Number(words[at + 1]);
    }
  }
  return made;
}

function timeAll(cases, program) {
  console.log(
    `\nwashes per processor second in millions, medians of ${runs} interleaved; ratios to C, goal ${GOAL}`,
  );
  console.log(`${' '.repeat(32)}     C   from drawn loads    p10   p90   as a worker     p10   p90`);
  for (const one of cases) timeOne(one, program);
}

function timeOne({ name, practice: one, basis, path }, program) {
  const plant = program.layOut(one);
  const worlds = basis.draws.map((truth, draw) => ({
    schedule: scheduleIn(program, basis, one, draw),
    truth: program.factorsFor(plant.places, truth),
  }));
  const estimate = program.factorsFor(plant.places, basis.best);
  const years = () =>
    sum(
      worlds.map(({ schedule, truth }) => program.runYears(plant, schedule, truth, estimate)),
      'followed',
    );
  const runner = new program.PartRunner(basis);
  const part = () => runner.run(plant, 0, DRAWS).followed;
  for (let warm = 0; warm < WARM_UP_PASSES; warm += 1) {
    years();
    part();
  }
  const repeats = Math.max(1, Math.round((SAMPLE_S * speedInC(path, 1)) / years()));
  const rows = Array.from({ length: runs }, () => ({
    c: speedInC(path, repeats),
    years: speedOf(years, repeats),
    part: speedOf(part, repeats),
  }));
  const c = at(
    rows.map((row) => row.c),
    0.5,
  );
  console.log(`${name.padEnd(32)} ${millions(c)}  ${figures(rows, 'years')}  ${figures(rows, 'part')}`);
}

/** Speed, ratio to C, whether that is the goal, and the band of the ratio. */
function figures(rows, key) {
  const speed = at(
    rows.map((row) => row[key]),
    0.5,
  );
  const ratios = rows.map((row) => row[key] / row.c);
  const [middle, low, high] = [0.5, 0.1, 0.9].map((share) => at(ratios, share));
  const band = [low, high].map((value) => value.toFixed(2).padStart(5)).join(' ');
  const verdict = middle >= GOAL ? 'met   ' : 'MISSED';
  return `${millions(speed)}  ${middle.toFixed(2)} ${verdict}  ${band}`;
}

function millions(speed) {
  return (speed / 1e6).toFixed(2).padStart(5);
}

function speedInC(path, repeats) {
  const [followed, seconds] = run(join(folder, 'years'), [path, '--time', String(repeats)]).split(' ');
  return Number(followed) / Number(seconds);
}

function speedOf(work, repeats) {
  const start = process.cpuUsage();
  let followed = 0;
  for (let repeat = 0; repeat < repeats; repeat += 1) followed += work();
  const { user, system } = process.cpuUsage(start);
  return (followed * 1e6) / (user + system);
}

/** The totals of the fixed cases, each beside its inputs. */
function writeGolden() {
  const golden = JSON.parse(readFileSync(GOLDEN, 'utf8'));
  for (const one of golden.cases) {
    const path = join(folder, 'golden.txt');
    const schedule = cycled(one.schedule);
    writeFileSync(path, inputText(one.practice, one.estimate, [{ truth: one.truth, schedule }]));
    [one.totals] = totals(run(join(folder, 'years'), [path])).draws;
  }
  writeFileSync(GOLDEN, `${JSON.stringify(golden, null, 2)}\n`);
  console.log(`wrote ${golden.cases.length} cases to ${fileURLToPath(GOLDEN)}`);
}

/** A year of 364 days from short lists, each begun again at its end. */
function cycled({ perDay: counts, load, scatter }) {
  const starts = [0];
  for (let day = 0; day < 364; day += 1) starts.push(starts[day] + counts[day % counts.length]);
  const all = Array.from({ length: starts[364] }, (_, wash) => wash);
  return {
    starts,
    load: all.map((wash) => load[wash % load.length]),
    scatter: all.map((wash) => scatter[wash % scatter.length]),
  };
}

function run(command, args) {
  const done = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 1e8 });
  if (done.status !== 0) throw new Error(`${command} ended with ${done.status}: ${done.stderr}`);
  return done.stdout;
}

function source(name) {
  return fileURLToPath(new URL(name, import.meta.url));
}

function sum(list, key) {
  return list.reduce((total, one) => total + one[key], 0);
}

function at(values, share) {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}
