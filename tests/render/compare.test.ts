import { describe, expect, it } from 'vitest';
import type { Habit, Practice, Subject } from '../../src/compare/habits.ts';
import type { Yearly } from '../../src/compare/yearly.ts';
import { type Comparison, compareDocument, compareText } from '../../src/render/compare.ts';
import { painter } from '../../src/render/paint.ts';
import { type Draft, FILLED, PAIR } from '../bath/bench.ts';
import { practiceFrom } from '../compare/bench.ts';

const paint = painter({ choice: 'never', env: {}, stream: { isTTY: false } as NodeJS.WriteStream });
const PRACTICE: Practice = practiceFrom(PAIR, [...FILLED, { what: 'wash', parts: { model: 4 } } as Draft]);
const YEAR: Yearly = {
  litres: 72.4,
  cost: 536.4,
  costBand: { p05: 480, p95: 610 },
  costPerPart: 0.0731,
  wasteKg: 41.6,
  wasteLitres: 48,
  changes: 21.2,
  washesBetweenChanges: 57,
  overLimitShare: 0.061,
  lastBathWtPctP95: 2.1,
  residueUgPerCm2P95: 1712,
};

function policy(
  name: string,
  subject: Subject,
  over: Partial<Yearly> = {},
): { habit: Habit; yearly: Yearly } {
  return { habit: { name, subject, practice: PRACTICE }, yearly: { ...YEAR, ...over } };
}

const COMPARISON: Comparison = {
  policies: [
    policy('rotate at 10 / 2 wt%', 'now'),
    policy('rotate at 15 / 3 wt%', 'limit', { litres: 40 }),
    policy('one bath', 'baths', { litres: 180 }),
    policy('drain 12 h', 'draining', { litres: 47.06 }),
    policy('drain 30 min', 'draining', { litres: 61.5 }),
    policy('spin before the first bath', 'rinsing', { litres: 54.3 }),
    policy('stir the baths', 'soaking', { litres: 65.2 }),
    policy('lids open half as long', 'lids', { litres: 70 }),
  ],
  best: { name: 'rotate at 9.5 / 1.9 wt%', practice: { ...PRACTICE, changeAt: 0.95 }, yearly: { ...YEAR, litres: 74.2, cost: 549.1, overLimitShare: 0.04 }, bounded: false }, // biome-ignore format: one line
  weak: null,
  risk: 0.05,
  draws: 200,
  seed: 1,
  stopped: false,
  prices: { perLitre: 7.4, disposalPerLitre: 0, perChange: 0 },
  pace: { loads: [0, 5, 5, 5, 5, 3.3, 0], today: 2, dayScatter: 0, basisDays: 20, perWeek: 23.3 },
  loads: 20,
  currency: 'CAD',
};

const textOf = (over: Partial<Comparison> = {}, width = 120, onTerminal = true) =>
  compareText({ ...COMPARISON, ...over }, { paint, width, onTerminal, title: 'Cove Street Bench' });
/** Without the breaks that the width brings. */
const flat = (text: string) => text.replaceAll(/\s+/g, ' ');
const rowOf = (text: string, name: string) =>
  text
    .split('\n')
    .find((line) => line.includes(name))!
    .split(/\s{2,}/)
    .filter(Boolean);

describe('the table', () => {
  it('has the figures of each habit, the shop itself first', async () => {
    const text = await textOf();
    expect(rowOf(text, 'now: ')).toEqual(['72', '536', '0.073', '42', '21', '6.1 %', '2.1', '1700', 'now: rotate at 10 / 2 wt%']); // biome-ignore format: one row
    expect(rowOf(text, 'one bath')[0]).toBe('180');
  });

  it.each([60, 71, 72, 79, 80, 87, 88, 120, 200])('fits in %d columns', async (width) => {
    const text = await textOf({}, width);
    for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(width);
    const head = text.split('\n').slice(2, 4).join('\n');
    for (const word of ['litres', 'CAD', 'changes', 'past', 'clean']) expect(head).toContain(word);
    expect(head.includes('waste')).toBe(width >= 72);
    expect(head.includes('on parts')).toBe(width >= 80);
    expect(head.includes('a part')).toBe(width >= 88);
  });

  it('writes figures that can be told apart and no more digits than they are worth', async () => {
    const cells = async (yearly: Partial<Yearly>) =>
      rowOf(await textOf({ policies: [policy('x', 'now', yearly)] }), 'now: x');
    expect((await cells({ changes: 0.02 }))[4]).toBe('0.0');
    expect((await cells({ changes: 9.71 }))[4]).toBe('9.7');
    expect((await cells({ changes: 9.96 }))[4]).toBe('10');
    expect((await cells({ overLimitShare: 0 }))[5]).toBe('0.0 %');
    expect((await cells({ overLimitShare: 0.0004 }))[5]).toBe('< 0.1 %');
    expect((await cells({ overLimitShare: 1 }))[5]).toBe('100.0 %');
    expect((await cells({ lastBathWtPctP95: 0.0512 }))[6]).toBe('0.051');
    expect((await cells({ lastBathWtPctP95: 12.34 }))[6]).toBe('12');
    expect((await cells({ residueUgPerCm2P95: 0 }))[7]).toBe('0.0');
  });

  it('leaves a cell empty where there is no number', async () => {
    const policies = [policy('x', 'now', { cost: null, costPerPart: null, residueUgPerCm2P95: Number.NaN })];
    const text = await textOf({ policies, best: null });
    expect(text).not.toMatch(/NaN|null|undefined/);
    const [head, record] = (await textOf({ policies, best: null }, 80, false))
      .split('\n')
      .filter((line) => line.includes('\t'))
      .map((line) => line.split('\t'));
    expect(record).toEqual(['72', '', '', '42', '21', '6.1 %', '2.1', '', 'now: x']);
    expect(head!.at(-1)).toBe('habit');
  });

  it('off a terminal has every column, whatever the width', async () => {
    const [narrow, wide] = await Promise.all([textOf({}, 60, false), textOf({}, 200, false)]);
    const records = (text: string) => text.split('\n').filter((line) => line.includes('\t'));
    expect(records(narrow)).toEqual(records(wide));
    for (const line of records(narrow)) expect(line.split('\t')).toHaveLength(9);
  });

  it('names the cost where the ledger names no currency', async () => {
    const text = await textOf({ currency: '' });
    expect(text).toMatch(/^litres +cost +cost/m);
    expect(flat(text)).toContain('74 L and 549 a year');
    expect(flat(text)).toContain('solvent at 7.4');
  });
});

describe('the sentences', () => {
  it('name the best limit, what it costs and its risk', async () => {
    expect(flat(await textOf())).toContain(
      'no more than 5 % of loads washed past a limit: rotate at 9.5 / 1.9 wt%, 74 L and CAD 549 a year, 4.0 % of loads.',
    );
    expect(flat(await textOf({ best: null, risk: 0.001 }))).toContain(
      'No change limit keeps to no more than 0.1 % of loads washed past a limit.',
    );
  });

  it('name the three that save most, none of them a limit, none that saves less than 5 %', async () => {
    // By hand of 72.4: 47.06 is 35 % less, 54.3 25, 61.5 15.1, 65.2 9.9, 70 3.3; the higher limit saves at another cleanliness.
    expect(flat(await textOf())).toContain(
      'drain 12 h (35 % less), spin before the first bath (25 % less), drain 30 min (15 % less).',
    );
    const policies = [policy('x', 'now'), policy('lids open half as long', 'lids', { litres: 70 })];
    expect(await textOf({ policies })).not.toContain('less)');
  });

  it('of a run that was stopped say after how many worlds, and name no best limit', async () => {
    const text = flat(await textOf({ stopped: true, draws: 8, best: null }));
    expect(text).toContain(
      'Stopped after 8 drawn worlds; the best change limit was not looked for to the end.',
    );
    expect(text).not.toMatch(/Cheapest|No change limit/);
    expect(flat(await textOf({ stopped: true, draws: 1, best: null }))).toContain('after 1 drawn world;');
  });

  it('say what is and is not in the cost', async () => {
    const text = flat(await textOf());
    expect(text).toContain('solvent at CAD 7.4');
    expect(text).toMatch(/--disposal.*--per-change/);
    const paid = flat(await textOf({ prices: { perLitre: 7.4, disposalPerLitre: 3, perChange: 12 } }));
    expect(paid).toContain('waste at CAD 3 per L');
    expect(paid).toContain('a change at CAD 12');
    expect(paid).not.toContain('--');
  });

  it('without a price of solvent speak of solvent, say how to give one, and have no column of money', async () => {
    const unpriced = <T extends { yearly: object }>(one: T): T => ({
      ...one,
      yearly: { ...one.yearly, cost: null, costBand: null, costPerPart: null },
    });
    const bare = {
      prices: { disposalPerLitre: 3, perChange: 12 },
      policies: COMPARISON.policies.map(unpriced),
      best: unpriced(COMPARISON.best!),
    };
    const text = flat(await textOf(bare, 200, true));
    expect(text).toContain('Least solvent with no more than');
    expect(text).toContain('bathbook stock received ipa99 10 L --price 74');
    expect(text).not.toMatch(/CAD|Cheapest|Cost:/);
    // For a program the columns are always the same.
    expect(await textOf(bare, 120, false)).toContain('litres a year\tCAD a year\tCAD a part\t');
  });

  it('say when a higher limit would come to what the ledger says never', async () => {
    const best = { ...COMPARISON.best!, bounded: true };
    expect(flat(await textOf({ best }))).toContain(
      '4.0 % of loads; any higher would come to what the ledger says never.',
    );
  });

  it('say that a limit on water which fresh solvent has passed is left out', async () => {
    const weak = { waterWtPct: 12.6, limitWtPct: 8 };
    expect(flat(await textOf({ weak }))).toContain('as poured holds 12.6 wt% water, past the limit of 8');
    expect(await textOf()).not.toContain('as poured');
  });

  it('caution only where a habit in the table needs it', async () => {
    expect(flat(await textOf())).toContain('spin only parts wet with resin, never with solvent');
    const [now] = COMPARISON.policies;
    expect(await textOf({ policies: [now!] })).not.toContain('Mind:');
  });

  it('name the basis, and never call a part clean or safe', async () => {
    const text = flat(await textOf());
    expect(text).toContain('Loads drawn from the last 20, 23.3 a week, in 200 worlds');
    expect(text).toContain('Limits are those of dirty / clean;');
    expect(text).toContain('none of it says that a part is clean');
    expect(text).toContain('safety data sheets');
    expect(text.replace('none of it says that a part is clean', '')).not.toMatch(
      /\b(safe|parts? (is|are) clean)\b/,
    );
  });
});

describe('the document', () => {
  it('has each habit with its limits in wt%, the best, and the basis', () => {
    const data = compareDocument(COMPARISON) as {
      policies: Record<string, unknown>[];
      best: Record<string, unknown>;
      basis: Record<string, unknown>;
    };
    expect(data.policies).toHaveLength(8);
    expect(data.policies[0]).toEqual({
      name: 'rotate at 10 / 2 wt%',
      subject: 'now',
      change_at: { dirty: 10, clean: 2 },
      litres_per_year: 72.4,
      cost_per_year: 536.4,
      cost_per_year_band: { p05: 480, p95: 610 },
      cost_per_part: 0.0731,
      waste_l_per_year: 48,
      waste_kg_per_year: 41.6,
      changes_per_year: 21.2,
      washes_between_changes: 57,
      over_limit_share: 0.061,
      clean_resin_wt_pct_p95: 2.1,
      residue_ug_per_cm2_p95: 1712,
    });
    expect(data.best.change_at).toEqual({ dirty: 9.5, clean: 1.9 });
    expect(data.basis).toEqual({
      risk: 0.05,
      fresh_water_wt_pct: null,
      draws: 200,
      seed: 1,
      stopped: false,
      loads_per_week: 23.3,
      washes: 20,
      price_per_l: 7.4,
      disposal_per_l: 0,
      price_per_change: 0,
    });
  });

  it('says null where there is no best limit and no price', () => {
    const data = compareDocument({
      ...COMPARISON,
      best: null,
      prices: { disposalPerLitre: 0, perChange: 0 },
    });
    expect(data).toMatchObject({ best: null, basis: { price_per_l: null } });
  });
});
