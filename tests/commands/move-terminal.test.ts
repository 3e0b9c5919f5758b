/** Moves on a terminal: what a person is asked before a bath runs over, and what is not asked. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, ledgerOf, NOW } from './bundle.ts';

const main = bundled();

/** `script` of util-linux puts a terminal around a program; that of other systems is told otherwise what to run. */
const hasScript =
  spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout?.includes('util-linux') === true;

/** 4 L at the mark; 50 mm of freeboard over 260 × 180 mm are 2.34 L, so that the brim lies at 6.34 L. */
const FILLED = [
  '  - {id: "fill1", at: 2026-11-19T07:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000}',
];

const STOCKED = [
  ...FILLED,
  '  - {id: "stck1", at: 2026-11-19T08:00:00-04:00, what: stock, solvent: ipa99, counted_ml: 8000}',
];

/** One answer to the one question that may come. */
async function typed(command: string, answer: string, lines = FILLED) {
  const ledger = ledgerOf(lines);
  const before = readFileSync(ledger, 'utf8');
  const line = `"${process.execPath}" "${main}" ${command} --ledger "${ledger}" --as-of ${NOW}`;
  const terminal = spawn('script', ['-qec', line, '/dev/null'], {
    env: {
      HOME: dirname(ledger),
      PATH: process.env.PATH ?? '',
      LANG: 'C.UTF-8',
      TERM: 'xterm',
      NO_COLOR: '1',
    },
  });
  let seen = '';
  let asked = 0;
  terminal.stdout.on('data', (bytes: Buffer) => {
    seen += bytes.toString('utf8');
    if (asked > 0 || !seen.includes('Log it? [y/N]')) return;
    asked += 1;
    terminal.stdin.write(answer);
  });
  const code = await new Promise<number | null>((resolve) => terminal.once('close', resolve));
  return {
    code,
    asked,
    text: seen.replaceAll(/\s+/g, ' '),
    written: readFileSync(ledger, 'utf8') !== before,
  };
}

const HANGS_MS = 60_000;

describe.skipIf(!hasScript)('a move on a terminal (skipped where there is no script of util-linux)', () => {
  it(
    'is asked about where the bath would run over, and left alone unless it is agreed to',
    async () => {
      const left = await typed('top-up dirty 3 L', '\r');
      expect(left).toMatchObject({ code: 0, asked: 1, written: false });
      expect(left.text).toMatch(
        /\d\.\d\d L in the dirty bath would overflow its 6\.34 L; is the amount right\?/,
      );
      expect(left.text).toContain('Nothing was logged');
      expect(await typed('top-up dirty 3 L', 'y\r')).toMatchObject({ code: 0, asked: 1, written: true });
    },
    HANGS_MS,
  );

  it(
    'is asked about where an amount or a count is most likely a slip',
    async () => {
      for (const slip of ['top-up clean 4', 'stock received ipa99 10', 'stock counted ipa99 75 L']) {
        const { asked, written } = await typed(slip, '\r', STOCKED);
        expect([slip, asked, written]).toEqual([slip, 1, false]);
      }
      expect(await typed('stock counted ipa99 7 L', 'n\r', STOCKED)).toMatchObject({
        asked: 0,
        written: true,
      });
    },
    HANGS_MS,
  );

  it(
    'is logged at once where it fits, and where nothing may be asked',
    async () => {
      expect(await typed('top-up dirty 2 L', 'n\r')).toMatchObject({ code: 0, asked: 0, written: true });
      expect(await typed('top-up dirty 3 L --no-input', 'n\r')).toMatchObject({
        code: 0,
        asked: 0,
        written: true,
      });
      expect(await typed('top-up dirty 3 L --dry-run', 'n\r')).toMatchObject({
        code: 0,
        asked: 0,
        written: false,
      });
    },
    HANGS_MS,
  );
});
