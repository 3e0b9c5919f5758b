/** Every command that writes, on a disk that takes no more: the ledger stays as it was, nothing is left behind, and with room it works. */
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, NOW, runner, tempFolder } from './bundle.ts';

const main = bundled();
const run = runner(main);
/** Of a file: what fits in a page of memory, of which a full tmpfs gives no second one. */
const MOST_BYTES = 4096;

/** A ledger that ends so many bytes before it may grow no more, the new line longer than that. */
function nearlyFull(folder: string, torn = ''): string {
  const path = join(folder, 'bathbook.yaml');
  const lines = `${LINES.join('\n')}\n${torn}`;
  const remark = '# '.padEnd(MOST_BYTES - 10 - HEAD.length - lines.length - 1, '.');
  writeFileSync(path, `${HEAD}${remark}\n${lines}`);
  return path;
}

const EVENTS = [1, 2]
  .map((nth) => `{"id":"new${nth}","at":"${NOW}","what":"inspect","result":"ok"}\n`)
  .join('');

const WRITES: string[][] = [
  ['wash', '6', 'model'],
  ['stock', 'received', 'ipa99', '5 L'],
  ['top-up', 'clean', '100 mL'],
  ['drain', 'dirty', '1 L'],
  ['rotate'],
  ['refill', 'dirty'],
  ['reading', 'dirty', '--density', '0.79', '--temp', '20C'],
  ['stock', 'counted', 'ipa99', '2 L'],
  ['inspect', 'ok'],
  ['amend', 'wash5', 'minutes=4,6', '--why', 'miscounted'],
  ['void', 'wash5', '--why', 'typed twice'],
  ['import', 'new.ndjson'],
];
/** Commands that write something else than a line: how much of it the disk takes, in blocks of 1024 bytes. */
const OTHERS: [string[], number][] = [
  [['report', '--out', 'page.html', '--as-of', NOW], 4],
  [['export', 'csv', '--out', 'table.csv', '--as-of', NOW], 0],
  [['setup', '--no-input', '--ledger', 'other.yaml'], 0],
  [['demo', 'sample'], 4],
  [['undo'], 0],
];

/** In a shell whose programs cannot make a file longer than so many blocks. */
function limited(blocks: number, args: string[], cwd: string) {
  const script = `ulimit -f ${blocks} && exec "$0" "$@"`;
  const named = args.includes('--ledger') ? args : [...args, '--ledger', 'bathbook.yaml'];
  const options = { cwd, env: { PATH: process.env.PATH }, encoding: 'utf8' as const };
  const ran = spawnSync('bash', ['--norc', '-c', script, process.execPath, main, ...named], options);
  return { code: ran.status, err: ran.stderr };
}

function shopFolder(torn = ''): { folder: string; ledger: string } {
  const folder = join(tempFolder(), 'shop');
  mkdirSync(folder);
  writeFileSync(join(folder, 'new.ndjson'), EVENTS);
  writeFileSync(join(folder, 'page.html'), 'of last week');
  writeFileSync(join(folder, 'table.csv'), 'of last week');
  return { folder, ledger: nearlyFull(folder, torn) };
}

describe('a disk that is full', () => {
  it('takes no line of any command, and loses none', () => {
    const { folder, ledger } = shopFolder();
    const before = readFileSync(ledger);
    const files = readdirSync(folder);
    for (const args of WRITES) {
      const { code, err } = limited(4, args, folder);
      const refused = { args, code, err };
      expect(refused).toMatchObject({ code: 74, err: expect.stringContaining('the disk is full') });
      if (args[0] !== 'import') expect(err).toMatch(/Not logged: - \{id: "?\w{5}"?, at: /);
      expect(readFileSync(ledger).equals(before), args.join(' ')).toBe(true);
      expect(readdirSync(folder), args.join(' ')).toEqual(files);
    }
    expect(run(['wash', '6', 'model', '--ledger', ledger]).code).toBe(0);
  });

  it('takes no page, table, sample or copy either, and what was there before stays', () => {
    const { folder, ledger } = shopFolder();
    const before = readFileSync(ledger);
    for (const [args, blocks] of OTHERS) {
      const { code, err } = limited(blocks, args, folder);
      expect({ args, code, err }).toMatchObject({
        code: args[0] === 'undo' ? 74 : expect.toBeOneOf([73, 74]),
        err: expect.stringMatching(/^Cannot .*(disk is full|EFBIG|ENOSPC)/m),
      });
      expect(readFileSync(ledger).equals(before), args.join(' ')).toBe(true);
      for (const page of ['page.html', 'table.csv'])
        expect(readFileSync(join(folder, page), 'utf8'), args.join(' ')).toBe('of last week');
      const left = readdirSync(folder).filter((name) => name !== 'sample');
      expect(left.sort(), args.join(' ')).toEqual(['bathbook.yaml', 'new.ndjson', 'page.html', 'table.csv']);
      if (existsSync(join(folder, 'sample'))) expect(readdirSync(join(folder, 'sample'))).toEqual([]);
    }
    expect(run(['undo', '--ledger', ledger]).code).toBe(0);
  });

  it('leaves a torn line where it is, if there is no room to keep it aside', () => {
    const { folder, ledger } = shopFolder('  - {id: "torn5", at: 2026-11-20T1');
    const before = readFileSync(ledger);
    const { code, err } = limited(0, ['wash', '6', 'model'], folder);
    expect({ code, err }).toMatchObject({ code: 74, err: expect.stringContaining('the disk is full') });
    expect(readFileSync(ledger).equals(before)).toBe(true);
    expect(readdirSync(folder).filter((name) => name.includes('torn'))).toEqual([]);
  });
});

/** A disk of so many bytes, seen by one shell alone, that is gone with it. */
const OWN_DISK = `mount -t tmpfs -o size=64k disk "$1" && cd "$1" && cat "$2" > bathbook.yaml && cp "$3" new.ndjson &&
  { cat /dev/zero > filler 2>/dev/null; true; } &&
  for words in "wash 6 model" "void wash5 --why twice" "import new.ndjson" "export csv --out t.csv" "demo sample"; do
    "$4" "$5" $words --ledger bathbook.yaml 2>/dev/null >/dev/null; echo "$words: $?"; cmp bathbook.yaml "$2" || exit 9
  done; echo *; rm filler; "$4" "$5" wash 6 model --ledger bathbook.yaml >/dev/null 2>&1; echo "then: $?"; echo *`;
const canMount = spawnSync('unshare', ['-m', 'true']).status === 0;

describe.skipIf(!canMount)('a small disk of its own that is full', () => {
  it('loses nothing, and works again with room', () => {
    const { folder, ledger } = shopFolder();
    const disk = join(folder, 'disk');
    mkdirSync(disk);
    chmodSync(disk, 0o700);
    const args = [
      '-m',
      'sh',
      '-c',
      OWN_DISK,
      'sh',
      disk,
      ledger,
      join(folder, 'new.ndjson'),
      process.execPath,
      main,
    ];
    const ran = spawnSync('unshare', args, { env: { PATH: process.env.PATH }, encoding: 'utf8' });
    const [wash, drop, imported, exported, sample, files, then, after] = ran.stdout.trimEnd().split('\n');
    expect([wash, drop, imported]).toEqual([
      'wash 6 model: 74',
      'void wash5 --why twice: 74',
      'import new.ndjson: 74',
    ]);
    expect([exported, sample]).toEqual([expect.stringMatching(/: 73$/), expect.stringMatching(/: (73|74)$/)]);
    expect(files).toBe('bathbook.yaml filler new.ndjson sample');
    expect([then, after]).toEqual(['then: 0', 'bathbook.yaml new.ndjson sample']);
  });
});
