import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { bathVolume, resinMass } from '../../src/bath/state.ts';
import { imbalance } from '../../src/bath/tally.ts';
import { believe } from '../../src/belief/believe.ts';
import type { Written } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { settle } from '../../src/ledger/settle.ts';
import type { Quantity } from '../../src/outlook/quantity.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';
import { believing } from './bench.ts';

const HEADER = headerOf({ dirty: OPEN, clean: OPEN });
const washes = (count: number, from = 1, every = 6): Draft[] =>
  Array.from({ length: count }, (_, nth) => ({
    what: 'wash',
    parts: { model: 6 },
    hour: from + every * nth,
  }));
const read = (keys: object, hour: number, bath = 'dirty'): Draft =>
  ({ what: 'reading', bath, hour, ...keys }) as Draft;

function status(drafts: readonly Draft[], clockHour?: number, header: Header = HEADER): Status {
  const { shop, entries, clockMs } = believing(header, drafts, clockHour);
  return statusOf(shop, entries, clockMs);
}

const DIRTY = 0;
const CLEAN = 1;
/** Ratio of the ends of a band. */
const width = ({ p05, p95 }: Quantity): number => p95! / p05!;
const evaporation = ({ factors }: Status) => factors.air.map(({ evaporation: one }) => one);

/** All that a status says, as text: equal texts are equal to the last bit. */
function bytesOf({ estimates, factors, replayed, left, lastWash }: Status): string {
  return JSON.stringify({ estimates, factors, baths: replayed.baths, tally: replayed.tally, left, lastWash });
}

describe('a reading of the dirty bath', () => {
  const history = [...FILLED, ...washes(40)];
  const before = status(history, 300);

  it.each([
    ['more', 1.35],
    ['less', 0.7],
  ])('of %s resin than expected moves clean the same way, through what they share', (_, ratio) => {
    const resinWtPct = ratio * before.estimates[DIRTY]!.resinWtPct!.p50;
    const after = status([...history, read({ resin_wt_pct: resinWtPct }, 299)], 300);
    const moved = (place: number) =>
      Math.log(after.estimates[place]!.resinWtPct!.p50 / before.estimates[place]!.resinWtPct!.p50);
    expect(Math.sign(moved(DIRTY))).toBe(Math.sign(ratio - 1));
    expect(Math.sign(moved(CLEAN))).toBe(Math.sign(ratio - 1));
    // Read to 0.2 wt% where the factors leave 45 %: most of the way is believed, in clean less than in dirty.
    expect(moved(DIRTY) / Math.log(ratio)).toBeGreaterThan(0.8);
    // What is expected lies up to 3.2 % above the best estimate, the mean of the scatter over its median.
    expect(moved(DIRTY) / Math.log(ratio)).toBeLessThan(1.02);
    expect(Math.abs(moved(CLEAN))).toBeLessThan(Math.abs(moved(DIRTY)));
    expect(Math.sign(Math.log(after.factors.carry))).toBe(Math.sign(ratio - 1));
    for (const place of [DIRTY, CLEAN])
      expect(width(after.estimates[place]!.resinWtPct!)).toBeLessThan(
        width(before.estimates[place]!.resinWtPct!),
      );
  });

  it('tells what it taught', () => {
    const { belief } = status([...history, read({ resin_wt_pct: 4 }, 299)], 300);
    expect(belief.compared).toHaveLength(1);
    const [one] = belief.compared;
    expect(one).toMatchObject({
      bath: DIRTY,
      sees: 'resin',
      value: 4,
      flagged: false,
      isZero: false,
    });
    expect(one!.sd).toBeCloseTo(0.2, 12);
    expect(one!.taught.map(({ name }) => name)).toContain('carry');
    // The best estimate keeps the median of each wash, what is expected the mean of many: e^(0.25²/2), 3.2 % more resin.
    expect(one!.expected.p50 / before.estimates[DIRTY]!.resinWtPct!.p50).toBeGreaterThan(0.995);
    expect(one!.expected.p50 / before.estimates[DIRTY]!.resinWtPct!.p50).toBeLessThan(1.035);
  });

  it('that says nothing of it leaves it where it was', () => {
    const { massG } = before.estimates[CLEAN]!;
    const after = status([...history, read({ weight_g: massG.p50, sd: 100_000 }, 299, 'clean')], 300);
    expect(after.belief.compared[0]).toMatchObject({ flagged: false, taught: [] });
    const ratio = after.estimates[DIRTY]!.resinWtPct!.p50 / before.estimates[DIRTY]!.resinWtPct!.p50;
    expect(Math.abs(ratio - 1)).toBeLessThan(0.005);
  });

  it('far beyond anything is flagged and says little', () => {
    const off = status([...history, read({ density_g_ml: 0.95, temp_c: 22 }, 299)], 300);
    expect(off.belief.compared[0]).toMatchObject({ flagged: true });
    expect(off.belief.compared[0]!.misfit).toBeGreaterThan(3);
    const typed = off.estimates[DIRTY]!.resinWtPct!.p50 / before.estimates[DIRTY]!.resinWtPct!.p50;
    expect(typed).toBeGreaterThan(1);
    // 0.95 g/mL would be seventy wt% of resin, thirty times what was expected.
    expect(typed).toBeLessThan(2.5);
  });

  it('cuts the air of the bath no differently: tallies close', () => {
    const { replayed } = status([...history, read({ density_g_ml: 0.8, temp_c: 22 }, 299)], 600);
    expect(imbalance(replayed.baths, replayed.tally)).toBeLessThan(1e-9);
  });
});

describe('the evaporation factor', () => {
  const low = [...FILLED, read({ level_ml: 3400 }, 500)];

  it('is taught by the level of its own tub', () => {
    const plain = status(FILLED, 500);
    const volumeMl = plain.estimates[DIRTY]!.volumeMl.p50;
    expect(volumeMl).toBeGreaterThan(3500);
    const [dirty, clean] = evaporation(status(low, 500));
    expect(dirty!).toBeGreaterThan(1.2);
    expect(clean!).toBe(1);
    expect(evaporation(status([...FILLED, read({ level_ml: 4000 }, 500)], 500))[DIRTY]!).toBeLessThan(1);
  });

  it('stays with the tub when the liquid moves', () => {
    const rotated: Draft[] = [...low, { what: 'rotate', solvent: 'ipa99', hour: 501 }];
    const taught = evaporation(status(low, 500));
    expect(evaporation(status(rotated, 501))).toEqual(taught);
    // What is now in dirty goes on evaporating as dirty does: more than what is in clean, both fresh.
    const [dirty, clean] = status(rotated, 1200).estimates.map(({ volumeMl }) => volumeMl.p50);
    expect(4000 - dirty!).toBeGreaterThan(1.15 * (4000 - clean!));
  });
});

describe('a top-up to the mark', () => {
  const toMark = (bath: string, hour: number): Draft =>
    ({ what: 'top-up', bath, solvent: 'ipa99', to: 'mark', hour }) as Draft;
  const stood = status(FILLED, 700).estimates;
  const filledUp = status([...FILLED, toMark('dirty', 700)], 700).estimates;

  it('says where the level is: hardly anything of it is in doubt in that tub, all of it in the other', () => {
    const spread = (one: Quantity) => one.p95! - one.p05!;
    expect(spread(stood[DIRTY]!.volumeMl)).toBeGreaterThan(200);
    expect(spread(filledUp[DIRTY]!.volumeMl)).toBeLessThan(0.02 * spread(stood[DIRTY]!.volumeMl));
    expect(spread(filledUp[CLEAN]!.volumeMl) / spread(stood[CLEAN]!.volumeMl)).toBeCloseTo(1, 2);
  });

  it('leaves nothing of what evaporated before to be read off the level', () => {
    const after = status([...FILLED, toMark('dirty', 700), read({ level_ml: 4000, sd: 10 }, 700)], 700);
    expect(after.belief.compared[0]!.misfit).toBeLessThan(0.1);
    expect(after.belief.compared[0]!.taught).toEqual([]);
    const before = status([...FILLED, read({ level_ml: 4000, sd: 10 }, 700), toMark('dirty', 700)], 700);
    expect(before.belief.compared[0]!.misfit).toBeGreaterThan(0.5);
    expect(before.belief.compared[0]!.taught.map(({ name }) => name)).toContain('evaporation');
  });

  it('keeps in every world as much evaporated as that world says: the best estimate is the replay', () => {
    const { belief, replayed, shop } = status([...FILLED, toMark('dirty', 700)], 1400);
    // From the mark on, 700 hours evaporate once: as much as in the 700 hours from the fill.
    const lost = (ml: number) => 4000 - ml;
    const again = lost(bathVolume(replayed.baths[DIRTY]!, shop.resins));
    expect(again / lost(stood[DIRTY]!.volumeMl.p50)).toBeCloseTo(1, 1);
    const { volumeMl } = status([...FILLED, toMark('dirty', 700)], 1400).estimates[DIRTY]!;
    expect(width(volumeMl) / width(stood[DIRTY]!.volumeMl)).toBeCloseTo(1, 1);
    expect(belief.compared).toEqual([]);
  });
});

describe('a reading that does not count', () => {
  const history = [...FILLED, ...washes(10)];
  const value = read({ resin_wt_pct: 2 }, 70);

  /** As a ledger has it: corrections among the events, settled at the clock. */
  async function settled(drafts: readonly Draft[], corrections: object[], clockHour = 200): Promise<Status> {
    const stamped = entriesOf(drafts) as Written[];
    const more = corrections.map(
      (event, nth): Written => ({
        event: {
          id: `c${nth}`,
          at: new Date(START_MS).toISOString(),
          why: 'test',
          ...event,
        } as Written['event'],
        atMs: START_MS + 150 * 3_600_000,
        line: 100 + nth,
        place: drafts.length + nth,
      }),
    );
    const clockMs = START_MS + clockHour * 3_600_000;
    const { entries, problems } = await settle([...stamped, ...more], clockMs, HEADER);
    expect(problems).toEqual([]);
    return statusOf(openShop(HEADER), entries, clockMs);
  }

  const id = `e${history.length}`;

  it('because it is void is as if it had never been', async () => {
    const voided = await settled([...history, value], [{ what: 'void', of: id }]);
    expect(bytesOf(voided)).toBe(bytesOf(await settled(history, [])));
    expect(bytesOf(voided)).not.toBe(bytesOf(await settled([...history, value], [])));
  });

  it('as written because it is amended counts as amended', async () => {
    const amended = await settled(
      [...history, value],
      [{ what: 'amend', of: id, set: { resin_wt_pct: 1.4 } }],
    );
    expect(bytesOf(amended)).toBe(bytesOf(await settled([...history, read({ resin_wt_pct: 1.4 }, 70)], [])));
  });

  it('until later counts as of its own time, wherever it stands in the file', async () => {
    const more = washes(6, 80);
    const late = await settled([...history, ...more, value], []);
    const inTime = await settled([...history, value, ...more], []);
    expect(bytesOf(late).replaceAll(/"id":"e\d+"/g, '')).toBe(bytesOf(inTime).replaceAll(/"id":"e\d+"/g, ''));
  });

  it('because the bath was empty is refused, and changes nothing', () => {
    const emptied: Draft[] = [...history, { what: 'drain', bath: 'dirty', all: true, hour: 100 }];
    const { replayed, belief } = status([...emptied, read({ resin_wt_pct: 2 }, 101)], 200);
    expect(replayed.refused.map(({ entry, refusal }) => [entry.event.what, refusal.why])).toEqual([
      ['reading', 'empty'],
    ]);
    expect(belief.compared).toEqual([]);
    expect(bytesOf(status([...emptied, read({ resin_wt_pct: 2 }, 101)], 200))).toBe(
      bytesOf(status(emptied, 200)),
    );
  });
});

describe('a density and a refractive index of one sample', () => {
  const history = [...FILLED, ...washes(40)];
  const { shop, replayed } = believing(HEADER, history, 300);
  expect(resinMass(replayed.baths[DIRTY]!)).toBeGreaterThan(0);
  const figures = status(history, 300).estimates[DIRTY]!;
  const density = read({ density_g_ml: figures.densityRoom!.p50, temp_c: shop.roomC, sd: 0.0003 }, 299);
  const index = read({ refractive_index: figures.indexRoom!.p50, temp_c: shop.roomC, sd: 0.0002 }, 299);
  const having = (...readings: Draft[]) => status([...history, ...readings], 300).estimates[DIRTY]!;

  it('narrow resin and water more than either alone', () => {
    const [none, one, other, both] = [having(), having(density), having(index), having(density, index)];
    for (const key of ['resinWtPct', 'waterWtPct'] as const) {
      const of = (estimate: typeof none) => width(estimate[key]!);
      expect(of(one)).toBeLessThan(of(none) + 1e-9);
      expect(of(other)).toBeLessThan(of(none) + 1e-9);
      expect(of(both)).toBeLessThan(of(one));
      expect(of(both)).toBeLessThan(of(other));
    }
  });

  it('say the same in either order, nearly', () => {
    const [there, back] = [having(density, index), having(index, density)];
    expect(there.resinWtPct!.p50 / back.resinWtPct!.p50).toBeCloseTo(1, 1);
    expect(width(there.resinWtPct!) / width(back.resinWtPct!)).toBeCloseTo(1, 1);
  });
});

describe('a weighed load', () => {
  const history = [...FILLED, ...washes(5)];
  const weighed = (lossG: number, hour: number, wash = 'e4'): Draft => ({
    what: 'weighed',
    wash,
    wet_g: 250 + lossG,
    clean_g: 250,
    hour,
  });
  const carryG = status(history, 100).lastWash!.carryG.p50;

  it('teaches at its wash, wherever it was logged', () => {
    const one = status([...history, weighed(1.4 * carryG, 40)], 100);
    const other = status([...history, weighed(1.4 * carryG, 90)], 100);
    expect(bytesOf(one)).toBe(bytesOf(other));
    expect(one.factors.carry).toBeGreaterThan(1.05);
    expect(one.belief.compared[0]).toMatchObject({ sees: 'carry', flagged: false });
    expect(one.belief.compared[0]!.value).toBeCloseTo(1.4 * carryG, 9);
    expect(one.belief.compared[0]!.sd).toBeCloseTo(0.05 * 1.4 * carryG, 9);
  });

  it('weighed twice counts as the mean, once', () => {
    const twice = status([...history, weighed(1.3 * carryG, 40), weighed(1.5 * carryG, 41)], 100);
    expect(twice.belief.compared).toHaveLength(1);
    expect(twice.belief.compared[0]!.value).toBeCloseTo(1.4 * carryG, 9);
    expect(twice.belief.compared[0]!.sd).toBeCloseTo((0.05 * 1.4 * carryG) / Math.SQRT2, 9);
  });

  it('of a wash that could not be says nothing', () => {
    const dry: Draft[] = [...FILLED, { what: 'wash', area_cm2: 100, drag_ml: [5000, 5], hour: 1 }];
    const with_ = status([...dry, weighed(20, 2, 'e2')], 10);
    expect(with_.belief.compared).toEqual([]);
    expect(with_.factors.carry).toBe(1);
  });

  it('whose carry-over was given already moves no factor', () => {
    const given: Draft[] = [
      ...FILLED,
      { what: 'wash', area_cm2: 100, carry_g: 6, drag_ml: [5, 5], hour: 1, minutes: [60, 60] },
    ];
    const { factors } = status([...given, weighed(9, 2, 'e2')], 10, PAIR);
    expect(factors.carry).toBeCloseTo(1, 3);
  });
});

it('is the same to the last bit each time', () => {
  const drafts = [
    ...FILLED,
    ...washes(20),
    read({ density_g_ml: 0.8, temp_c: 21 }, 200),
    read({ level_ml: 3900 }, 210, 'clean'),
  ];
  expect(bytesOf(status(drafts, 400))).toBe(bytesOf(status(drafts, 400)));
  const { shop, entries, clockMs } = believing(HEADER, drafts, 400);
  const text = () => JSON.stringify(believe(shop, entries, clockMs).belief.ensemble.worlds);
  expect(text()).toBe(text());
});
