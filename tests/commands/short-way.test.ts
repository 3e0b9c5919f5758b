/**
 * Two shops do the same, one with a cache and one without: nothing that is said or written may differ.
 */
import { spawnSync } from 'node:child_process';
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, tempFolder } from './bundle.ts';

const program = bundled();
const EVENTS = 130;
const START_MS = Date.parse('2026-03-02T12:00:00Z');
const HOUR_MS = 3_600_000;

/**
 * Chance that comes again after an id: one that is drawn twice, since the first look would not do, is the same. And a mark for each
 * command that did not read the whole ledger.
 */
const PRELOAD = `
const ID_LENGTH = 5;
let seed = Number(process.env.STEP) * 7919 + 1;
const drawn = Array.from({ length: ID_LENGTH }, () => (seed = (seed * 48271) % 2147483647) / 2147483647);
let next = 0;
Math.random = () => drawn[next++ % ID_LENGTH];
const fs = require('node:fs');
const { openSync, readFileSync } = fs;
let opened = false;
let whole = false;
fs.openSync = (path, ...more) => {
  opened ||= String(path).includes('/checkpoints/') && more[0] === 'r';
  return openSync(path, ...more);
};
fs.readFileSync = (path, ...more) => {
  whole ||= String(path).endsWith('bathbook.yaml');
  return readFileSync(path, ...more);
};
process.on('exit', () => {
  if (opened && !whole) fs.appendFileSync('short', '.');
});
`;

interface Shop {
  folder: string;
  ledger: string;
  env: Record<string, string>;
}

function shop(cached: boolean, text: string): Shop {
  const folder = tempFolder();
  const ledger = join(folder, 'bathbook.yaml');
  writeFileSync(ledger, text);
  writeFileSync(join(folder, 'chance.cjs'), PRELOAD);
  return { folder, ledger, env: cached ? { XDG_CACHE_HOME: join(folder, 'cache') } : {} };
}

function run({ folder, ledger, env }: Shop, step: number, args: readonly string[]) {
  const preload = ['--require', join(folder, 'chance.cjs')];
  const ran = spawnSync(process.execPath, [...preload, program, ...args, '--ledger', ledger], {
    cwd: folder,
    env: { ...env, STEP: String(step) },
    encoding: 'utf8',
  });
  const plain = (text: string) => text.replaceAll(folder, '…');
  return { code: ran.status, out: plain(ran.stdout), err: plain(ran.stderr) };
}

function timeOf(ms: number): string {
  return new Date(Math.floor(ms / 1000) * 1000).toISOString().replace('.000Z', '+00:00');
}

/** Events of most kinds, in order; some notes are no ASCII. */
function firstLines(): string {
  return Array.from({ length: EVENTS }, (_, place) => {
    const at = timeOf(START_MS + place * 2 * HOUR_MS);
    return `  - {id: "e${place}", at: ${at}, ${firstEvent(place)}}\n`;
  }).join('');
}

function firstEvent(place: number): string {
  if (place < 2) return `what: fill, bath: ${place === 0 ? 'dirty' : 'clean'}, solvent: ipa99, ml: 4000`;
  if (place === 2) return 'what: stock, solvent: ipa99, received_ml: 20000, price: 120';
  if (place % 37 === 0) return 'what: rotate, into: "can-1"';
  if (place % 29 === 0) return 'what: top-up, bath: clean, solvent: ipa99, to: mark, note: "größer – ✓"';
  if (place % 23 === 0) return 'what: reading, bath: dirty, density_g_ml: 0.795, temp_c: 22';
  if (place % 19 === 0) return `what: inspect, wash: "${washBefore(place)}", result: ok`;
  if (place % 17 === 0) return `what: weighed, wash: "${washBefore(place)}", wet_g: 260, clean_g: 251`;
  return `what: wash, parts: {model: ${1 + (place % 6)}}, cases: ["26-${place}"], by: "NB"`;
}

function washBefore(place: number): string {
  const before = place - 1;
  return firstEvent(before).startsWith('what: wash') ? `e${before}` : washBefore(before);
}

type Draw = (upTo: number) => number;

function drawing(seed: number): Draw {
  const chance = xoroshiro128plus(seed);
  return (upTo) => ((chance.next() >>> 0) / 2 ** 32) * upTo;
}

/** What somebody may type, or do to the file by hand. */
function nextDeed(
  draw: Draw,
  nowMs: number,
  ids: string[],
): { args?: string[]; hand?: (text: string) => string } {
  const any = <T>(list: readonly T[]): T => list[Math.floor(draw(list.length))]!;
  const at = ['--as-of', timeOf(nowMs)];
  const earlier = timeOf(nowMs - draw(400) * HOUR_MS);
  const old = any(ids.slice(0, -40));
  const late = any(ids.slice(-20));
  return any([
    ...Array.from({ length: 6 }, () => ({ args: ['wash', '6', 'model', '2', 'mask', ...at] })),
    { args: ['wash', '3', 'splint', '--at', earlier, ...at] },
    { args: ['wash', '--again', '--drained', '45', ...at] },
    // One alone: the chance that comes again draws one id.
    { args: ['wash', '--about', '1', '--since', timeOf(nowMs - 30 * HOUR_MS), ...at] },
    { args: ['reading', 'dirty', '--density', '0.797', '--temp', '22C', ...at] },
    { args: ['reading', 'clean', '--index', '1.3775', '--temp', '22C', ...at] },
    { args: ['top-up', 'clean', '--json', ...at] },
    { args: ['rotate', '--yes', ...at] },
    { args: ['drain', 'dirty', '500 mL', ...at] },
    { args: ['inspect', 'sticky', ...at] },
    { args: ['stock', 'ipa99', '5 L', ...at] },
    { args: ['undo', ...at] },
    { args: ['void', late, '--why', 'typed twice', ...at] },
    { args: ['void', old, '--why', 'typed twice', ...at] },
    { args: ['amend', late, 'note=other', '--why', 'forgot it', ...at] },
    { args: ['amend', old, 'note=other', '--why', 'forgot it', ...at] },
    { hand: (text: string) => `${text}  # a remark\n\n` },
    { hand: (text: string) => text.replace('Cove Street', 'Cove Lane') },
    { hand: (text: string) => text.replace('parts: {model: 5}', 'parts: {model: 4}') },
    { hand: (text: string) => `${text}  - {id: "${old}", at: ${timeOf(nowMs)}, what: rotate}\n` },
    {
      hand: (text: string) =>
        `${text}  - {id: "h${Math.floor(draw(1e9))}", at: ${earlier}, what: wash, parts: {die: 4}}\n`,
    },
    {
      hand: (text: string) =>
        `${text}  - {id: "h${Math.floor(draw(1e9))}", at: ${timeOf(nowMs + 50 * HOUR_MS)}, what: wash, parts: {die: 4}}\n`,
    },
    {
      hand: (text: string) =>
        `${text}  - {id: "h${Math.floor(draw(1e9))}", at: ${timeOf(nowMs)}, what: fill, bath: clean, solvent: ipa99, ml: 100}\n`,
    },
  ]);
}

const LOOKS = [
  ['baths'],
  ['baths', '--json'],
  ['due'],
  ['due', '--json'],
  ['outlook'],
  ['wash', '2', 'model', '--dry-run', '--json'],
];

function idsIn(text: string): string[] {
  return [...text.matchAll(/\{id: "([^"]+)"/g)].map(([, id]) => id!);
}

function marksIn(folder: string): number {
  const marks = join(folder, 'short');
  return existsSync(marks) ? readFileSync(marks).length : 0;
}

/** Lines that a person would take out again, since nothing goes on with them. */
function withoutTrouble(shop: Shop, kept: string): void {
  writeFileSync(shop.ledger, kept);
}

describe.each([1, 2, 3, 4])('a shop with a cache and one without (chance %i)', (seed) => {
  it('say and write the same', () => {
    const draw = drawing(seed);
    const text = HEAD + firstLines();
    const shops = [shop(true, text), shop(false, text)] as const;
    let nowMs = START_MS + EVENTS * 2 * HOUR_MS;
    let step = 0;
    const both = (args: readonly string[]) => {
      step += 1;
      const [first, second] = shops.map((one) => run(one, step, args));
      expect(first, args.join(' ')).toEqual(second);
      const [one, other] = shops.map(({ ledger }) => readFileSync(ledger, 'utf8'));
      expect(one, args.join(' ')).toBe(other);
      return first!;
    };
    for (let turn = 0; turn < 24; turn += 1) {
      nowMs += draw(9) * HOUR_MS;
      const before = readFileSync(shops[0].ledger, 'utf8');
      const deed = nextDeed(draw, nowMs, idsIn(before));
      if (deed.args) both(deed.args);
      else {
        const after = deed.hand!(before);
        for (const { ledger } of shops) writeFileSync(ledger, after);
      }
      const look = LOOKS[Math.floor(draw(LOOKS.length))]!;
      const clock = draw(6) < 1 ? nowMs - draw(300) * HOUR_MS : nowMs + draw(3) * HOUR_MS;
      const { code } = both([...look, '--as-of', timeOf(clock)]);
      if (code === 65) for (const one of shops) withoutTrouble(one, before);
    }
    const [short, never] = shops.map(({ folder }) => marksIn(folder));
    expect(short).toBeGreaterThan(8);
    expect(never).toBe(0);
  }, 240_000);
});

describe('an event added behind a checkpoint', () => {
  it('is seen at once', () => {
    const text = HEAD + firstLines();
    const one = shop(true, text);
    const clock = ['--as-of', timeOf(START_MS + EVENTS * 2 * HOUR_MS)];
    const washes = () =>
      JSON.parse(run(one, 1, ['baths', '--json', ...clock]).out).data.baths[0].washes as number;
    const before = washes();
    appendFileSync(
      one.ledger,
      `  - {id: "more", at: ${timeOf(START_MS + EVENTS * 2 * HOUR_MS - 60_000)}, what: wash, parts: {model: 6}}\n`,
    );
    expect(washes()).toBe(before + 1);
  });
});
