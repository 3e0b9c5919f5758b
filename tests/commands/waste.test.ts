/** `waste` as a person or a program runs it: contents by hand, the month, the thresholds as the table prints them. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, IPA99_G_ML, line } from './stock-bench.ts';

const main = bundled();
const OPENED = line('open1', '2026-10-30T07:30', 'waste, container: "can-1", action: opened, capacity_l: 10');
/** Unused solvent, so that its mass is known: half a litre in October, one and a half in November. */
const DRAINS = [
  line('drn01', '2026-10-30T09:00', 'drain, bath: dirty, ml: 500, into: "can-1"'),
  line('drn02', '2026-11-05T09:00', 'drain, bath: clean, ml: 1500, into: "can-1"'),
];

describe('the list', () => {
  const bench = benchOf(main, [OPENED, ...FILLS, ...DRAINS]);

  it('has what was drained: 2 L of fresh solvent, of it 99.5 wt% IPA, 20 % of the container', () => {
    const { containers, month, site_kg: siteKg } = bench.data('waste');
    expect(containers).toHaveLength(1);
    expect(containers[0]).toMatchObject({ container: 'can-1', capacity_ml: 10_000, closed: null });
    expect(containers[0].holds_ml).toBeCloseTo(2000, 6);
    expect(containers[0].full_share).toBeCloseTo(0.2, 9);
    expect(containers[0].holds_g.ipa).toBeCloseTo(0.995 * 2000 * IPA99_G_ML, 3);
    expect(containers[0].holds_g.water).toBeCloseTo(0.005 * 2000 * IPA99_G_ML, 3);
    expect(containers[0].holds_g.resin).toBe(0);
    // From 30 October 07:30 to 20 November 17:00, both at −04:00.
    expect(containers[0].age_days).toBeCloseTo(21 + 9.5 / 24, 6);
    expect(month.start).toBe('2026-11-01T00:00:00-03:00');
    expect(month.litres).toBeCloseTo(1.5, 9);
    expect(month.kg).toBeCloseTo(1.5 * IPA99_G_ML, 6);
    expect(siteKg).toBeCloseTo(2 * IPA99_G_ML, 6);
  });

  it('holds the month against every upper limit of the table, with its citation, and says who decides', () => {
    const { thresholds } = bench.data('waste');
    const table = readFileSync('data/limits.csv', 'utf8');
    expect(thresholds).toHaveLength(9);
    for (const { citation, item, past } of thresholds) {
      expect(table).toContain(citation);
      expect(table).toContain(item);
      expect(past).toBe(false);
    }
    const told = bench.told('waste');
    expect(told).toContain('up to 100 kg US-EPA VSQG, 40 CFR 262.13');
    // 220 lb, 0.45359237 kg each (NIST SP 811).
    expect(told).toContain('under 99.8 kg US-Washington');
    expect(told).toContain('local rules decide, ask your local authority');
    expect(told).toContain('never left to evaporate');
  });

  it('says when there is nothing, and when liquid went nowhere that is named', () => {
    expect(benchOf(main, FILLS).told('waste')).toContain('No waste this month and no container in use');
    const nowhere = benchOf(main, [
      ...FILLS,
      line('drn01', '2026-11-05T09:00', 'drain, bath: clean, ml: 250'),
    ]);
    expect(nowhere.told('waste')).toContain('0.25 L was drained without saying where to');
    expect(nowhere.data('waste').containers[0].container).toBeNull();
  });

  it('names what is past a limit: 101 kg in one month, and a container of 91 days', () => {
    const bath =
      'baths:\n  big: {mark_ml: 140000, length_mm: 1000, width_mm: 500, freeboard_mm: 50, evaporation: 0, moisture: 0}\n';
    const head = `format: bathbook/1\nshop: {name: Vat, timezone: America/Halifax}\n${bath}events:\n`;
    const litres = Math.ceil(101 / IPA99_G_ML);
    const vat = benchOf(
      main,
      [
        line('open1', '2026-08-20T07:30', 'waste, container: "drum", action: opened, capacity_l: 200'),
        line('fill1', '2026-11-05T08:00', `fill, bath: big, solvent: ipa99, ml: ${litres * 1000}`),
        line('drain', '2026-11-05T09:00', 'drain, bath: big, all: true, into: "drum"'),
      ],
      head,
    );
    const { thresholds } = vat.data('waste');
    const past = thresholds.filter((one: { past: boolean }) => one.past);
    expect(
      past.map(({ jurisdiction, generator, what }: Record<string, string>) => [
        jurisdiction,
        generator,
        what,
      ]),
    ).toEqual([
      ['US-EPA', 'VSQG', 'month-kg'],
      ['US-EPA', 'LQG', 'age-days'],
      ['US-Washington', null, 'month-kg'],
    ]);
    expect(vat.told('waste')).toContain('PAST: up to 100 kg');
  });
});

describe('a container', () => {
  it('is opened, emptied in part, collected, and its line undone', () => {
    const bench = benchOf(main, [OPENED, ...FILLS, ...DRAINS]);
    const before = bench.text();
    expect(bench.told('waste', 'opened', 'can-2', '10 L', '--by', 'NB')).toContain(
      'container can-2: empty, takes 10 L',
    );
    expect(bench.text().slice(before.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: 2026-11-20T17:00:00-04:00, what: waste, container: "can-2", action: opened, capacity_l: 10, by: "NB"\}\n$/,
    );
    bench.say('undo');
    expect(bench.text()).toBe(before);
    // 0.5 of 2 L leaves 1.5.
    const some = bench.data('waste', 'emptied', 'can-1', '500', 'mL');
    expect(some.event).toMatchObject({ action: 'emptied', ml: 500 });
    expect(some.container.holds_ml).toBeCloseTo(1500, 6);
    expect(some.container.closed).toBeNull();
    const all = bench.data('waste', 'collected', 'can-1');
    expect(all.container).toMatchObject({ closed: 'collected', holds_ml: 0 });
    expect(all.container.taken_ml).toBeCloseTo(2000, 6);
    expect(bench.say('waste', 'collected', 'can-1', '--dry-run').err).toContain(
      'was collected before, and nothing went in since',
    );
  });

  it('is noted when it is in use already, or gives more than went in', () => {
    const bench = benchOf(main, [OPENED, ...FILLS, ...DRAINS]);
    expect(bench.say('waste', 'opened', 'can-1', '10 L', '--dry-run').err).toContain(
      'can-1 is in use already',
    );
    expect(bench.say('waste', 'opened', 'can-3', '10', '--dry-run').err).toContain('10 mL is little');
    const more = bench.say('waste', 'emptied', 'can-1', '3 L', '--dry-run');
    expect(more.code).toBe(0);
    expect(more.err).toContain('can-1 held 2.00 L by the ledger; 1.00 L more was taken out');
  });
});
