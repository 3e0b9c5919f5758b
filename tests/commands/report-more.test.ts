/** Readings, flags, limits and containers in the report: against `baths`, published cautions and closed forms. */
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());
const reportOn = (lines: readonly string[], head = HEAD, ...args: string[]) => {
  const ledger = ledgerOf(lines, head);
  const given = ['report', '--ledger', ledger, '--as-of', NOW, ...args];
  const ran = run([...given, '--json']);
  return {
    ledger,
    data: JSON.parse(ran.out).data,
    text: run(given).out.replaceAll(/\s+/g, ' '),
  };
};

const AT = '2026-11-20T09:00:00-04:00';
const reading = (id: string, what: string) =>
  `  - {id: "${id}", at: ${AT}, what: reading, bath: dirty, ${what}, by: "NB"}`;

describe('readings', () => {
  it('stand beside what the baths were held to be just before', () => {
    const { ledger, data, text } = reportOn([...LINES, reading('resid', 'resin_wt_pct: 0.1')]);
    const before = JSON.parse(
      run(['baths', '--json', '--ledger', ledger, '--as-of', '2026-11-20T08:59:59-04:00']).out,
    ).data.baths[0].resin_wt_pct;
    expect(data.readings).toHaveLength(1);
    expect(data.readings[0]).toMatchObject({ id: 'resid', bath: 'dirty', value: 0.1, flagged: false });
    // The reading is held against the median of what is known, `baths` tells the best estimate: 1 % apart here.
    expect(data.readings[0].expected.p50 / before.p50).toBeCloseTo(1, 1);
    expect(data.odd.flagged).toEqual([]);
    expect(text).toContain('Fri 09:00 (NB): dirty bath, 0.1 wt% resin: expected');
  });

  it('that cannot be chance are flagged and said to count for less', () => {
    // 15 wt% in a bath that has seen two small loads: dozens of the instrument's 0.2 wt% away.
    const { data, text } = reportOn([...LINES, reading('wild1', 'resin_wt_pct: 15')]);
    expect(data.odd.flagged).toEqual(['wild1']);
    expect(data.readings[0].misfit_sd).toBeGreaterThan(3);
    expect(text).toContain('too far for chance; it counts for less');
  });

  it('of a weighed load name the wash', () => {
    const weighed = `  - {id: "weigh", at: ${AT}, what: weighed, wash: "wash5", wet_g: 103, clean_g: 102, by: "NB"}`;
    const { data, text } = reportOn([...LINES, weighed]);
    expect(data.readings[0]).toMatchObject({ sees: 'carry', wash: 'wash5', bath: null, value: 1 });
    expect(text).toContain('wash wash5, 103 g wet, 102 g clean, 1 g came off: expected');
  });
});

describe('the resin that came in', () => {
  const loads = (count: number) =>
    Array.from(
      { length: count },
      (_, nth) =>
        `  - {id: "load${nth}", at: 2026-11-20T${String(nth + 8).padStart(2, '0')}:00:00-04:00, what: wash, parts: {model: 6}}`,
    );

  it.each([1, 4, 8])('of %i equal loads has the band of the priors in closed form', (count) => {
    const { p05, p50, p95 } = reportOn([...LINES.slice(0, 2), ...loads(count)]).data.washes.resin_in_g;
    // Priors of src/belief/README.md: ln of the carry-over factor 0.45, a wash's own scatter 0.25.
    const sd = Math.sqrt(0.45 ** 2 + 0.25 ** 2 / count);
    expect(Math.log(p95 / p50)).toBeCloseTo(1.645 * sd, 1);
    expect(Math.log(p50 / p05)).toBeCloseTo(1.645 * sd, 1);
    // 6 models of 8.5 × 32^(2/3) cm², 22 mg/cm² over √10 min at 400 mPa·s and 25 °C; the room is 22 °C (src/bath/README.md 2).
    const film = (22 / Math.sqrt(10)) * Math.sqrt(Math.exp(0.08 * 3));
    expect(p50).toBeCloseTo((count * 1.2 * 6 * 8.5 * 32 ** (2 / 3) * film) / 1000, 3);
  });
});

describe('due', () => {
  it('says the same as `due` on the same ledger', () => {
    const limits = HEAD.replace('events:', 'limits:\n  dirty_resin: [0.001, 0.002, 9]\nevents:');
    const { ledger, data } = reportOn(LINES, limits);
    const due = JSON.parse(run(['due', '--json', '--ledger', ledger, '--as-of', NOW]).out).data.due;
    expect(due.length).toBeGreaterThan(0);
    expect(data.due).toEqual(due);
    const baths = JSON.parse(run(['baths', '--json', '--ledger', ledger, '--as-of', NOW]).out).data;
    expect(data.baths).toEqual(baths.baths);
    expect(data.advice.text).toBe(baths.advice.text);
  });
});

describe('the next change', () => {
  it('is that of `outlook`', () => {
    const { ledger, data, text } = reportOn(LINES);
    const outlook = JSON.parse(run(['outlook', '--json', '--ledger', ledger, '--as-of', NOW]).out).data;
    expect(data.outlook).toMatchObject({ days_left: outlook.days_left, date: outlook.date });
    expect(text).toContain(`next change`);
    expect(text).toContain(outlook.date.p50.slice(0, 10));
  });

  it('cannot be told where nothing was washed, and is left out', () => {
    const { data, text } = reportOn(LINES.slice(0, 2));
    expect(data.outlook).toBeNull();
    expect(text).not.toContain('next change');
  });
});

describe('containers', () => {
  const drain = (id: string, hour: string, ml: number, into: string) =>
    `  - {id: "${id}", at: 2026-11-20T${hour}:00-04:00, what: drain, bath: dirty, ml: ${ml}, into: "${into}"}`;
  const waste = (id: string, hour: string, container: string, action: string, more = '') =>
    `  - {id: "${id}", at: 2026-11-20T${hour}:00-04:00, what: waste, container: "${container}", action: ${action}${more}}`;

  it('closed in the period are told with what was taken away; those closed before are not', () => {
    const lines = [
      ...LINES,
      drain('drai1', '09:00', 300, 'can-1'),
      waste('coll1', '10:00', 'can-1', 'collected'),
      drain('drai2', '11:00', 200, 'can-2'),
    ];
    const { data, text } = reportOn(lines);
    expect(data.waste.containers).toHaveLength(2);
    expect(data.waste.containers[0]).toMatchObject({ container: 'can-1', closed: 'collected', held_ml: 0 });
    expect(data.waste.containers[0].taken_ml).toBeCloseTo(300, 6);
    expect(data.waste.containers[1].held_ml).toBeCloseTo(200, 6);
    expect(text).toContain('can-1 collected Fri 10:00, with 0.30 L taken away in all');
    const after = reportOn(lines, HEAD, '--from', '2026-11-20T10:30:00-04:00').data.waste;
    expect(after.containers.map(({ container }: { container: string }) => container)).toEqual(['can-2']);
    // The month keeps what arose, wherever it is now.
    expect(after.litres).toBeCloseTo(0.5, 6);
  });

  it('past a rule say so, each by its own measure', () => {
    // 90 days for large and 180 for small generators, 270 if shipped over 200 miles: 40 CFR 262.16 and 262.17, data/limits.csv.
    const opened =
      '  - {id: "old01", at: 2026-05-01T08:00:00-03:00, what: waste, container: "can-0", action: opened, capacity_l: 5}';
    const { data, text } = reportOn([opened, ...LINES, drain('drai1', '09:00', 300, 'can-0')]);
    const past = data.waste.thresholds
      .filter((one: { past: boolean }) => one.past)
      .map(({ kind, value }: { kind: string; value: number }) => `${kind} ${value}`);
    // From 1 May to 20 November are 203 days.
    expect(past).toEqual(['age-days 180', 'age-days 90']);
    expect(text).toContain('the oldest container, 203 days, is past 90 days (US-EPA LQG), 180 (US-EPA SQG)');
  });

  it('are not there in a shop that never named one: the month is', () => {
    const { data, text } = reportOn([
      ...LINES,
      '  - {id: "rot01", at: 2026-11-20T09:00:00-04:00, what: rotate}',
    ]);
    expect(data.waste.containers).toEqual([]);
    expect(data.waste.litres).toBeGreaterThan(3.5);
    expect(text).toContain('to waste, into no named container');
  });
});

describe('stock', () => {
  it('below nothing is told, not hidden', () => {
    const counted =
      '  - {id: "count", at: 2026-11-19T20:00:00-04:00, what: stock, solvent: ipa99, counted_ml: 500}';
    const top =
      '  - {id: "topu9", at: 2026-11-20T09:00:00-04:00, what: top-up, bath: clean, solvent: ipa99, ml: 600}';
    const { data, text } = reportOn([...LINES, counted, top]);
    expect(data.stock).toMatchObject([{ solvent: 'ipa99', on_hand_ml: -100, below_zero: true }]);
    expect(text).toContain('ipa99: 0.10 L more was poured than the ledger knows of');
    // Nobody said what it costs.
    expect(data.solvent_used).toMatchObject([{ ml: 600, price_per_l: null, money: null }]);
    expect(text).toContain('used 0.60 L of ipa99, no price known');
  });
});

describe('a long list', () => {
  it('is cut for people, with the number left out, and whole for programs', () => {
    const many = Array.from(
      { length: 20 },
      (_, nth) =>
        `  - {id: "top${nth}", at: 2026-11-20T08:${String(nth + 10)}:00-04:00, what: top-up, bath: clean, solvent: ipa99, ml: 1}`,
    );
    const { data, text } = reportOn([...LINES, ...many]);
    expect(data.changes).toHaveLength(20);
    expect(text).toContain('8 earlier ones are left out here');
    expect(text.match(/top-up clean/g)).toHaveLength(12);
    expect(text).toContain('together 20 mL poured');
  });
});
