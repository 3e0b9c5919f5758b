/** `reclaim` as a person or a program runs it: yield and cost by hand, where it may go, what it warns of. */
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, IPA99_G_ML, line, SHOP } from './stock-bench.ts';

const main = bundled();
const LINES = [
  line('recv1', '2026-10-29T09:00', 'stock, solvent: ipa99, received_ml: 20000, lot: "K-2291", price: 148'),
  line('open1', '2026-10-30T07:30', 'waste, container: "can-1", action: opened, capacity_l: 10'),
  ...FILLS,
  line('drn01', '2026-11-05T09:00', 'drain, bath: dirty, ml: 2000, into: "can-1"'),
];
const CAN = ['reclaim', 'can-1', '1.5 L', '--method', 'settled', '--as', 'again'];

describe('reclaimed solvent', () => {
  it('is logged, adds to its own stock, leaves the rest in the can, and is undone without a trace', () => {
    const bench = benchOf(main, LINES);
    const before = bench.text();
    const { code } = bench.say(...CAN, '--by', 'NB', '--note', 'two weeks in the dark');
    expect(code).toBe(0);
    expect(bench.text().slice(before.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: 2026-11-20T17:00:00-04:00, what: reclaim, container: "can-1", ml: 1500, method: settled, solvent: again, by: "NB", note: "two weeks in the dark"\}\n$/,
    );
    const { stock } = bench.data('stock');
    expect(stock.find((one: { solvent: string }) => one.solvent === 'again')).toMatchObject({
      reclaimed_ml: 1500,
      on_hand_ml: 1500,
      price_per_l: null,
    });
    // 2 L less 1.5 L.
    expect(bench.data('waste').containers[0].holds_ml).toBeCloseTo(500, 6);
    bench.say('undo');
    expect(bench.text()).toBe(before);
  });

  it('may be why a reading is hard to believe, and is named where it may', () => {
    const reading = ['reading', 'dirty', '--density', '0.82', '--temp', '22'];
    const reclaimed = line(
      'rcl01',
      '2026-11-12T09:00',
      'reclaim, container: "can-1", ml: 1500, method: settled, solvent: again',
    );
    expect(benchOf(main, [...LINES, reclaimed]).say(...reading).err).toContain(
      'Reclaimed solvent brings residue that the ledger does not count',
    );
    expect(benchOf(main, LINES).say(...reading).err).not.toContain('Reclaimed');
    const fits = ['reading', 'dirty', '--density', '0.7855', '--temp', '22'];
    expect(benchOf(main, [...LINES, reclaimed]).say(...fits).err).not.toContain('Reclaimed');
  });

  it('is not counted as taken away when the can is collected: half a litre was, of the two', () => {
    const bench = benchOf(main, [
      ...LINES,
      line(
        'rcl01',
        '2026-11-12T09:00',
        'reclaim, container: "can-1", ml: 1500, method: settled, solvent: again',
      ),
    ]);
    const all = 'with 0.50 L taken away in all, after 1.50 L of it was reclaimed';
    expect(bench.told('waste', 'collected', 'can-1')).toContain(`can-1: collected, ${all}`);
    expect(bench.told('report')).toMatch(new RegExp(`can-1 collected \\S+ 17:00, ${all}`));
    expect(bench.say('waste', '--all').out).toContain('collected 2026-11-20 (0.50 L)');
  });

  it('has its yield, its residue and what it cost at first by hand, and a day for the peroxide test', () => {
    const data = benchOf(main, LINES).data(...CAN, '--dry-run');
    expect(data.yield_share).toBeCloseTo(1.5 / 2, 9);
    // 0.5 wt% of 1.5 L, a guess: rough 90 % are 0.1 to 2.
    expect(data.residue_wt_pct).toEqual({ p05: 0.1, p50: 0.5, p95: 2 });
    expect(data.residue_g).toBeCloseTo(0.005 * 1500 * IPA99_G_ML, 3);
    // 148 for 20 L.
    expect(data.first_cost).toBeCloseTo(1.5 * 7.4, 9);
    expect(data.container_ipa_wt_pct).toBeCloseTo(99.5, 6);
    expect(data.peroxide_test_by).toBe('2027-05-20T00:00:00-03:00');
  });

  it('is told with its cautions, and never as free', () => {
    const told = benchOf(main, LINES).told(
      'reclaim',
      'can-1',
      '1.5 L',
      '--method',
      'distilled',
      '--as',
      'again',
      '--dry-run',
    );
    for (const words of [
      'not free: about 11.10 CAD when it was first poured (7.40 CAD a litre)',
      'for the dirty bath only',
      'never to dryness',
      'only after a peroxide test',
      'no flame, spark, hot plate or sun',
      'is for local rules to say',
      'like --solvent ipa99',
    ])
      expect(told).toContain(words);
    expect(told.replaceAll('not free', '')).not.toMatch(/\b(?:free|saved?|safe)\b/i);
  });

  it('costs nothing more when it is poured again, and what it cost at first stays', () => {
    const washed = line('wash1', '2026-11-02T09:00', 'wash, parts: {model: 4}');
    const again = line('topup', '2026-11-19T09:00', 'top-up, bath: dirty, solvent: again, ml: 1000');
    const back = line(
      'recl1',
      '2026-11-18T09:00',
      'reclaim, container: "can-1", ml: 1500, method: settled, solvent: again',
    );
    const { cost } = benchOf(main, [...LINES, washed, back, again]).data('stock');
    expect(cost.all.money).toBeCloseTo(8 * 7.4, 9);
    expect(cost.all.per_part).toBeCloseTo((8 * 7.4) / 4, 9);
  });

  it('is not what a rotation or refill of the clean bath pours when no solvent is named, and is warned of when it is', () => {
    const bench = benchOf(main, LINES);
    bench.say(...CAN);
    expect(bench.say('top-up', 'dirty', '200 mL', 'again').code).toBe(0);
    for (const move of [['rotate'], ['refill', 'clean'], ['top-up', 'clean', '100 mL']]) {
      expect(bench.say(...move).err).not.toContain('reclaimed');
      expect(bench.text().trimEnd().split('\n').at(-1)).toContain('solvent: ipa99');
      bench.say('undo');
    }
    // The dirty bath may have it, and goes on with what was poured last.
    bench.say('refill', 'dirty');
    expect(bench.text().trimEnd().split('\n').at(-1)).not.toContain('ipa99');
    for (const move of [['rotate'], ['refill', 'clean']])
      expect(bench.say(...move, '--solvent', 'again', '--dry-run').err).toContain('for the dirty bath only');
  });

  it('in the clean bath is noted by every list of the stock, and by the next reclaim', () => {
    const bench = benchOf(main, [
      ...LINES,
      line(
        'recl1',
        '2026-11-18T09:00',
        'reclaim, container: "can-1", ml: 1000, method: settled, solvent: again',
      ),
      line('topup', '2026-11-19T09:00', 'top-up, bath: clean, solvent: again, ml: 300'),
    ]);
    const note = 'again is reclaimed and was poured into the clean bath on 2026-11-19 09:00 (topup)';
    expect(bench.say('stock').err).toContain(note);
    expect(
      bench.say(...['reclaim', 'can-1', '200 mL', '--method', 'settled', '--as', 'again', '--dry-run']).err,
    ).toContain(note);
    const dirty = benchOf(main, [
      ...LINES,
      line(
        'recl1',
        '2026-11-18T09:00',
        'reclaim, container: "can-1", ml: 1000, method: settled, solvent: again',
      ),
      line('topup', '2026-11-19T09:00', 'top-up, bath: dirty, solvent: again, ml: 300'),
    ]);
    expect(dirty.say('stock').err).toBe('');
  });

  it('that is kept for half a year is due for a peroxide test', () => {
    const bench = benchOf(main, [
      line('fild0', '2026-03-02T08:00', 'fill, bath: dirty, solvent: ipa99, ml: 4000'),
      line('drn00', '2026-03-03T08:00', 'drain, bath: dirty, all: true, into: "can-0"'),
      line(
        'recl0',
        '2026-04-07T09:00',
        'reclaim, container: "can-0", ml: 3000, method: settled, solvent: again',
      ),
    ]);
    expect(bench.told('stock')).toContain('peroxide test due since 2026-10-07, not to be used untested');
  });

  it('says when its strength in the ledger is not that of the can, and when the yield is high', () => {
    const weak = benchOf(main, LINES, SHOP.replace('ipa_wt_pct: 99.5', 'ipa_wt_pct: 92'));
    const { out, err } = weak.say(
      'reclaim',
      'can-1',
      '1.95 L',
      '--method',
      'settled',
      '--as',
      'again',
      '--dry-run',
    );
    expect(out.replaceAll(/\s+/g, ' ')).toContain(
      'can-1 held 99.5 wt% by estimate: correct ipa_wt_pct of "again"',
    );
    expect(err).toContain('A yield of 98 % is more than usual (90 %)');
  });
});

describe('what cannot be', () => {
  const bench = benchOf(main, LINES);
  const before = bench.text();
  const how = ['--method', 'settled', '--as', 'again'];

  it.each([
    [['can1', '1 L', ...how], 'no waste container of that name', 'Did you mean "can-1"?'],
    [['can-1', '1 L', '--as', 'again'], 'without --method', '--method settled'],
    [['can-1', '1 L', '--method', 'filtered', '--as', 'again'], '"filtered"', 'settled, distilled'],
    [['can-1', '1 L', '--method', 'settled'], 'without the solvent it becomes', '--as reclaimed'],
    [
      ['can-1', '1 L', '--method', 'settled', '--as', 'old'],
      'no solvent of that name',
      'old: {ipa_wt_pct: 99.5}',
    ],
    [
      ['can-1', '1 L', '--method', 'settled', '--as', 'ipa99'],
      'that is fresh solvent',
      'like --as reclaimed',
    ],
    [['can-1', '30 L', ...how], 'it holds about 2.00 L by the ledger', 'a bare number is mL'],
    [['can-1', '0 L', ...how], 'Cannot reclaim nothing', ''],
    [['can-1', '1 kg', ...how], '(amount)', ''],
  ])('reclaim %j is refused with 64, and nothing is written', (args, message, help) => {
    const { code, err, out } = bench.say('reclaim', ...args);
    expect(code).toBe(64);
    expect(out).toBe('');
    expect(err).toContain(message);
    expect(err).toContain(help);
    expect(bench.text()).toBe(before);
  });
});
