/** Words for a shell, held against the shells of this computer: what is pasted is what was meant, and nothing else is done. */
import { spawnSync } from 'node:child_process';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shellWord } from '../../src/ledger/shell-word.ts';

const hasBash = spawnSync('bash', ['--norc', '-c', 'true']).status === 0;

const WORDS = [
  'bathbook.yaml',
  '/home/nb/my shop.yaml',
  '',
  "it's red",
  '"quoted"',
  '$(touch x).yaml',
  '`touch x`',
  '$HOME',
  'a\\b',
  'a\\',
  'wow!!',
  '!1',
  '; touch x',
  '* ? [a] {a,b}',
  '~/x',
  '# not a remark',
  'line\nbreak',
  'a\ttab, a \r return',
  '\u001b]0;x\u0007\u009b2J',
  '\u202egpj.exe',
  '\u{e0041}tag',
  "'\u001b'",
  'é ü 字 😀',
  '=1+1',
];

/** What a shell makes of them, each ended by a zero byte. */
function readBack(shell: string, words: readonly string[]): string[] {
  const typed = `printf '%s\\0' ${words.map(shellWord).join(' ')}`;
  // Bash takes an input that is a socket for a remote login, and reads what the user has for one.
  const { stdout } = spawnSync(shell, ['-c', typed], {
    stdio: ['ignore', 'pipe', 'pipe'],
    encoding: 'utf8',
    env: { LC_ALL: 'C.UTF-8', PATH: process.env.PATH! },
  });
  return stdout.split('\0').slice(0, -1);
}

describe('a word for a shell', () => {
  it.skipIf(!hasBash)('is read by bash as it was meant', () => {
    expect(readBack('bash', WORDS)).toEqual(WORDS);
  });

  it.skipIf(!hasBash)('is read by bash as it was meant, whatever it is', () => {
    const word = fc.string({ unit: 'binary' }).filter((one) => !one.includes('\0'));
    fc.assert(
      fc.property(fc.array(word, { minLength: 100, maxLength: 300 }), (words) => {
        expect(readBack('bash', words)).toEqual(words);
      }),
      { numRuns: 6 },
    );
  });

  it('is read by any shell as it was meant where it holds no signs that cannot be seen', () => {
    const words = WORDS.filter((one) => !shellWord(one).startsWith('$'));
    expect(words.length).toBeGreaterThan(10);
    expect(readBack('sh', words)).toEqual(words);
  });

  it('can be shown', () => {
    for (const word of WORDS) expect(shellWord(word)).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  });

  it('is plain where a plain one does', () => {
    expect(shellWord('--ledger=/srv/shop-2/bathbook.yaml')).toBe('--ledger=/srv/shop-2/bathbook.yaml');
    expect(shellWord('two trays')).toBe('"two trays"');
  });
});
