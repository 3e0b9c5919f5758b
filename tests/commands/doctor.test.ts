import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

function doctor(ledger: string, env: Record<string, string> = {}, args: string[] = ['--as-of', NOW]) {
  const { code, out, err } = run(['doctor', '--json', '--ledger', ledger, ...args], { env });
  expect(err).toBe('');
  return { code, data: JSON.parse(out).data };
}

const texts = (data: { findings: { text: string }[] }) => data.findings.map(({ text }) => text).join('\n');

/** Every file below a folder with its bytes and the time it was written. */
function everything(folder: string): unknown[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .map((one) => join(one.parentPath, one.name))
    .sort()
    .map((path) => {
      const { mtimeMs, size, mode } = statSync(path);
      return [path, mtimeMs, size, mode];
    });
}

describe('doctor', () => {
  it('counts the events of a ledger, and finds nothing wrong with a sound one', () => {
    const { code, data } = doctor(ledgerOf());
    expect(code).toBe(0);
    expect(data.ledger).toMatchObject({
      why: '--ledger',
      bytes: Buffer.byteLength(HEAD + LINES.map((line) => `${line}\n`).join('')),
      events: { fill: 2, wash: 2, 'top-up': 1 },
      first: '2026-11-16T08:00:00-04:00',
      last: '2026-11-19T16:40:00-04:00',
      baths: 2,
      counting: 5,
      voided: 0,
      later: 0,
      sound: true,
      problems: [],
    });
    expect(data.lock).toBeNull();
    expect(data.findings).toEqual([]);
    expect(data.program.node).toBe(process.versions.node);
  });

  it('tells nothing of what was written into the ledger', () => {
    const secret = LINES.map((line) =>
      line
        .replaceAll('NB', 'Quillfeather')
        .replace('26-0117', 'Quillfeather case')
        .replace('lot: "R7"', 'lot: "Quillfeather lot", note: "Quillfeather"'),
    );
    const ledger = ledgerOf(
      [...secret, '  - {id: "x1", at: 2026-11-20T10:00:00-04:00, what: wash, parts: {Quillfeather: 3}}'],
      HEAD.replace('Cove Street Bench', 'Quillfeather & Sons'),
    );
    const env = { HOME: dirname(ledger), BATHBOOK_BY: 'Quillfeather' };
    for (const json of [[], ['--json']]) {
      const { code, out } = run(['doctor', ...json, '--ledger', ledger, '--as-of', NOW], { env });
      expect(code).toBe(65);
      expect(out).not.toContain('Quillfeather');
      expect(out).not.toContain(dirname(ledger));
      expect(out).toContain('~/bathbook.yaml');
      expect(out).toContain('unknown-part');
    }
  });

  it('writes nothing at all', () => {
    const ledger = ledgerOf();
    const home = dirname(ledger);
    run(['baths', '--ledger', ledger], { env: { HOME: home } });
    const before = everything(home);
    expect(before.length).toBeGreaterThan(2);
    const { data } = doctor(ledger, { HOME: home });
    expect(data.cache.code.files).toBe(1);
    expect(data.cache.code.current).toBe(1);
    expect(everything(home)).toEqual(before);
    const empty = tempFolder();
    doctor(join(empty, 'none.yaml'), { HOME: empty });
    expect(readdirSync(empty)).toEqual([]);
  });

  it.each([
    ['none', [], 66, 'There is no ledger'],
    ['one with errors', ['  - {id: "x", at: yesterday, what: wsh}'], 65, 'The ledger holds errors'],
    [
      'one with a wash in an empty bath',
      ['  - {id: "w1", at: 2026-11-17T11:20:00-04:00, what: wash, parts: {model: 6}}'],
      65,
      'The ledger holds errors',
    ],
  ])('exits as the other commands would: %s', (what, lines, exit, finding) => {
    const ledger = what === 'none' ? join(tempFolder(), 'nowhere.yaml') : ledgerOf(lines);
    const { code, data } = doctor(ledger);
    expect(code).toBe(exit);
    expect(data.findings[0]).toMatchObject({ severity: 'fault' });
    expect(texts(data)).toContain(finding);
    expect(run(['baths', '--ledger', ledger, '--as-of', NOW]).code).toBe(exit);
  });

  it('exits with 78 for a zone that this computer does not know', () => {
    const { code, data } = doctor(ledgerOf(LINES, HEAD.replace('America/Halifax', 'Mars/Base')));
    expect(code).toBe(78);
    expect(texts(data)).toContain('time zone');
  });

  it('says why it looks where it looks', () => {
    const ledger = ledgerOf();
    const below = join(dirname(ledger), 'below');
    mkdirSync(below);
    const why = (options: Parameters<typeof run>[1]) =>
      JSON.parse(run(['doctor', '--json'], options).out).data.ledger.why;
    expect(why({ cwd: dirname(ledger) })).toBe('here');
    expect(why({ cwd: below })).toBe('a folder above');
    expect(why({ cwd: below, env: { BATHBOOK_LEDGER: ledger } })).toBe('BATHBOOK_LEDGER');
    expect(why({ cwd: tempFolder(), env: { HOME: tempFolder() } })).toBe('your data folder');
  });

  it('tells a clock that lies before the last entry, and by how much', () => {
    const { code, data } = doctor(ledgerOf(), {}, ['--as-of', '2026-11-17T16:40:00-04:00']);
    expect(code).toBe(0);
    // The last entry is two days later, to the second.
    expect(data.clock.behind_s).toBe(2 * 86_400);
    expect(texts(data)).toContain('The clock is 2 days before the last entry');
    expect(data.ledger.later).toBe(2);
  });

  it('tells who holds the lock, and one that was left behind', () => {
    const ledger = ledgerOf();
    const owner = {
      token: 'a',
      started: null,
      host: hostname(),
      since: '2026-11-20T16:00:00.000Z',
      command: 'x',
    };
    writeFileSync(`${ledger}.lock`, JSON.stringify({ ...owner, pid: process.pid }));
    const held = doctor(ledger);
    expect(held.data.lock).toEqual({ process: process.pid, since: owner.since, stale: false });
    expect(texts(held.data)).toContain('locked now');
    // No process has this number: the largest of Linux is 4194304, see proc(5).
    writeFileSync(`${ledger}.lock`, JSON.stringify({ ...owner, pid: 99_999_999 }));
    const left = doctor(ledger);
    expect(left.data.lock.stale).toBe(true);
    expect(left.data.findings).toEqual([]);
    expect(readFileSync(`${ledger}.lock`, 'utf8')).toContain('99999999');
  });

  it.skipIf(process.platform === 'win32')('warns where others may change the ledger', () => {
    const ledger = ledgerOf();
    chmodSync(ledger, 0o664);
    const { code, data } = doctor(ledger);
    expect([code, data.ledger.permissions.mode]).toEqual([0, '0664']);
    expect(texts(data)).toContain('Others on this computer may change');
    chmodSync(ledger, 0o600);
    chmodSync(dirname(ledger), 0o777);
    expect(texts(doctor(ledger).data)).toContain('Anybody on this computer may replace');
    chmodSync(dirname(ledger), 0o1777);
    expect(doctor(ledger).data.findings).toEqual([]);
  });

  it.skipIf(process.platform === 'win32')('sees the lock beside the file that a link leads to', () => {
    const ledger = ledgerOf();
    const link = join(tempFolder(), 'link.yaml');
    symlinkSync(ledger, link);
    writeFileSync(`${ledger}.lock`, 'half');
    const { data } = doctor(link);
    expect(data.ledger.permissions.is_link).toBe(true);
    expect(data.lock).toEqual({ process: null, since: null, stale: false });
  });

  it('says whether a checkpoint fits', () => {
    const many = Array.from(
      { length: 120 },
      (_, nth) =>
        `  - {id: "w${nth}", at: 2026-11-17T10:${String(Math.floor(nth / 60) + 10)}:${String(nth % 60).padStart(2, '0')}-04:00, what: wash, parts: {die: 1}}`,
    );
    const ledger = ledgerOf([...LINES.slice(0, 2), ...many]);
    const env = { HOME: dirname(ledger) };
    expect(doctor(ledger, env).data.cache.checkpoint).toBe('none');
    run(['baths', '--ledger', ledger], { env });
    expect(doctor(ledger, env).data.cache.checkpoint).toBe('fits');
    writeFileSync(ledger, readFileSync(ledger, 'utf8').replace('Cove Street', 'Cove Road'));
    expect(doctor(ledger, env).data.cache.checkpoint).toBe('to be made anew');
  });

  it('is one record a line in a pipe, without a label twice in a row', () => {
    const { out } = run(['doctor', '--ledger', ledgerOf(), '--as-of', NOW]);
    const labels = out
      .trimEnd()
      .split('\n')
      .map((line) => line.split('\t'));
    for (const [label, text, ...rest] of labels) {
      expect(label).toMatch(/^[a-z ]+$/);
      expect(text).not.toBe('');
      expect(rest).toEqual([]);
    }
    expect(labels.map(([label]) => label)).toContain('verdict');
  });
});
