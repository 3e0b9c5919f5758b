// The packed program, installed globally into a folder of its own and used as a new user would, on every Node that it is made for.
//
//   npm run package:try            Node 20, 22, 24 and 26, from the registry's package "node"
//   npm run package:try -- 20 24   some of them
//
// Keeps the binaries in $TMPDIR/bathbook-nodes, for the next time.
import { execFileSync, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { makeLedger } from '../bench/make-ledger.mjs';
import { spent } from '../bench/spent.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const asked = process.argv.slice(2);
const versions = asked.length > 0 ? asked : ['20', '22', '24', '26'];
const folder = mkdtempSync(join(tmpdir(), 'bathbook-try-'));
const RUNS = 25;
let wrong = 0;

const packed = join(folder, pack());
const ledger = join(folder, 'long.yaml');
writeFileSync(ledger, makeLedger(1000, 0).text);
const empty = join(folder, 'empty.js');
writeFileSync(empty, '');
for (const version of versions) tryOn(version);
rmSync(folder, { recursive: true, force: true });
process.exitCode = wrong > 0 ? 1 : 0;

function pack() {
  const out = execFileSync('npm', ['pack', '--json', '--pack-destination', folder], {
    cwd: root,
    encoding: 'utf8',
  });
  const [{ filename, size, unpackedSize, entryCount }] = JSON.parse(out.slice(out.indexOf('[')));
  console.log(`${filename}: ${kB(size)} packed, ${kB(unpackedSize)} unpacked, ${entryCount} files`);
  return filename;
}

/** The folder of a Node binary of this major version. */
function nodeOf(version) {
  const place = join(tmpdir(), 'bathbook-nodes', version);
  const bin = join(place, 'node_modules', 'node', 'bin');
  if (!existsSync(join(bin, 'node'))) {
    mkdirSync(place, { recursive: true });
    execFileSync('npm', ['install', '--silent', '--prefix', place, `node@${version}`], {
      stdio: ['ignore', 'ignore', 'inherit'],
    });
  }
  return bin;
}

function tryOn(version) {
  const bin = nodeOf(version);
  const node = join(bin, 'node');
  const home = join(folder, `home-${version}`);
  const prefix = join(folder, `prefix-${version}`);
  mkdirSync(home);
  const PATH = [bin, join(prefix, 'bin'), process.env.PATH].join(':');
  const full = execFileSync(node, ['--version'], { encoding: 'utf8' }).trim();
  const began = Date.now();
  execFileSync('npm', ['install', '--silent', '-g', '--prefix', prefix, packed], {
    env: { ...process.env, PATH },
  });
  console.log(`\nNode ${full.slice(1)}: installed in ${((Date.now() - began) / 1000).toFixed(1)} s`);

  const env = { PATH, HOME: home };
  const run = (args, more = {}) =>
    spawnSync('bathbook', args, { env: { ...env, ...more }, encoding: 'utf8', cwd: home });
  const shop = { BATHBOOK_LEDGER: join(home, 'demo', 'bathbook.yaml') };
  const expect = (what, isSo, ran) => {
    if (isSo) return;
    wrong += 1;
    console.log(`  WRONG ${what}: exit ${ran?.status}\n${ran?.stdout?.slice(0, 500)}${ran?.stderr}`);
  };
  const steps = [
    [['--version'], {}, /^bathbook \d/],
    [['demo', 'demo'], {}, /verdict/],
    [['baths'], shop, /verdict/],
    [['wash', '6', 'model', '2', 'mask'], shop, /logged/],
    [['undo'], shop, /./],
    [['check'], shop, /^$/],
    [['outlook', '--json'], shop, /"schema"/],
    [['report', '--format', 'html', '--out', 'page.html'], shop, /^$/],
    [['entries', '--at-nothing'], shop, /^$/, 64],
    [['__complete', 'zsh', 'mo', 'wash', '6'], shop, /^model$/m],
    [['completion', 'bash'], {}, /complete -F/],
    [['docs', 'man'], {}, /^\.TH/],
  ];
  for (const [args, more, says, code = 0] of steps) {
    const ran = run(args, more);
    const isSo = ran.status === code && says.test(ran.stdout) && !/Warning|Error:/.test(ran.stderr);
    expect(args.join(' '), isSo, ran);
  }
  const page = join(home, 'page.html');
  expect('a page', existsSync(page) && /<\/html>/.test(readFileSync(page, 'utf8')));
  const man = spawnSync('man', ['-w', 'bathbook'], {
    env: { ...env, MANPATH: join(prefix, 'share', 'man') },
    encoding: 'utf8',
  });
  if (!man.error) expect('man bathbook', man.status === 0, man);
  cached(run, { expect, home, full });
  ratios(node, join(prefix, 'lib', 'node_modules', 'bathbook', 'bin', 'bathbook.js'), env);
}

/** Compiled code and a checkpoint are kept, taken, and change nothing. */
function cached(run, { expect, home, full }) {
  const args = ['baths', '--json', '--ledger', ledger, '--as-of', makeLedger.lastAt(1000)];
  const without = run(args, { HOME: '', XDG_CACHE_HOME: '' });
  const first = run(args);
  const within = (kind) => {
    const place = join(home, '.cache', 'bathbook', kind);
    return existsSync(place) ? readdirSync(place) : [];
  };
  const code = within('code').filter((name) => name.includes(full.slice(1)) && name.endsWith('-baths'));
  expect('compiled code is kept', code.length === 1);
  expect('a checkpoint is kept', within('checkpoints').length > 0);
  const path = join(home, '.cache', 'bathbook', 'code', code[0] ?? 'none');
  // Code that is refused is made anew, once a day at most.
  const daysAgo = Date.now() / 1000 - 3 * 86_400;
  utimesSync(path, daysAgo, daysAgo);
  const second = run(args);
  expect(
    'the same with a cache as without',
    first.stdout === without.stdout && second.stdout === without.stdout,
    second,
  );
  expect('compiled code is taken', Math.abs(statSync(path).mtimeMs / 1000 - daysAgo) < 60);
}

/** User and system time of ours, in those of an empty start of the same Node; taken in turn. */
function ratios(node, program, env) {
  const asOf = ['--as-of', makeLedger.lastAt(1000), '--ledger', ledger];
  const cases = {
    'empty start': [empty],
    '--version': [program, '--version'],
    'tab key': [program, '__complete', 'zsh', 'mo', '--ledger', ledger, 'wash', '6'],
    'baths of 1 000 events': [program, 'baths', ...asOf],
  };
  const ticks = Object.fromEntries(Object.keys(cases).map((name) => [name, 0]));
  for (let round = -2; round < RUNS; round += 1) {
    for (const [name, args] of Object.entries(cases)) {
      const before = spent();
      spawnSync(node, args, { env, cwd: dirname(ledger) });
      if (round >= 0) ticks[name] += spent() - before;
    }
  }
  const base = ticks['empty start'];
  const told = Object.entries(ticks).map(([name, sum]) => `${name} ${(sum / base).toFixed(2)}`);
  console.log(`  ${told.slice(1).join(', ')} of an empty start of ${((10 * base) / RUNS).toFixed(0)} ms`);
}

function kB(bytes) {
  return `${(bytes / 1000).toFixed(0)} kB`;
}
