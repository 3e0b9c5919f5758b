import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { bundled, tempFolder } from './bundle.ts';

const main = bundled();

/** `script` of util-linux puts a terminal around a program; that of other systems is told otherwise what to run. */
const hasScript =
  spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout?.includes('util-linux') === true;

/** A person who waits for a question before answering it. */
async function converse(
  cwd: string,
  answers: readonly string[],
): Promise<{ code: number | null; seen: string }> {
  const typed = [...answers];
  const terminal = spawn('script', ['-qec', `"${process.execPath}" "${main}" setup --here`, '/dev/null'], {
    cwd,
    env: { HOME: cwd, PATH: process.env.PATH ?? '', LANG: 'C.UTF-8', TERM: 'xterm', TZ: 'UTC' },
  });
  let seen = '';
  let answered = 0;
  terminal.stdout.on('data', (bytes: Buffer) => {
    seen += bytes.toString('utf8');
    // Readline draws the question again as it is answered, so only one that stands last waits.
    const waits = /(?:\[[^\]\n]*\]|for none): (?:.\[\d+G)?$/.test(seen.slice(answered));
    const next = waits ? typed.shift() : undefined;
    if (next === undefined) return;
    answered = seen.length;
    terminal.stdin.write(next);
  });
  const code = await new Promise<number | null>((resolve) => terminal.once('close', resolve));
  return { code, seen };
}

const HANGS_MS = 60_000;

describe.skipIf(!hasScript)('setup on a terminal (skipped where there is no script of util-linux)', () => {
  it(
    'asks, asks again, and makes what was answered',
    async () => {
      const cwd = tempFolder();
      const answers = [
        'Cove\r',
        'Mars\r',
        'Europe/Lisbon\r',
        '\r',
        '3\r',
        '1 gal\r',
        '\r',
        '\r',
        '72 F\r',
        '\r',
        '\r',
      ];
      const { code, seen } = await converse(cwd, answers);
      expect(code).toBe(0);
      expect(seen).toContain('Cannot use the time zone "Mars"');
      const { shop, baths } = parse(readFileSync(join(cwd, 'bathbook.yaml'), 'utf8'));
      // 72 °F is 22.2 °C, and a US gallon 3785.41 mL (NIST SP 811, appendix B)
      expect(shop).toMatchObject({ name: 'Cove', timezone: 'Europe/Lisbon', room_c: 22.2 });
      expect(Object.keys(baths)).toEqual(['first', 'second', 'third']);
      expect(baths.third.mark_ml).toBe(3785.4);
    },
    HANGS_MS,
  );

  it.each([
    ['Ctrl-C', '\x03'],
    ['Ctrl-D', '\x04'],
  ])(
    'leaves nothing behind after %s',
    async (_name, key) => {
      const cwd = tempFolder();
      const { code } = await converse(cwd, ['Cove\r', '\r', key]);
      expect(code).toBe(130);
      expect(existsSync(join(cwd, 'bathbook.yaml'))).toBe(false);
      expect(readdirSync(cwd).filter((name) => name !== '.cache')).toEqual([]);
    },
    HANGS_MS,
  );
});
