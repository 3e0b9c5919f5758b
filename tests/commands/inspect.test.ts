/** `inspect` as a person or a program runs it: which wash, the bath then, the causes, the table. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, runner, tempFolder } from './bundle.ts';
import { benchOf, FILLS, line } from './stock-bench.ts';

const main = bundled();
const WASHES = [
  line('wash1', '2026-11-16T09:00', 'wash, parts: {model: 6}, cases: ["26-0411"]'),
  line(
    'wash2',
    '2026-11-17T09:00',
    'wash, parts: {model: 4, mask: 2}, minutes: [9, 9], cases: ["26-0412", "26-0413"]',
  ),
  line('wash3', '2026-11-18T09:00', 'wash, parts: {hollow-model: 3}, drained_min: 2, cases: ["26-0413"]'),
];
const LINES = [...FILLS, ...WASHES];

describe('the baths of an inspected wash', () => {
  it.each(['p01-given-carry-and-drag', 'p05-default-carry-law'])(
    'are those that another implementation has right after it: %s',
    (name) => {
      const golden = JSON.parse(readFileSync(`tests/golden/${name}.expected.json`, 'utf8'));
      const washes = golden.after.filter(({ what }: { what: string }) => what === 'wash');
      const looks = washes.map(
        ({ id }: { id: string }, nth: number) =>
          `  - {id: "look${nth}", at: ${golden.as_of}, what: inspect, wash: "${id}", result: ok}\n`,
      );
      const path = join(tempFolder(), 'golden.yaml');
      writeFileSync(
        path,
        `${readFileSync(`tests/golden/${name}.yaml`, 'utf8').trimEnd()}\n${looks.join('')}`,
      );
      const { out } = runner(main)(['inspect', '--json', '--ledger', path, '--as-of', golden.as_of]);
      const shown = JSON.parse(out).data.looks;
      expect(shown).toHaveLength(washes.length);
      for (const [nth, { wash }] of shown.entries()) {
        const { clean, wash: outcome } = washes[nth];
        expect(wash.resin_wt_pct.p50 / clean.resin_wt_pct).toBeCloseTo(1, 5);
        expect(wash.water_wt_pct.p50 / clean.water_wt_pct).toBeCloseTo(1, 5);
        expect(wash.residue_ug_per_cm2.p50 / outcome.residue_ug_per_cm2).toBeCloseTo(1, 5);
        expect(wash.resin_wt_pct.p05).toBeLessThanOrEqual(wash.resin_wt_pct.p50);
        expect(wash.resin_wt_pct.p95).toBeGreaterThanOrEqual(wash.resin_wt_pct.p50);
      }
    },
  );
});

describe('a look', () => {
  const bench = benchOf(main, LINES);
  const washOf = (...args: string[]) => bench.data('inspect', 'ok', ...args, '--dry-run').event.wash;

  it('belongs to the last wash, the one with the id, the last one that names the case, or to none', () => {
    expect(washOf()).toBe('wash3');
    expect(washOf('last')).toBe('wash3');
    expect(washOf('wash1')).toBe('wash1');
    expect(washOf('--wash', 'wash2')).toBe('wash2');
    expect(washOf('--case', '26-0412')).toBe('wash2');
    expect(washOf('--wash', 'none')).toBeUndefined();
    expect(washOf('--at', '2026-11-17 12:00')).toBe('wash2');
  });

  it('of a case that was washed twice takes the last wash, and says so', () => {
    const { out, err } = bench.say('inspect', 'ok', '--case', '26-0413', '--dry-run');
    expect(out).toContain('wash3');
    expect(err).toContain('Case 26-0413 was washed before as well (wash2 of 2026-11-17 09:00)');
  });

  it('is logged with its parts and its case, shown in the list of entries, and undone without a trace', () => {
    const own = benchOf(main, LINES);
    const before = own.text();
    expect(own.say('inspect', 'cloudy', '--case', '26-0412', '--parts', '2 masks', '--by', 'NB').code).toBe(
      0,
    );
    expect(own.text().slice(before.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: 2026-11-20T17:00:00-04:00, what: inspect, wash: "wash2", result: cloudy, parts: \{mask: 2\}, cases: \["26-0412"\], by: "NB"\}\n$/,
    );
    expect(own.say('entries', '--what', 'inspect').out).toContain('cloudy, 2 mask, wash wash2, case 26-0412');
    own.say('undo');
    expect(own.text()).toBe(before);
  });

  it('that failed has its causes ranked, each with what to do and on what it rests', () => {
    const { causes, wash } = bench.data('inspect', 'cloudy', 'wash2', '--dry-run');
    // 18 min with a mask is past 15; drying is never logged; still baths leave more than 4 % undissolved (e^(−18/6) = 5 %).
    expect(causes.map(({ cause, weight }: { cause: string; weight: number }) => [cause, weight])).toEqual([
      ['long-soak', 2],
      ['drying', 1],
      ['undissolved', 1],
    ]);
    expect(wash.undissolved_share).toBeCloseTo(Math.exp(-18 / 6), 9);
    const sources = readFileSync('data/SOURCES.md', 'utf8');
    for (const { basis } of causes)
      for (const source of basis.split(', ').filter((one: string) => /^[A-Z]/.test(one)))
        expect(sources).toContain(`**${source}**`);
    const told = bench.told('inspect', 'sticky', '--dry-run');
    expect(told).toContain('hollow parts');
    expect(told).toContain('short draining: 2 min');
    expect(told).toContain('rewash in fresh solvent before light-curing');
    expect(told).toContain('instructions for use');
  });

  it('is never said to show a part safe or clean', () => {
    const told = ['ok', 'sticky', 'cloudy', 'soft', 'cracked', 'residue']
      .map((one) => bench.told('inspect', one, '--dry-run'))
      .join(' ');
    expect(told.replaceAll(/more light does not cure an unclean film|clean(?: bath|:)/g, '')).not.toMatch(
      /\b(?:safe|clean|cured clean|fit)\b/i,
    );
  });
});

describe('the list', () => {
  it('is empty at first, and says what is missing for the shop’s own level', () => {
    expect(benchOf(main, LINES).told('inspect')).toContain('No look was logged yet');
    const two = benchOf(main, [
      ...LINES,
      line('look1', '2026-11-16T12:00', 'inspect, wash: "wash1", result: ok'),
      line('look2', '2026-11-18T12:00', 'inspect, result: sticky'),
    ]);
    const { missing, half_fail_at_wt_pct: level, trials, looks } = two.data('inspect');
    expect(missing).toEqual({ trials: 7, failed: 2, passed: 1 });
    expect(level).toBeNull();
    expect(trials).toEqual({ failed: 0, all: 1 });
    expect(looks.map(({ wash }: { wash: object | null }) => wash === null)).toEqual([false, true]);
    expect(two.told('inspect')).toContain('it takes 7 more, at least 2 failed and 1 ok');
    expect(two.data('inspect', '--last', '1').looks).toHaveLength(1);
  });

  it('has the level with its band once there are enough, between what passed and what failed', () => {
    const carry = (nth: number) => (nth < 6 ? 4 : 60);
    const washes = Array.from({ length: 10 }, (_, nth) => [
      line(
        `wash${nth}`,
        `2026-11-${String(nth + 2).padStart(2, '0')}T09:00`,
        `wash, parts: {model: 4}, carry_g: ${carry(nth)}`,
      ),
      line(
        `look${nth}`,
        `2026-11-${String(nth + 2).padStart(2, '0')}T12:00`,
        `inspect, wash: "wash${nth}", result: ${nth < 6 ? 'ok' : 'sticky'}`,
      ),
    ]).flat();
    const shop = benchOf(main, [...FILLS, ...washes]);
    const { looks, half_fail_at_wt_pct: level, missing, trials } = shop.data('inspect');
    expect(trials).toEqual({ failed: 4, all: 10 });
    expect(missing).toBeNull();
    const resin = looks.map(({ wash }: { wash: { resin_wt_pct: { p50: number } } }) => wash.resin_wt_pct.p50);
    expect(level.p50).toBeGreaterThan(resin[5]);
    expect(level.p50).toBeLessThan(resin[9]);
    expect(level.p05).toBeLessThan(level.p50);
    expect(level.p95).toBeGreaterThan(level.p50);
    const told = shop.told('inspect');
    expect(told).toContain('half of the loads fail at about');
    expect(told).toContain('Nothing here says that a part is clean');
  });
});
