/** `stock` as a person or a program runs it: sums that can be done by hand. */
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, line } from './stock-bench.ts';

const main = bundled();
const RECEIVED = line(
  'recv1',
  '2026-10-29T09:00',
  'stock, solvent: ipa99, received_ml: 20000, lot: "K-2291", price: 148',
);
const WASHES = [
  line('wash1', '2026-11-02T09:00', 'wash, parts: {model: 6}'),
  line('wash2', '2026-11-03T09:00', 'wash, parts: {model: 2, mask: 2}'),
];

describe('the table', () => {
  const bench = benchOf(main, [
    RECEIVED,
    ...FILLS,
    ...WASHES,
    line('recv2', '2026-11-10T09:00', 'stock, solvent: ipa99, received_ml: 5000, lot: "K-2400", price: 40'),
    line('topup', '2026-11-11T09:00', 'top-up, bath: clean, solvent: ipa91, ml: 250'),
  ]);

  it('adds up: 20 + 5 − 8 L, at the price of the last receipt, 40 for 5 L', () => {
    const { stock, currency } = bench.data('stock');
    expect(currency).toBe('CAD');
    expect(stock[0]).toMatchObject({
      solvent: 'ipa99',
      received_ml: 25_000,
      used_ml: 8000,
      on_hand_ml: 17_000,
      price_per_l: 8,
      price_from: 'received',
      lots: [
        { lot: 'K-2291', received_ml: 20_000, price_per_l: 7.4 },
        { lot: 'K-2400', received_ml: 5000, price_per_l: 8 },
      ],
    });
    expect(stock[1]).toMatchObject({ solvent: 'ipa91', on_hand_ml: null, used_ml: 250, price_per_l: null });
  });

  it('lasts what is on hand over what was poured a day since the ledger began, 22 days and 8 hours ago', () => {
    // From 29 October 09:00 to 20 November 17:00; 8 L in that time.
    const days = 22 + 8 / 24;
    const { stock } = bench.data('stock');
    expect(stock[0].lasts_days).toBeCloseTo((17 / 8) * days, 2);
    expect(bench.told('stock')).toContain(
      'ipa99: about 47 days at the pace of the 22 days of the ledger (8.00 L poured)',
    );
  });

  it('has no cost while a solvent has no price, and says which', () => {
    const { cost } = bench.data('stock');
    expect(cost.all).toMatchObject({ money: null, unpriced: ['ipa91'], per_wash: null, per_part: null });
    expect(bench.told('stock')).toContain('no price known of ipa91');
  });

  it('is tab-separated off a terminal, a record a line', () => {
    const lines = bench.say('stock').out.split('\n');
    const head = lines.findIndex((one) => one.startsWith('solvent\t'));
    expect(lines[head]!.split('\t')).toEqual([
      'solvent',
      'lot',
      'received',
      'used',
      'on hand',
      'a litre',
      'came in',
    ]);
    expect(lines.slice(head + 1, head + 5).map((one) => one.split('\t').length)).toEqual([7, 7, 7, 7]);
    expect(lines[head + 3]!.split('\t')).toEqual([
      'ipa99',
      'K-2400',
      '5.00 L',
      '',
      '',
      '8.00 CAD',
      '2026-11-10',
    ]);
  });
});

describe('the cost', () => {
  it('is the money for what was poured over washes and parts', () => {
    const { cost } = benchOf(main, [RECEIVED, ...FILLS, ...WASHES]).data('stock');
    // 8 L at 148/20 = 7.40 a litre: 59.20 over 2 washes and 10 parts.
    expect(cost.all).toMatchObject({ washes: 2, parts: 10, uncounted_washes: 0 });
    expect(cost.all.money).toBeCloseTo(59.2, 9);
    expect(cost.all.per_wash).toBeCloseTo(29.6, 9);
    expect(cost.all.per_part).toBeCloseTo(5.92, 9);
  });
});

describe('a delivery', () => {
  it('is logged as it was typed, told with the new stock, and undone without a trace', () => {
    const bench = benchOf(main, [RECEIVED, ...FILLS]);
    const before = bench.text();
    const { code, out } = bench.say(
      ...['stock', 'received', 'IPA99', '2.5', 'gal', '--lot', '0811', '--price', '7.50/L', '--by', 'NB'],
    );
    expect(code).toBe(0);
    // 2.5 US gal = 9463.52946 mL (NIST SP 811), at 7.50 a litre 70.9765.
    expect(bench.text().slice(before.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: 2026-11-20T17:00:00-04:00, what: stock, solvent: ipa99, received_ml: 9463\.5295, lot: "0811", price: 70\.9765, by: "NB"\}\n$/,
    );
    const flat = out.replaceAll(/\s+/g, ' ');
    expect(flat).toContain('received 9.46 L of ipa99, lot 0811, 70.98 CAD in all, 7.50 CAD a litre');
    expect(flat).toContain('on hand 21.46 L of ipa99');
    expect(bench.say('undo').code).toBe(0);
    expect(bench.text()).toBe(before);
  });

  it('writes nothing on a dry run, and gives its document', () => {
    const bench = benchOf(main, FILLS);
    const before = bench.text();
    const data = bench.data('stock', 'received', 'ipa99', '10 L', '--price', '74 CAD', '--dry-run');
    expect(data).toMatchObject({ dry_run: true, event: { price: 74, received_ml: 10_000 } });
    expect(data.stock).toMatchObject({ on_hand_ml: 10_000, price_per_l: 7.4, used_ml: 8000 });
    expect(bench.text()).toBe(before);
  });

  it('logged twice with one lot is noted, and so is what is missing or looks like a slip', () => {
    const bench = benchOf(main, [RECEIVED, ...FILLS]);
    const twice = bench.say('stock', 'received', 'ipa99', '20 L', '--lot', 'K-2291', '--dry-run').err;
    expect(twice).toContain('As much of lot K-2291 was received on 2026-10-29 10:00 (recv1)');
    expect(twice).toContain('No --price');
    const little = bench.say('stock', 'received', 'ipa99', '10', '--dry-run').err;
    expect(little).toContain('10 mL is little for a delivery; a bare number is mL');
    expect(little).toContain('No --lot');
  });
});

describe('a count', () => {
  const bench = benchOf(main, [RECEIVED, ...FILLS]);

  it('is held against what was expected, 20 − 8 L, and sets what is on hand', () => {
    const told = bench.told('stock', 'counted', 'ipa99', '11.5 L', '--dry-run');
    expect(told).toContain('counted 11.50 L of ipa99');
    expect(told).toContain('on hand 11.50 L of ipa99');
    expect(told).toContain('expected 12.00 L: 0.50 L less was counted');
  });

  it.each([[['0']], [['0 L']], [['0', 'L']], [['none']]])('takes nothing left, as %j', (words) => {
    expect(bench.data('stock', 'counted', 'ipa99', ...words, '--dry-run').event.counted_ml).toBe(0);
  });
});

describe('what was poured beyond what came in', () => {
  it('is flagged, in the table and by words, and not hidden', () => {
    const bench = benchOf(main, [
      line('recv1', '2026-10-29T09:00', 'stock, solvent: ipa99, received_ml: 5000'),
      ...FILLS,
    ]);
    expect(bench.data('stock').stock[0]).toMatchObject({
      on_hand_ml: -3000,
      below_zero: true,
      lasts_days: null,
    });
    const told = bench.told('stock');
    expect(told).toContain('-3.00 L');
    expect(told).toContain('3.00 L more was poured than the ledger knows of; log the receipt or a count');
  });
});
