/** data/demo.yaml: the sample shop is in order and never badly run. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { figuresOf } from '../../src/bath/figures.ts';
import { openShop, type Shop } from '../../src/bath/shop.ts';
import { isEmpty } from '../../src/bath/state.ts';
import { type LedgerFile, readLedger } from '../../src/ledger/read.ts';
import { type Settled, settle } from '../../src/ledger/settle.ts';
import { strictProblems } from '../../src/ledger/strict.ts';
import { parseTime } from '../../src/ledger/time.ts';
import { factorsKnown } from '../../src/outlook/factors-known.ts';
import type { Quantity } from '../../src/outlook/quantity.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { catalogue } from '../../src/substance/catalogue.ts';

const bytes = readFileSync(new URL('../../data/demo.yaml', import.meta.url));
const lines = bytes.toString('utf8').split('\n');

let file: LedgerFile;
let settled: Settled;
let shop: Shop;
let status: Status;
let clockMs: number;
/** Highest resin that each bath ever held, wt%. */
let peaks: number[];

beforeAll(async () => {
  file = await readLedger(bytes, catalogue);
  clockMs = Math.max(
    ...file.events.map(({ event, atMs }) => Math.max(atMs, parseTime(event.logged ?? event.at))),
  );
  settled = await settle(file.events, clockMs, file.header, catalogue);
  shop = openShop(file.header!);
  peaks = shop.tubs.map(() => 0);
  status = statusOf(shop, settled.entries, clockMs, {
    watch: ({ baths }) => {
      baths.forEach((bath, place) => {
        if (!isEmpty(bath))
          peaks[place] = Math.max(peaks[place]!, figuresOf(bath, shop.resins, shop.roomC).resinWtPct ?? 0);
      });
    },
  });
});

describe('demo.yaml', () => {
  it('reads without a problem, all of it by the fast scanner', () => {
    expect(file).toMatchObject({
      problems: [],
      moreProblems: 0,
      slowEvents: 0,
      tail: 'whole',
      newline: '\n',
    });
  });

  it('holds 100 to 200 events, one a line', () => {
    expect(file.events.length).toBeGreaterThanOrEqual(100);
    expect(file.events.length).toBeLessThanOrEqual(200);
    expect(lines.filter((line) => line.startsWith('  - {id: "'))).toHaveLength(file.events.length);
  });

  it('shows what a shop does: washes, moves, corrections, an entry typed later', () => {
    const kinds = new Set(file.events.map(({ event }) => event.what));
    const wanted = 'fill wash top-up rotate reading weighed void amend inspect stock waste'.split(' ');
    for (const kind of wanted) expect([...kinds]).toContain(kind);
    const rotations = file.events.filter(({ event }) => event.what === 'rotate');
    expect(rotations.length).toBeGreaterThanOrEqual(2);
    expect(settled.voided.size).toBeGreaterThanOrEqual(1);
    expect(settled.entries.some(({ amendedBy }) => amendedBy)).toBe(true);
    expect(file.events.some(({ event }) => event.logged !== undefined)).toBe(true);
    expect(file.events.some(({ event }) => event.what === 'wash' && event.drained_min! >= 480)).toBe(true);
  });

  it('works on weekdays and ends on Friday 20 November 2026', () => {
    const days = file.events.map(({ event }) => Date.parse(`${event.at.slice(0, 10)}T00:00Z`));
    expect(days.filter((day) => new Date(day).getUTCDay() % 6 === 0)).toEqual([]);
    const last = Math.max(...days);
    expect(last).toBe(Date.UTC(2026, 10, 20));
    expect(Math.ceil((last - Math.min(...days)) / (7 * 86_400_000))).toBe(6);
  });

  it('has the offset of its zone at every event', () => {
    const offset = new Intl.DateTimeFormat('en', {
      timeZone: file.header!.shop.timezone!,
      timeZoneName: 'longOffset',
    });
    const wrong = file.events.filter(
      ({ event, atMs }) => !offset.format(atMs).endsWith(`GMT${event.at.slice(-6)}`),
    );
    expect(wrong.map(({ event }) => event.id)).toEqual([]);
  });

  it('settles and replays with nothing refused', () => {
    expect(settled).toMatchObject({ problems: [], later: 0 });
    expect(status.replayed.refused).toEqual([]);
  });

  it('passes the strict check', () => {
    expect(strictProblems(file.header!, file.events, settled, clockMs)).toEqual([]);
  });

  it('never held a bath at its last limit, nor far beyond the one to change at', () => {
    shop.tubs.forEach(({ limits, name }, place) => {
      expect(peaks[place], name).toBeGreaterThan(0);
      expect(peaks[place], name).toBeLessThan(limits.resin[1] * 1.05);
      expect(peaks[place], name).toBeLessThan(limits.resin[2]);
    });
  });

  it('reads the dirty bath fresh, and once with two instruments in one sample', () => {
    const readings = settled.entries.flatMap(({ event }) => (event.what === 'reading' ? [event] : []));
    const firstWash = settled.entries.find(({ event }) => event.what === 'wash')!;
    expect(readings[0]).toMatchObject({ bath: 'dirty', density_g_ml: expect.any(Number) });
    expect(Date.parse(readings[0]!.at)).toBeLessThan(firstWash.atMs);
    const twins = readings.filter(
      ({ density_g_ml: density, at, bath }) =>
        density !== undefined &&
        readings.some((other) => other.bath === bath && other.at === at && other.brix !== undefined),
    );
    expect(twins).toHaveLength(1);
  });

  it('has readings as its instruments would give them: none further off than chance', () => {
    const { compared } = status.belief;
    expect(compared).toHaveLength(
      settled.entries.filter(({ event }) => event.what === 'reading' || event.what === 'weighed').length,
    );
    for (const { misfit, entry } of compared) expect(misfit, entry.event.id).toBeLessThan(2);
    expect(compared.some(({ flagged, isZero }) => flagged || isZero)).toBe(false);
  });

  it('was invented with a carry-over of 0.8 of the default, which its readings find', () => {
    const carry = factorsKnown(status).find(({ name }) => name === 'carry-over')!;
    expect(carry.now.p05).toBeLessThan(0.8);
    expect(carry.now.p95).toBeGreaterThan(0.8);
    const width = ({ p05, p95 }: Quantity) => Math.log(p95! / p05!);
    expect(width(carry.now)).toBeLessThan(width(carry.prior) / 3);
  });

  it('has bands half as wide as without its readings', () => {
    const silent = settled.entries.filter(
      ({ event }) => event.what !== 'reading' && event.what !== 'weighed',
    );
    const before = statusOf(shop, silent, clockMs).estimates;
    const width = ({ p05, p95 }: Quantity) => Math.log(p95! / p05!);
    shop.tubs.forEach(({ name }, place) => {
      const [now, then] = [status.estimates[place]!, before[place]!].map(({ resinWtPct }) =>
        width(resinWtPct!),
      ) as [number, number];
      expect(now / then, name).toBeLessThan(0.5);
    });
  });

  it('ends with the clean bath to be changed soon', () => {
    const clean = status.estimates[shop.tubPlace.get('clean')!]!;
    expect(clean).toMatchObject({ verdict: 'soon', because: 'resin' });
  });
});
