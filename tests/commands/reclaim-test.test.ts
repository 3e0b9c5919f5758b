/** The peroxide test of reclaimed solvent on hand: in `due`, in the report, in the calendar; and what it cost. */
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, line, SHOP } from './stock-bench.ts';

const main = bundled();

/** 2 L of spent solvent in May, 1.5 L of it reclaimed on a day; then the baths are filled in October. */
const reclaimed = (day: string, ...more: string[]) => [
  line('fillm', '2026-05-04T08:00', 'fill, bath: dirty, solvent: ipa99, ml: 2000'),
  line('drnm1', '2026-05-05T08:00', 'drain, bath: dirty, all: true, into: "can-1"'),
  line('rcl01', `${day}T10:00`, 'reclaim, container: "can-1", ml: 1500, method: settled, solvent: again'),
  ...FILLS,
  ...more,
];
/** The bench looks at 2026-11-20 17:00. Six months after May 22 is November 22. */
const SOON = reclaimed('2026-05-22');
const PAST = reclaimed('2026-05-10');
const poured = (ml: number) =>
  line('topd1', '2026-11-19T09:00', `top-up, bath: dirty, solvent: again, ml: ${ml}`);

const tests = (lines: readonly string[], ...args: string[]) =>
  benchOf(main, lines)
    .data('due', ...args)
    .due.filter(({ what }: { what: string }) => what === 'test');

describe('due', () => {
  it('tells of the test within the days asked for, with the day and how sure it is', () => {
    expect(tests(SOON)).toMatchObject([
      { item: 'again', bath: null, because: null, severity: 'soon', since: null, key: 'test again soon' },
    ]);
    // From Friday 17:00 to Sunday 0:00.
    expect(tests(SOON)[0].days).toBeCloseTo(31 / 24, 9);
    expect(tests(SOON, '--within', '1d')).toEqual([]);
    expect(tests(SOON, '--within', '2d')).toHaveLength(1);
    const { code, out } = benchOf(main, SOON).say('due', '--stale', '300d');
    expect(code).toBe(1);
    expect(out).toContain(
      'soon: peroxide test of again by Sun 2026-11-22 if some is left then (test strips;',
    );
  });

  it('tells of one that is past with the cautions of reclaim, however few days ahead were asked for', () => {
    expect(tests(PAST, '--within', '1d')).toMatchObject([{ since: '2026-11-10T00:00:00-04:00', days: 0 }]);
    const told = benchOf(main, PAST).told('due');
    expect(told).toContain('peroxide test of again due since Tue 2026-11-10, not to be used untested');
    expect(told).toContain('only after a peroxide test, and never to dryness');
  });

  it('is silent once all of it was poured, and about what is fresh', () => {
    expect(tests(reclaimed('2026-05-10', poured(1499)))).toHaveLength(1);
    expect(tests(reclaimed('2026-05-10', poured(1500)))).toEqual([]);
    const counted = line('cnt01', '2026-11-19T09:00', 'stock, solvent: again, counted_ml: 0');
    expect(tests(reclaimed('2026-05-10', counted))).toEqual([]);
    const fresh = line('recv1', '2026-05-10T09:00', 'stock, solvent: ipa99, received_ml: 20000');
    expect(tests([fresh, ...FILLS])).toEqual([]);
  });
});

describe('a count with a test', () => {
  const note = 'peroxide test: none found';
  const count = (day: string, more = `, note: "${note}"`, ml = 1400) =>
    line('cnt01', `${day}T09:00`, `stock, solvent: again, counted_ml: ${ml}${more}`);

  it('has done with the reminder, and the next is six months on', () => {
    expect(tests(reclaimed('2026-05-10', count('2026-11-18')))).toEqual([]);
    // Six months after November 18.
    const item = benchOf(main, reclaimed('2026-05-10', count('2026-11-18')))
      .data('stock')
      .stock.find(({ solvent }: { solvent: string }) => solvent === 'again');
    expect(item.peroxide_test_by).toMatch(/^2027-05-18T00:00/);
    // A test of May runs out in November.
    expect(tests(reclaimed('2026-02-10', count('2026-05-12')))).toMatchObject([
      { since: '2026-11-12T00:00:00-04:00' },
    ]);
  });

  it('is one by its note alone: never a count by itself, other words, or a count of nothing', () => {
    for (const more of [
      '',
      ', note: "tested"',
      ', note: "no peroxide test yet"',
      `, supplier_note: "${note}"`,
    ])
      expect(tests(reclaimed('2026-05-10', count('2026-11-18', more)))).toHaveLength(1);
    expect(tests(reclaimed('2026-05-10', count('2026-11-18', `, note: "${note}; NB, strip 3"`)))).toEqual([]);
  });

  it('tells nothing of another solvent, nor of what was reclaimed after it', () => {
    const other = line(
      'cnt02',
      '2026-11-18T09:00',
      `stock, solvent: ipa99, counted_ml: 900, note: "${note}"`,
    );
    expect(tests(reclaimed('2026-05-10', other))).toHaveLength(1);
    const before = line('cnt03', '2026-05-09T09:00', `stock, solvent: again, counted_ml: 1, note: "${note}"`);
    expect(tests([before, ...reclaimed('2026-05-10')])).toHaveLength(1);
  });

  it('is logged by --tested, as due says, and taken back by undo', () => {
    const bench = benchOf(main, PAST);
    expect(bench.told('due')).toContain('once done: bathbook stock counted again AMOUNT --tested');
    const told = bench.told('stock', 'counted', 'again', '1.4', 'L', '--tested', '--note', 'strip of lot 7');
    expect(told).toContain('next test by 2027-05-20 if some is left then');
    expect(bench.text()).toContain(`note: "${note}; strip of lot 7"`);
    expect(bench.told('due')).not.toContain('peroxide');
    bench.say('undo');
    expect(bench.told('due')).toContain('peroxide test of again due since');
  });

  it('goes with a count alone', () => {
    for (const words of [
      ['stock', '--tested'],
      ['stock', 'received', 'again', '1', 'L', '--tested'],
    ])
      expect(benchOf(main, PAST).say(...words)).toMatchObject({ code: 64, out: '' });
  });
});

describe('the report', () => {
  it('has it among what is due', () => {
    const { due } = benchOf(main, PAST).data('report');
    expect(due.map(({ key }: { key: string }) => key)).toContain('test again soon');
    expect(benchOf(main, PAST).told('report')).toContain('peroxide test of again due since Tue 2026-11-10');
  });
});

describe('export ics', () => {
  const events = (lines: readonly string[]) =>
    new ICAL.Component(ICAL.parse(benchOf(main, lines).say('export', 'ics').out))
      .getAllSubcomponents('vevent')
      .map((one) => new ICAL.Event(one))
      .filter(({ summary }) => summary.includes('eroxide'));

  it('holds the day, all day long, with an identifier that stays', () => {
    const [event, ...others] = events(SOON);
    expect(others).toEqual([]);
    expect(event!.summary).toBe('Peroxide test of again');
    expect(event!.startDate.isDate).toBe(true);
    expect(event!.startDate.toString()).toBe('2026-11-22');
    expect(event!.uid).toBe('cove-street-bench-test-again@bathbook');
    expect(event!.description).toContain('never to dryness');
    // Past, it is due today; the same entry of a calendar.
    const [past] = events(PAST);
    expect(past!.startDate.toString()).toBe('2026-11-20');
    expect(past!.uid).toBe(event!.uid);
  });

  it('holds none where nothing was reclaimed', () => {
    expect(events(FILLS)).toEqual([]);
  });
});

describe('the cost in the report', () => {
  const priced = line('recv1', '2026-10-01T09:00', 'stock, solvent: ipa99, received_ml: 20000, price: 148');
  const lines = [priced, ...reclaimed('2026-05-22', poured(300))];
  const used = (head = SHOP) =>
    benchOf(main, lines, head).data('report', '--from', '2026-10-20').solvent_used;

  it('leaves out what was reclaimed, in words, and counts what was bought', () => {
    // Two fills of 4 L at 148/20 a litre.
    expect(used()).toMatchObject([
      { solvent: 'ipa99', ml: 8000, paid_before: false },
      { solvent: 'again', ml: 300, money: null, paid_before: true },
    ]);
    expect(used()[0].money).toBeCloseTo(8 * 7.4, 9);
    const told = benchOf(main, lines).told('report', '--from', '2026-10-20');
    expect(told).toContain('0.30 L of again, reclaimed: paid for when it was first poured');
    expect(told).not.toContain('no price known');
  });

  it('counts it where the head gives it a price, as stock does', () => {
    const head = SHOP.replace('again: {ipa_wt_pct: 99.5}', 'again: {ipa_wt_pct: 99.5, price_per_l: 2}');
    expect(used(head)[1]).toMatchObject({ money: 0.6, paid_before: false });
  });
});

describe('the solvent to order', () => {
  it('is one that is bought, though reclaimed solvent was poured last', () => {
    const washes = [...Array(12).keys()].map((nth) =>
      line(`wash${nth}`, `2026-11-${nth + 6}T10:00`.replace(/-(\d)T/, '-0$1T'), 'wash, parts: {model: 12}'),
    );
    const { stock } = benchOf(main, reclaimed('2026-05-22', ...washes, poured(300))).data('outlook');
    expect(stock.solvent).toBe('ipa99');
  });
});
