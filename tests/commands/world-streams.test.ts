/** Streams that are closed, full, gone or slow: what was logged stays logged and is said to be, and nothing is told like a fault. */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundled, ledgerOf, NOW, runner } from './bundle.ts';

const main = bundled();
const run = runner(main);
const hasFull = existsSync('/dev/full');
const hasPython = spawnSync('python3', ['--version']).status === 0;

/** Runs a line of bash in which "$B" is the program, LEDGER its ledger; PATH is all it is given. */
function bash(script: string, ledger: string) {
  const env = { PATH: process.env.PATH, LEDGER: ledger, NOW, NODE: process.execPath, MAIN: main };
  const text = `B() { "$NODE" "$MAIN" "$@" --ledger "$LEDGER"; }; ${script}`;
  const ran = spawnSync('bash', ['--norc', '-c', text], { env, encoding: 'utf8', timeout: 60_000 });
  expect(ran.stderr).not.toMatch(/fault of its own|^\s+at /m);
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

const washes = (ledger: string) => readFileSync(ledger, 'utf8').split('note: "one more"').length - 1;
/** The exit code of the first of a pipe. */
const FIRST = ['exit "$', '{PIPESTATUS[0]}"'].join('');
const WASH = 'B wash 1 model --at "$NOW" --note "one more"';

describe('closed streams', () => {
  it('leave a writing command at its work', () => {
    const ledger = ledgerOf();
    expect(bash(`${WASH} >&-`, ledger).code).toBe(0);
    expect(bash(`${WASH} <&- >&- 2>&-`, ledger).code).toBe(0);
    expect(washes(ledger)).toBe(2);
  });

  it('of standard error, and a full one, take nothing from the answer nor from the exit code', () => {
    const ledger = ledgerOf();
    const plain = bash('B baths --as-of "$NOW"', ledger).out;
    expect(plain).toMatch(/^dirty\t/m);
    expect(bash('B baths --as-of "$NOW" 2>&-', ledger)).toMatchObject({ code: 0, out: plain });
    if (hasFull) {
      expect(bash('B baths --as-of "$NOW" 2>/dev/full', ledger)).toMatchObject({ code: 0, out: plain });
      expect(bash('B wsh 2>/dev/full', ledger).code).toBe(64);
    }
    expect(bash(`B wsh 2>&1 >/dev/null | true; ${FIRST}`, ledger).code).toBe(64);
  });
});

describe('an answer that nobody can be told', () => {
  it.skipIf(!hasFull)('is told to be so, with what was done all the same', () => {
    const ledger = ledgerOf();
    const before = readFileSync(ledger);
    const logged = bash(`${WASH} >/dev/full`, ledger);
    expect(logged.code).toBe(74);
    expect(logged.err).toMatch(
      /Cannot write the answer: ENOSPC.*\n {2}help: It is logged all the same; see: bathbook entries --last 1/,
    );
    expect(washes(ledger)).toBe(1);
    const undone = bash('B undo >/dev/full', ledger);
    expect(undone.code).toBe(74);
    expect(undone.err).toContain('It is undone all the same');
    expect(readFileSync(ledger)).toEqual(before);
    const tried = bash(`${WASH} --dry-run >/dev/full`, ledger);
    expect(tried.code).toBe(74);
    expect(tried.err).toContain('help: Make room, or send it elsewhere');
    expect(readFileSync(ledger)).toEqual(before);
    for (const asked of ['entries', '--help', 'wash --help', '--version'])
      expect([asked, bash(`B ${asked} >/dev/full`, ledger).code]).toEqual([asked, 74]);
    expect(readFileSync(ledger)).toEqual(before);
  });

  it('since its reader has gone is no fault, and what was to be logged is', () => {
    const ledger = ledgerOf();
    expect(bash(`${WASH} | true; ${FIRST}`, ledger)).toMatchObject({ code: 0, err: '' });
    expect(washes(ledger)).toBe(1);
  });
});

/** Gives a program a pipe for its streams that never blocks, and reads or writes the other end slowly. */
const SLOW = `
import os, subprocess, sys, time
way, source, args = sys.argv[1], sys.argv[2], sys.argv[3:]
ours, theirs = os.pipe() if way == 'out' else os.pipe()[::-1]
os.set_blocking(theirs, False)
child = subprocess.Popen(args, **({'stdout': theirs} if way == 'out' else {'stdin': theirs}))
os.close(theirs)
time.sleep(0.3)
if way == 'out':
    while True:
        piece = os.read(ours, 16384)
        if not piece: break
        sys.stdout.buffer.write(piece)
        time.sleep(0.003)
else:
    for piece in [source[:100], source[100:]]:
        os.write(ours, piece.encode())
        time.sleep(0.2)
    os.close(ours)
sys.exit(child.wait())
`;

describe.skipIf(!hasPython)('pipes that another program has set not to block', () => {
  const slow = (way: string, source: string, args: string[]) =>
    spawnSync('python3', ['-c', SLOW, way, source, process.execPath, main, ...args], {
      encoding: 'utf8',
      env: { PATH: process.env.PATH },
      maxBuffer: 2 ** 26,
    });

  it('give a slow reader every byte of a long answer', () => {
    const ledger = ledgerOf();
    const line = (nth: number) =>
      `  - {id: "n${nth}", at: 2026-11-19T17:00:00-04:00, what: stock, solvent: ipa99, counted_ml: 1000, note: "é"}\n`;
    writeFileSync(
      ledger,
      readFileSync(ledger, 'utf8') + Array.from({ length: 4000 }, (_, nth) => line(nth)).join(''),
    );
    const args = ['export', 'ndjson', '--ledger', ledger, '--as-of', NOW];
    const whole = run(args).out;
    expect(whole.length).toBeGreaterThan(400_000);
    const told = slow('out', '', args);
    expect(told.status).toBe(0);
    expect(told.stdout === whole).toBe(true);
  });

  it('are read to the end by import', () => {
    const ledger = ledgerOf();
    const events = ['one', 'two'].map(
      (id) =>
        `{"id":"${id}","at":"2026-11-20T08:00:00-04:00","what":"inspect","result":"ok","note":"${id} of two"}\n`,
    );
    const told = slow('in', events.join(''), ['import', '-', '--ledger', ledger, '--as-of', NOW]);
    expect([told.status, told.stderr]).toEqual([0, expect.not.stringContaining('fault')]);
    expect(readFileSync(ledger, 'utf8')).toMatch(/one of two[\s\S]*two of two/);
  });
});

describe('standard input that is no text', () => {
  it('is refused by import in a sentence', () => {
    const ledger = ledgerOf();
    const before = readFileSync(ledger);
    expect(bash('B import - < /', ledger)).toMatchObject({
      code: 66,
      err: expect.stringContaining('it is no file'),
    });
    expect(bash('B import - <&-', ledger)).toMatchObject({
      code: 65,
      err: expect.stringContaining('it is empty'),
    });
    expect(readFileSync(ledger)).toEqual(before);
  });
});
