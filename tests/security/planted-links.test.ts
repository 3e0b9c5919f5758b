/** Whoever may write in the folder of a ledger plants links in the way of the program: the files they lead to stay as they are. */
import { spawnSync } from 'node:child_process';
import {
  linkSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, tempFolder } from '../commands/bundle.ts';

const main = bundled();
const root = tempFolder();
const PLANTING = fileURLToPath(new URL('planting.cjs', import.meta.url));
const NOW = '2026-11-20T09:00:00-04:00';
const VICTIM = 'a letter that is nobody’s business\n';
const LEDGER = `${HEAD}${LINES.join('\n')}\n`;

interface Scene {
  words: string[];
  /** The ledger before. */
  text: string;
  /** What is kept of earlier runs lies in the folder as well. */
  keepsHere?: boolean;
}

const SCENES: Record<string, Scene> = {
  'a wash after a torn line': {
    words: ['wash', '2', 'model'],
    text: `${LEDGER}  - {id: "torn1", at: 2026-11-`,
    keepsHere: true,
  },
  'a page': { words: ['report', '--out', 'page.html'], text: LEDGER },
  'a reminder': { words: ['due', '--once-a-day'], text: LEDGER },
  'an export': { words: ['export', 'csv', '--out', 'events.csv'], text: LEDGER },
};

function shopOf(text: string): { shop: string; ledger: string; victim: string } {
  const folder = mkdtempSync(join(root, 'case-'));
  const shop = join(folder, 'shop');
  mkdirSync(shop);
  const [ledger, victim] = [join(shop, 'bathbook.yaml'), join(folder, 'victim')];
  writeFileSync(ledger, text);
  writeFileSync(victim, VICTIM);
  return { shop, ledger, victim };
}

function run(
  words: readonly string[],
  at: { shop: string; ledger: string },
  env: Record<string, string> = {},
) {
  const args = [main, ...words, '--ledger', at.ledger, '--as-of', NOW, '--no-input'];
  const preload = env.PLANT_NTH === undefined ? [] : ['--require', PLANTING];
  return spawnSync(process.execPath, [...preload, ...args], {
    cwd: at.shop,
    env: {
      HOME: at.shop,
      XDG_CACHE_HOME: join(root, 'cache'),
      XDG_STATE_HOME: join(at.shop, 'state'),
      ...env,
    },
    encoding: 'utf8',
    timeout: 60_000,
  });
}

describe.each(Object.entries(SCENES))('%s', (_, { words, text, keepsHere }) => {
  it('writes through no link that is planted under the name of a file it is about to make', {
    timeout: 120_000,
  }, () => {
    const planted: string[] = [];
    for (let nth = 1; nth <= 12; nth += 1) {
      const at = shopOf(text);
      const log = join(at.shop, '..', 'planted');
      writeFileSync(log, '');
      const { status, stderr } = run(words, at, {
        PLANT_NTH: String(nth),
        PLANT_VICTIM: at.victim,
        PLANT_WITHIN: at.shop,
        PLANT_LOG: log,
        ...(keepsHere ? { XDG_CACHE_HOME: join(at.shop, 'cache') } : {}),
      });
      const name = readFileSync(log, 'utf8').trim();
      if (name === '') break;
      planted.push(name);
      expect(readFileSync(at.victim, 'utf8'), name).toBe(VICTIM);
      expect(lstatSync(at.victim).isFile(), name).toBe(true);
      expect(status, `${name}: ${stderr}`).not.toBe(70);
      expect(status, `${name}: ${stderr}`).not.toBeNull();
      expect(readFileSync(at.ledger, 'utf8').startsWith(LEDGER), name).toBe(true);
    }
    expect(planted.length).toBeGreaterThan(1);
  });
});

describe('--out', () => {
  it.each([
    ['its own name', () => undefined],
    [
      'a link to it',
      (at: { ledger: string; shop: string }) => symlinkSync(at.ledger, join(at.shop, 'page.html')),
    ],
    [
      'a second name of it',
      (at: { ledger: string; shop: string }) => linkSync(at.ledger, join(at.shop, 'page.html')),
    ],
  ])('does not write over the ledger by %s', (how, prepare) => {
    const at = shopOf(LEDGER);
    prepare(at);
    const out = how === 'its own name' ? './../shop/bathbook.yaml' : 'page.html';
    for (const words of [
      ['report', '--format', 'html', '--out', out],
      ['export', 'csv', '--out', out],
    ]) {
      const { status, stderr } = run(words, at);
      expect(stderr).toContain('that is a ledger');
      expect(status).toBe(64);
      expect(readFileSync(at.ledger, 'utf8')).toBe(LEDGER);
    }
  });
});

describe('what others may write', () => {
  it.skipIf(process.platform === 'win32')(
    'is told by doctor: a ledger, and a folder in which it can be replaced',
    () => {
      const at = shopOf(LEDGER);
      expect(run(['doctor'], at).stdout).not.toMatch(/others may|anybody may/i);
      spawnSync('chmod', ['666', at.ledger]);
      spawnSync('chmod', ['777', at.shop]);
      expect(run(['doctor'], at).stdout).toMatch(/chmod/);
    },
  );
});
