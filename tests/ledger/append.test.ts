import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Appended, append, changedMeanwhile, type Decision, WHOLE } from '../../src/ledger/append.ts';
import { create } from '../../src/ledger/append-create.ts';
import { cutLast } from '../../src/ledger/append-cut-last.ts';
import { readLedgerAt } from '../../src/ledger/append-read.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { exitCodeOf } from '../../src/ledger/problems.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { FILL, HEAD, ledger, WASH } from './sample.ts';

let folder = '';
let path = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-'));
  path = join(folder, 'bathbook.yaml');
});

afterEach(() => {
  chmodSync(folder, 0o755);
  rmSync(folder, { recursive: true, force: true });
});

const rotate = (id: string): LedgerEvent => ({
  id,
  at: '2026-11-20T08:00:00-04:00',
  what: 'rotate',
  into: 'drum 1',
});
const LINE = '  - {id: "r1", at: 2026-11-20T08:00:00-04:00, what: rotate, into: "drum 1"}';
const add = (...events: LedgerEvent[]): Promise<Appended> =>
  append(path, async () => ({ events }), { patienceMs: 50 });
const codesOf = ({ problems }: { problems: { code: string }[] }): string[] =>
  problems.map(({ code }) => code);
const content = (): string => readFileSync(path, 'utf8');

/** Root may write everywhere, so what permissions do can only be seen by others. */
const isRoot = process.getuid?.() === 0;

describe('append', () => {
  it('adds one line and touches nothing else', async () => {
    const before = `# our ledger\n${ledger(FILL, '  # a remark   \n', WASH)}`;
    writeFileSync(path, before);
    expect(await add(rotate('r1'))).toEqual({ lines: [LINE], problems: [], notes: [] });
    expect(content()).toBe(`${before}${LINE}\n`);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it('adds several events at once, or none of them', async () => {
    writeFileSync(path, ledger(FILL));
    await add(rotate('r1'), rotate('r2'));
    expect((await readLedger(readFileSync(path))).events.map(({ event }) => event.id)).toEqual([
      'k3f9',
      'r1',
      'r2',
    ]);
    const before = content();
    expect(codesOf(await add(rotate('r3'), { ...rotate('r4'), at: 'noon' }))).toEqual(['bad-time']);
    expect(content()).toBe(before);
  });

  it.each([
    ['no line end', ledger(FILL).trimEnd(), `${ledger(FILL)}${LINE}\n`],
    [
      'Windows line ends',
      ledger(FILL).replaceAll('\n', '\r\n'),
      `${ledger(FILL)}${LINE}\n`.replaceAll('\n', '\r\n'),
    ],
    [
      'Windows line ends but for the last',
      ledger(FILL).trimEnd().replaceAll('\n', '\r\n'),
      `${ledger(FILL)}${LINE}\n`.replaceAll('\n', '\r\n'),
    ],
    [
      'the first half of a Windows line end at its end',
      ledger(FILL).replaceAll('\n', '\r\n').slice(0, -1),
      `${ledger(FILL)}${LINE}\n`.replaceAll('\n', '\r\n'),
    ],
    ['a byte order mark', `\ufeff${ledger(FILL)}`, `\ufeff${ledger(FILL)}${LINE}\n`],
    [
      'other blanks before the dash',
      `${HEAD}events:\n${FILL.trimStart()}`,
      `${HEAD}events:\n${FILL.trimStart()}${LINE.trimStart()}\n`,
    ],
    ['no events yet', `${HEAD}events:`, `${HEAD}events:\n${LINE}\n`],
    [
      'an empty list',
      `${HEAD}events: [ ] # none é\n# end\n`,
      `${HEAD}events:     # none é\n# end\n${LINE}\n`,
    ],
    [
      'an empty list behind a byte order mark',
      `\ufeff# é\n${HEAD}events: []`,
      `\ufeff# é\n${HEAD}events:   \n${LINE}\n`,
    ],
    ['a remark at the end', `${ledger(FILL)}# until here`, `${ledger(FILL)}# until here\n${LINE}\n`],
  ])('keeps the style of a file with %s', async (_, before, after) => {
    writeFileSync(path, before);
    expect(codesOf(await add(rotate('r1')))).toEqual([]);
    expect(content()).toBe(after);
    expect((await readLedger(readFileSync(path))).problems).toEqual([]);
  });

  it('moves a torn tail aside and says so', async () => {
    writeFileSync(path, `${ledger(FILL)}  - {id: "k5q2", at: 2026-1`);
    const { notes } = await add(rotate('r1'));
    expect(content()).toBe(`${ledger(FILL)}${LINE}\n`);
    const aside = readdirSync(folder).filter((name) => name.startsWith('bathbook.yaml.torn-'));
    expect(aside).toHaveLength(1);
    expect(readFileSync(join(folder, aside[0]!), 'utf8')).toBe('  - {id: "k5q2", at: 2026-1');
    expect(notes).toMatchObject([{ code: 'tail-moved', severity: 'warning' }]);
    expect(notes[0]!.message).toContain(aside[0]);
  });

  it('writes names that are no plain words so that they read back', async () => {
    writeFileSync(path, ledger(FILL));
    const wash: LedgerEvent = {
      id: '1e5',
      at: '2026-11-20T08:00:00-04:00',
      what: 'wash',
      parts: { '2nd.try': 1, null: 2 },
      lot: '007',
      carry_g: 1e-7,
    };
    expect(codesOf(await add(wash))).toEqual([]);
    expect((await readLedger(readFileSync(path))).events[1]!.event).toEqual(wash);
  });

  it('refuses without touching the file what would not be read as it is meant', async () => {
    writeFileSync(path, ledger(FILL));
    expect(codesOf(await add(rotate('k3f9')))).toEqual(['not-read-back']);
    expect(codesOf(await add(rotate('r1'), rotate('r1')))).toEqual(['not-read-back']);
    expect(codesOf(await add({ ...rotate('r1'), ml: -5 } as LedgerEvent))).toEqual(['out-of-range']);
    expect(codesOf(await add({ ...rotate('r1'), colour: 'red' } as unknown as LedgerEvent))).toEqual([
      'unknown-key',
    ]);
    expect(content()).toBe(ledger(FILL));
  });

  it('knows the names of the head and of the catalogue, and no others', async () => {
    writeFileSync(path, ledger(FILL));
    const fill = (solvent: string): LedgerEvent => ({
      id: 'f1',
      at: '2026-11-20T08:00:00-04:00',
      what: 'fill',
      bath: 'clean',
      solvent,
      ml: 4000,
    });
    const known = (solvent: string) =>
      append(path, async () => ({ events: [fill(solvent)] }), { catalogue, dryRun: true });
    expect((await known('ipa98')).problems).toMatchObject([{ code: 'unknown-solvent', severity: 'error' }]);
    expect(await known('ipa99')).toMatchObject({ problems: [], lines: [expect.stringContaining('ipa99')] });
    expect(codesOf(await append(path, async () => ({ events: [fill('ipa98')] }), { dryRun: true }))).toEqual(
      [],
    );
    expect(content()).toBe(ledger(FILL));
  });

  it('names in its lock what holds it', async () => {
    writeFileSync(path, ledger(FILL));
    const seen: string[] = [];
    const look = async (): Promise<Decision> => {
      seen.push(JSON.parse(readFileSync(`${path}.lock`, 'utf8')).command);
      return { refused: [] };
    };
    await append(path, look);
    await append(path, look, { command: 'bathbook wash' });
    expect(seen).toEqual(['bathbook', 'bathbook wash']);
  });

  it.each([
    ['a newer format', ledger(FILL).replace('bathbook/1', 'bathbook/2')],
    ['a broken line', `${ledger(FILL)}  - oops\n`],
    ['nothing in it', ''],
  ])('refuses a ledger with %s and leaves it alone', async (_, before) => {
    writeFileSync(path, before);
    const done = await add(rotate('r1'));
    expect(exitCodeOf(done.problems)).toBe(65);
    expect(content()).toBe(before);
  });

  it('gives the refusal of the decision back', async () => {
    writeFileSync(path, ledger(FILL));
    const refusal = { code: 'bath-empty', message: 'No', severity: 'error' as const };
    expect(await append(path, async () => ({ refused: [refusal] }))).toEqual({
      lines: [],
      problems: [refusal],
      notes: [],
    });
    expect(content()).toBe(ledger(FILL));
  });

  it('releases the lock when the decision fails', async () => {
    writeFileSync(path, ledger(FILL));
    await expect(append(path, () => Promise.reject(new Error('a bug')))).rejects.toThrow('a bug');
    expect(existsSync(`${path}.lock`)).toBe(false);
  });

  it('writes nothing and takes no lock on a dry run', async () => {
    writeFileSync(path, ledger(FILL));
    writeFileSync(`${path}.lock`, 'somebody');
    const done = await append(path, async () => ({ events: [rotate('r1')] }), { dryRun: true });
    expect(done.lines).toEqual([LINE]);
    expect(content()).toBe(ledger(FILL));
  });

  it('follows a link to the ledger and locks where the file is', async () => {
    mkdirSync(join(folder, 'real'));
    const real = join(folder, 'real', 'shop.yaml');
    writeFileSync(real, ledger(FILL));
    symlinkSync(real, path);
    await append(path, async () => {
      expect(readdirSync(join(folder, 'real')).sort()).toEqual(['shop.yaml', 'shop.yaml.lock']);
      return { events: [rotate('r1')] };
    });
    expect(lstatSync(path).isSymbolicLink()).toBe(true);
    expect(readFileSync(real, 'utf8')).toContain(LINE);
  });

  it.each([
    ['longer', () => writeFileSync(path, `${ledger(FILL)}# saved just now\n`)],
    [
      'another file',
      () => {
        rmSync(path);
        writeFileSync(path, ledger(FILL));
      },
    ],
  ])('does not write when an editor made the file %s meanwhile', async (_, save) => {
    writeFileSync(path, ledger(FILL));
    const done = await append(path, async () => {
      save();
      return { events: [rotate('r1')] };
    });
    expect(exitCodeOf(done.problems)).toBe(75);
    expect(content()).not.toContain('r1');
  });
});

describe('a shorter way of reading', () => {
  const short = async (): Promise<Awaited<ReturnType<typeof readLedger>>> =>
    readLedger(Buffer.from(ledger(FILL)));
  const seen: number[] = [];
  const decide =
    (whole: number) =>
    async ({ events }: { events: unknown[] }): Promise<Decision> => {
      seen.push(events.length);
      return events.length < whole ? WHOLE : { events: [rotate('r1')] };
    };
  beforeEach(() => {
    seen.length = 0;
    writeFileSync(path, ledger(FILL, WASH));
  });

  it('is taken where it will do', async () => {
    expect(codesOf(await append(path, decide(1), { read: short }))).toEqual([]);
    expect(seen).toEqual([1]);
    expect(content()).toBe(`${ledger(FILL, WASH)}${LINE}\n`);
  });

  it('is given up where it will not, or where there is none', async () => {
    expect(codesOf(await append(path, decide(2), { read: short }))).toEqual([]);
    expect(seen).toEqual([1, 2]);
    writeFileSync(path, ledger(FILL, WASH));
    expect(codesOf(await append(path, decide(2), { read: async () => undefined }))).toEqual([]);
    expect(seen).toEqual([1, 2, 2]);
  });

  it('nothing is more than the whole ledger', async () => {
    await expect(append(path, decide(9), { read: short })).rejects.toThrow(
      'nothing more to read than the whole',
    );
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });
});

describe('the lock', () => {
  const lockOf = (owner: object): void =>
    writeFileSync(
      `${path}.lock`,
      JSON.stringify({
        token: 't',
        pid: 1,
        started: null,
        host: hostname(),
        since: '2026-11-20T08:00:00Z',
        command: 'bathbook wash',
        ...owner,
      }),
    );

  beforeEach(() => writeFileSync(path, ledger(FILL)));

  it('of a living process is waited for, then named', async () => {
    lockOf({ pid: process.pid });
    const done = await add(rotate('r1'));
    expect(exitCodeOf(done.problems)).toBe(75);
    expect(done.problems[0]!.message).toContain(
      `"bathbook wash" (process ${process.pid} on ${hostname()}, since 2026-11-20T08:00:00Z)`,
    );
    expect(content()).toBe(ledger(FILL));
    expect(existsSync(`${path}.lock`)).toBe(true);
  });

  it('is taken as soon as it is released', async () => {
    lockOf({ pid: process.pid });
    setTimeout(() => rmSync(`${path}.lock`), 60);
    expect(codesOf(await append(path, async () => ({ events: [rotate('r1')] })))).toEqual([]);
  });

  it('of a process that is gone is broken', async () => {
    lockOf({ pid: 2 ** 22 + 1 });
    writeFileSync(`${path}.lock.left-over`, readFileSync(`${path}.lock`));
    expect(codesOf(await add(rotate('r1')))).toEqual([]);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it.skipIf(process.platform !== 'linux')(
    'of an earlier process with the same number is broken',
    async () => {
      lockOf({ pid: process.pid, started: '1' });
      expect(codesOf(await add(rotate('r1')))).toEqual([]);
    },
  );

  it('of another machine is never broken', async () => {
    lockOf({ pid: 2 ** 22 + 1, host: 'upstairs' });
    const done = await add(rotate('r1'));
    expect(codesOf(done)).toEqual(['locked']);
    expect(done.problems[0]!.message).toContain('on upstairs');
    expect(existsSync(`${path}.lock`)).toBe(true);
  });

  it('is broken even when the one who broke it before was killed at it', async () => {
    lockOf({ pid: 2 ** 22 + 1 });
    writeFileSync(`${path}.lock.break`, readFileSync(`${path}.lock`));
    expect(codesOf(await append(path, async () => ({ events: [rotate('r1')] })))).toEqual([]);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it('that was taken from us keeps us from writing', async () => {
    const done = await append(path, async () => {
      lockOf({ pid: process.pid });
      return { events: [rotate('r1')] };
    });
    expect(codesOf(done)).toEqual(['changed-meanwhile']);
    expect(existsSync(`${path}.lock`)).toBe(true);
  });
});

describe('what the disk refuses', () => {
  it('a file that is not there', async () => {
    expect(exitCodeOf((await add(rotate('r1'))).problems)).toBe(66);
    expect(await readLedgerAt(path)).toMatchObject({ code: 'no-such-file' });
    expect(readdirSync(folder)).toEqual([]);
  });

  it('a folder', async () => {
    mkdirSync(path);
    const done = await add(rotate('r1'));
    expect(codesOf(done)).toEqual(['is-a-folder']);
    expect(exitCodeOf(done.problems)).toBe(66);
    expect(await readLedgerAt(path)).toMatchObject({ code: 'is-a-folder' });
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it.skipIf(!existsSync('/dev/zero'))('a device, which would never end', async () => {
    expect(await readLedgerAt('/dev/zero')).toMatchObject({ code: 'not-a-file' });
    expect(codesOf(await append('/dev/zero', async () => ({ events: [] })))).toEqual(['not-a-file']);
  });

  it.skipIf(isRoot)('a file without permission', async () => {
    writeFileSync(path, ledger(FILL), { mode: 0o444 });
    expect(exitCodeOf((await add(rotate('r1'))).problems)).toBe(74);
    chmodSync(path, 0o000);
    expect(await readLedgerAt(path)).toMatchObject({ code: 'cannot-read' });
  });

  it.skipIf(isRoot)('a folder without permission', async () => {
    writeFileSync(path, ledger(FILL));
    chmodSync(folder, 0o555);
    expect(exitCodeOf((await add(rotate('r1'))).problems)).toBe(73);
    expect(create(join(folder, 'new.yaml'), 'x')).toMatchObject({ code: 'cannot-create' });
  });
});

describe('create', () => {
  it('makes a file, and never writes over one', () => {
    expect(create(path, HEAD)).toBeNull();
    expect(content()).toBe(HEAD);
    const again = create(path, 'other');
    expect(again).toMatchObject({ code: 'already-exists' });
    expect(exitCodeOf([again!])).toBe(73);
    expect(content()).toBe(HEAD);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it('makes the folder only when asked', () => {
    const deep = join(folder, 'a', 'b', 'bathbook.yaml');
    expect(exitCodeOf([create(deep, HEAD)!])).toBe(73);
    expect(create(deep, HEAD, { makeFolder: true })).toBeNull();
    expect(readFileSync(deep, 'utf8')).toBe(HEAD);
  });
});

describe('cutting off the last line', () => {
  const cut = (): ReturnType<typeof cutLast> => cutLast(path, async () => ({ cut: true }));

  it.each([
    ['', ledger(FILL, WASH), ledger(FILL)],
    [' without a line end', ledger(FILL, WASH).trimEnd(), ledger(FILL)],
    [' before blank lines', `${ledger(FILL, WASH)}\n\n`, ledger(FILL)],
    [
      ' of a Windows file',
      ledger(FILL, WASH).replaceAll('\n', '\r\n'),
      ledger(FILL).replaceAll('\n', '\r\n'),
    ],
    [' behind a byte order mark', `\ufeff# é\n${ledger(FILL, WASH)}`, `\ufeff# é\n${ledger(FILL)}`],
  ])('works%s and keeps a copy', async (_, before, after) => {
    writeFileSync(path, before);
    const copy = `${path}.undone`;
    expect(await cut()).toEqual({ line: WASH.trimEnd(), copy, problems: [] });
    expect(content()).toBe(after);
    expect(readFileSync(copy, 'utf8')).toBe(WASH);
  });

  it('works again and again until nothing is left', async () => {
    writeFileSync(path, ledger(FILL, WASH));
    await cut();
    await cut();
    expect(content()).toBe(ledger());
    expect((await cut()).problems).toEqual([
      {
        code: 'nothing-to-undo',
        message: 'Cannot undo, the ledger has no events',
        help: 'Log one first, like: bathbook fill dirty 4 L ipa99',
        severity: 'error',
      },
    ]);
    expect(readFileSync(`${path}.undone`, 'utf8')).toBe(WASH + FILL);
  });

  it.each([
    ['a remark follows', `${ledger(FILL, WASH)}# done\n`],
    [
      'another event names it',
      ledger('id: "v", at: 2026-11-03T08:00:00Z, what: void, of: "k5q2", why: "x"', FILL, WASH),
    ],
    ['a torn line follows', `${ledger(FILL, WASH)}  - {id: "t`],
    [
      'a look names it',
      ledger('id: "v", at: 2026-11-03T08:00:00Z, what: inspect, wash: "k5q2", result: ok', FILL, WASH),
    ],
  ])('is refused when %s', async (_, before) => {
    writeFileSync(path, before);
    expect((await cut()).problems).toEqual([
      {
        code: 'not-last-line',
        message: `Cannot cut off the wash "k5q2" of line ${before.slice(0, before.indexOf('"k5q2", at')).split('\n').length}, something stands after it or refers to it`,
        help: 'Void it instead: bathbook void k5q2 --why "entered wrong"',
        line: expect.any(Number),
        severity: 'error',
      },
    ]);
    expect(content()).toBe(before);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it.each([
    [
      'another event is named',
      ledger('id: "v", at: 2026-11-03T08:00:00Z, what: void, of: "k3f9", why: "x"', FILL, WASH),
    ],
    [
      'a look names another wash',
      ledger(
        WASH.replace('k5q2', 'w1'),
        'id: "v", at: 2026-11-03T08:00:00Z, what: inspect, wash: "w1", result: ok',
        WASH,
      ),
    ],
    ['a look names none', ledger('id: "v", at: 2026-11-03T08:00:00Z, what: inspect, result: ok', FILL, WASH)],
  ])('is done when %s', async (_, before) => {
    writeFileSync(path, before);
    expect(codesOf(await cut())).toEqual([]);
    expect(content()).toBe(before.replace(WASH, ''));
  });

  it('is refused in a ledger that is wrong', async () => {
    writeFileSync(path, ledger(FILL, WASH).replace('ml: 4000', 'ml: -4000'));
    expect(codesOf(await cut())).toEqual(['out-of-range']);
    expect(content()).toContain('ml: -4000');
  });

  it('is only worked out on a dry run', async () => {
    writeFileSync(path, ledger(FILL, WASH));
    const done = await cutLast(path, async () => ({ cut: true }), { dryRun: true });
    expect(done).toEqual({ line: WASH.trimEnd(), copy: `${path}.undone`, problems: [] });
    expect(content()).toBe(ledger(FILL, WASH));
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it('is refused where the ledger was changed meanwhile, or the lock was taken', async () => {
    writeFileSync(path, ledger(FILL, WASH));
    const meanwhile = (change: () => void) =>
      cutLast(path, async () => {
        change();
        return { cut: true };
      });
    const changed = await meanwhile(() =>
      writeFileSync(path, ledger(FILL, WASH, WASH.replace('k5q2', 'w2'))),
    );
    expect(changed.problems).toEqual([changedMeanwhile(path)]);
    expect(content()).toContain('w2');
    const taken = await meanwhile(() => rmSync(`${path}.lock`));
    expect(taken.problems).toEqual([
      {
        code: 'changed-meanwhile',
        message: `Cannot write to "${path}", the file was changed by another program just now`,
        help: 'Try again',
        severity: 'error',
      },
    ]);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it('gives the refusal of the decision back, and shows the event before', async () => {
    writeFileSync(path, ledger(FILL, WASH));
    const done = await cutLast(path, async (_, last) => ({
      refused: [{ code: 'x', message: last.event.id, severity: 'error' }],
    }));
    expect(done.problems[0]!.message).toBe('k5q2');
    expect(content()).toBe(ledger(FILL, WASH));
  });
});

describe('reading', () => {
  it('looks twice at a line that is just being written', async () => {
    writeFileSync(path, `${ledger(FILL)}  - {id: "k5q2", at: 2026-1`);
    setTimeout(() => writeFileSync(path, ledger(FILL, WASH)), 5);
    expect(await readLedgerAt(path)).toMatchObject({
      file: { tail: 'whole', problems: [], events: [{ place: 0 }, { place: 1 }] },
    });
  });
});
