import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inAscii, wantsAscii } from '../../src/render/ascii.ts';

describe('who decides about ASCII', () => {
  // POSIX.1-2017, XBD 8.2: LC_ALL before LC_CTYPE before LANG, and an empty value is as good as none.
  it.each([
    [{}, true],
    [{ LANG: 'C' }, true],
    [{ LANG: 'de_DE.ISO-8859-1' }, true],
    [{ LANG: 'de_DE.UTF-8' }, false],
    [{ LANG: 'C.utf8' }, false],
    [{ LC_CTYPE: 'en_CA.UTF-8', LANG: 'C' }, false],
    [{ LC_ALL: 'C', LC_CTYPE: 'en_CA.UTF-8', LANG: 'en_CA.UTF-8' }, true],
    [{ LC_ALL: '', LANG: 'en_CA.UTF-8' }, false],
    [{ TERM: 'dumb', LANG: 'en_CA.UTF-8' }, true],
  ])('%j', (env, expected) => {
    expect(wantsAscii(env)).toBe(expected);
  });
});

describe('text in ASCII', () => {
  it.each([
    ['545 (272–1172) µg/cm²', '545 (272-1172) ug/cm2'],
    ['5.2 g → 4.9 g at 22 °C, 400 mPa·s', '5.2 g -> 4.9 g at 22 C, 400 mPa s'],
    ['f = 22 × sqrt(µ / 400)', 'f = 22 * sqrt(mu / 400)'],
    ['30 m³ of the room’s air', "30 m3 of the room's air"],
    ['plain', 'plain'],
  ])('%s', (text, plain) => {
    expect(inAscii(text)).toBe(plain);
  });

  it('leaves names of the ledger alone, since nothing says how else they are written', () => {
    expect(inAscii('Atelier Zoë → clean')).toBe('Atelier Zoë -> clean');
  });

  it('is known for every sign that a command or a renderer of text writes', () => {
    const folders = ['src/render', 'src/commands', 'src/explain'];
    const texts = folders.flatMap((folder) =>
      readdirSync(folder)
        // Charts draw with signs of their own, and without them where these cannot be shown.
        .filter((name) => name.endsWith('.ts') && !/^(?:ascii|printable|chart.*)\.ts$/.test(name))
        .map((name) => readFileSync(join(folder, name), 'utf8').replaceAll(/\/\*.*?\*\/|\/\/.*$/gms, '')),
    );
    // biome-ignore lint/suspicious/noControlCharactersInRegex: ASCII begins with them
    const signs = new Set(texts.join('').match(/[^\x00-\x7f]/g));
    expect(signs.size).toBeGreaterThan(10);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: ASCII begins with them
    for (const sign of signs) expect(inAscii(sign), sign).toMatch(/^[\x00-\x7f]*$/);
  });
});
