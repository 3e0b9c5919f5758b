/** A home that is none, a folder that was removed, ledgers that are links, pipes or somebody else's: a sentence each, and no ledger touched. */
import { execFileSync, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const main = bundled();
const run = runner(main);
const WASH = ['wash', '1', 'model', '--at', NOW];
const asNobody = ['--reuid=54321', '--regid=54321', '--clear-groups', '--'];
/** Only the system user can become somebody else; that user may write everywhere, so nothing is refused to them. */
const canBeNobody =
  process.getuid?.() === 0 && spawnSync('setpriv', [...asNobody, process.execPath, '--version']).status === 0;

/** Runs it as a user that the system has no name for. */
function nobody(args: string[], env: Record<string, string> = {}, cwd = '/') {
  // What the tests bundled lies in folders that are closed to others.
  for (let folder = dirname(main); folder !== '/tmp' && folder !== '/'; folder = dirname(folder))
    chmodSync(folder, 0o755);
  const ran = spawnSync('setpriv', [...asNobody, process.execPath, main, ...args], {
    env,
    cwd,
    encoding: 'utf8',
  });
  expect(ran.stderr).not.toContain('fault of its own');
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

function ran(args: string[], env: Record<string, string> = {}, cwd?: string) {
  const told = run(args, { env, ...(cwd ? { cwd } : {}) });
  expect(told.err).not.toContain('fault of its own');
  return told;
}

describe('a home', () => {
  it('that is a file is told, keeps nobody from another ledger, and is not written to', () => {
    const home = ledgerOf();
    const before = readFileSync(home);
    const env = { HOME: home };
    expect(ran(['setup', '--no-input'], env)).toMatchObject({
      code: 73,
      err: expect.stringContaining('part of the path is a file and not a folder'),
    });
    const ledger = ledgerOf();
    expect(ran([...WASH, '--ledger', ledger], env).code).toBe(0);
    const due = ran(['due', '--once-a-day', '--as-of', NOW, '--ledger', ledger], env);
    expect([due.code, due.err]).toEqual([0, expect.stringContaining('Cannot keep what was told')]);
    expect(readFileSync(home)).toEqual(before);
  });

  it('that only relative paths name is not made in the folder one is in', () => {
    const cwd = tempFolder();
    const home = tempFolder();
    const ledger = ledgerOf();
    const env = {
      HOME: home,
      XDG_DATA_HOME: 'd',
      XDG_STATE_HOME: 's',
      XDG_CACHE_HOME: 'c',
      TERM: '',
      TMPDIR: '/none',
    };
    expect(ran(['report', '--as-of', NOW, '--ledger', ledger], env, cwd).code).toBe(0);
    expect(ran(['due', '--once-a-day', '--as-of', NOW, '--ledger', ledger], env, cwd).code).toBe(0);
    // XDG Base Directory Specification 0.8: a relative path is invalid and to be ignored.
    expect(readdirSync(cwd)).toEqual([]);
    expect(readdirSync(join(home, '.local', 'state', 'bathbook')).sort()).toEqual([
      'due.json',
      'report.json',
    ]);
    expect(ran(['demo'], env, cwd)).toMatchObject({
      code: 73,
      err: expect.stringContaining('bathbook demo FOLDER'),
    });
  });

  it.skipIf(!canBeNobody)('that nobody knows of is asked for, where it matters', () => {
    const ledger = join(tempFolder(), 'bathbook.yaml');
    writeFileSync(ledger, HEAD + LINES.join('\n'));
    for (const folder of [dirname(ledger)]) chmodSync(folder, 0o755);
    for (const env of [{}, { HOME: 'relative' }, { HOME: '' }]) {
      expect(nobody(['baths'], env as Record<string, string>)).toMatchObject({
        code: 78,
        err: expect.stringContaining('there is no home folder\n  help: Name it: --ledger FILE; or set HOME'),
      });
    }
    expect(nobody(['baths', '--ledger', ledger, '--as-of', NOW])).toMatchObject({ code: 0 });
    expect(nobody(['due', '--once-a-day', '--ledger', ledger, '--as-of', NOW]).code).toBe(0);
  });
});

describe('a folder that was removed while somebody was in it', () => {
  it('is told, and keeps nobody from a ledger with a whole path', () => {
    const ledger = ledgerOf();
    const gone = (args: string) => {
      const folder = join(tempFolder(), 'gone');
      mkdirSync(folder);
      const script = `cd ${folder} && rmdir ${folder} && "$0" "$1" ${args}`;
      const told = spawnSync('sh', ['-c', script, process.execPath, main], {
        env: { HOME: '/' },
        encoding: 'utf8',
      });
      expect(told.stderr).not.toContain('fault of its own');
      return { code: told.status, err: told.stderr };
    };
    const refused = { code: 66, err: expect.stringContaining('Cannot go by this folder, it was removed') };
    expect(gone('baths --ledger bathbook.yaml')).toMatchObject(refused);
    expect(gone(`export csv --out out.csv --ledger ${ledger} --as-of ${NOW}`)).toMatchObject(refused);
    expect(gone(`${WASH.join(' ')} --ledger ${ledger}`)).toMatchObject({ code: 0 });
    expect(gone('--help').code).toBe(0);
  });
});

describe('a ledger', () => {
  it('that is a link is written where it leads, with its lock and what is cut off beside it', () => {
    const ledger = ledgerOf();
    const folder = tempFolder();
    const link = join(folder, 'mine.yaml');
    symlinkSync(ledger, link);
    expect(ran([...WASH, '--ledger', link]).code).toBe(0);
    expect(readFileSync(ledger, 'utf8')).toContain('parts: {model: 1}');
    const locked = `${ledger}.lock`;
    // Of this process, which lives.
    writeFileSync(
      locked,
      JSON.stringify({
        token: 't',
        pid: process.pid,
        started: null,
        host: 'elsewhere',
        since: NOW,
        command: 'wash',
      }),
    );
    expect(ran(['undo', '--ledger', link]).code).toBe(75);
    execFileSync('rm', [locked]);
    expect(ran(['undo', '--ledger', link]).code).toBe(0);
    expect(existsSync(`${ledger}.undone`)).toBe(true);
    expect(readdirSync(folder)).toEqual(['mine.yaml']);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
  });

  it.each([
    ['a link to nothing', (path: string) => symlinkSync('nothing', path), 66, 73],
    ['a ring of links', (path: string) => symlinkSync('odd.yaml', path), 66, 73],
    ['a folder', (path: string) => mkdirSync(path), 66, 73],
    ['a pipe', (path: string) => execFileSync('mkfifo', [path]), 66, 73],
  ])('cannot be %s', (_, make, code, created) => {
    const path = join(tempFolder(), 'odd.yaml');
    make(path);
    const at = ['--ledger', path];
    const { err, ...told } = ran([...WASH, ...at]);
    expect(told.code).toBe(code);
    expect(err).toMatch(/^Cannot .*\n {2}help: .*\nNot logged: bathbook wash 1 model/);
    expect(ran(['setup', '--no-input', ...at]).code).toBe(created);
    expect(readdirSync(dirname(path))).toEqual(['odd.yaml']);
  });

  it('can be read from a pipe that somebody writes to', () => {
    const script = '"$0" "$1" baths --as-of "$2" --ledger <(cat "$3")';
    const args = ['--norc', '-c', script, process.execPath, main, NOW, ledgerOf()];
    const told = spawnSync('bash', args, { encoding: 'utf8', env: { PATH: process.env.PATH } });
    expect(told.stdout).toMatch(/^dirty\tkeep/m);
    expect(told.status).toBe(0);
  });

  it.skipIf(!canBeNobody)('of somebody else, or in a folder of somebody else, stays as it is', () => {
    const folder = tempFolder();
    chmodSync(folder, 0o755);
    const [open, closed] = ['open.yaml', 'closed.yaml'].map((name) => join(folder, name));
    for (const path of [open!, closed!]) writeFileSync(path, `${HEAD}${LINES.join('\n')}\n`);
    chmodSync(open!, 0o666);
    chmodSync(closed!, 0o600);
    const before = readFileSync(open!);
    expect(nobody([...WASH, '--ledger', open!])).toMatchObject({
      code: 73,
      err: expect.stringContaining('no permission'),
    });
    expect(nobody(['baths', '--as-of', NOW, '--ledger', open!])).toMatchObject({ code: 0 });
    expect(nobody(['baths', '--ledger', closed!])).toMatchObject({
      code: 74,
      err: expect.stringContaining('no permission'),
    });
    // A folder where everybody may write, and a file that only its owner may.
    chmodSync(folder, 0o777);
    chmodSync(open!, 0o444);
    expect(nobody([...WASH, '--ledger', open!])).toMatchObject({
      code: 74,
      err: expect.stringContaining('no permission'),
    });
    expect(readFileSync(open!)).toEqual(before);
    expect(readdirSync(folder).sort()).toEqual(['closed.yaml', 'open.yaml']);
  });
});

describe('next to no environment', () => {
  it('is enough, in plain signs', () => {
    const told = ran(['outlook', '--ledger', ledgerOf(), '--as-of', NOW], { LANG: 'C', COLUMNS: 'wide' });
    expect(told.code).toBe(0);
    expect(told.out).toMatch(/loads left/);
  });
});
