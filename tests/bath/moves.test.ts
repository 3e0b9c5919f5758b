/** Moves of liquid. Volumes and masses follow from densities; refusals leave everything as it was. */
import { describe, expect, it } from 'vitest';
import { refusalProblem } from '../../src/bath/refusal.ts';
import { bathVolume, ipaFraction, resinFraction, resinMass } from '../../src/bath/state.ts';
import { mixtureDensity } from '../../src/substance/mixture.ts';
import { type Draft, FILLED, headerOf, OPEN, PAIR, type Run, run, START_MS } from './bench.ts';

const HOUR = 3_600_000;
const at = (hour: number) => START_MS + hour * HOUR;

function volumes({ replayed, shop }: Run): number[] {
  return replayed.baths.map((bath) => bathVolume(bath, shop.resins));
}

/** Why the last draft cannot be. */
function refusal(drafts: Draft[], header = PAIR) {
  const { replayed, shop } = run(header, drafts);
  expect(replayed.refused.length).toBe(1);
  return { ...replayed.refused[0]!.refusal, problem: refusalProblem(replayed.refused[0]!, shop) };
}

const LOADED: Draft[] = [
  ...FILLED,
  {
    what: 'wash',
    area_cm2: 100,
    carry_g: 111,
    drag_ml: [0, 0],
    minutes: [1440, 1440],
    agitation: 'ultrasonic',
  },
];

describe('filling', () => {
  it('pours a volume at 20 °C, split by strength', () => {
    const { replayed } = run(PAIR, [{ what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000 }]);
    const grams = 4000 * mixtureDensity(0.995, 20);
    expect(replayed.baths[0]!.ipaG).toBeCloseTo(0.995 * grams, 9);
    expect(replayed.baths[0]!.waterG).toBeCloseTo(0.005 * grams, 9);
    // 0.7866 g/mL: between dry IPA, 0.7852, and 99 wt%, 0.7877 (LEBO1921 and others).
    expect(grams / 4000).toBeCloseTo(0.7866, 3);
  });

  it('is refused where there is liquid, and tells how much', () => {
    const { why, problem } = refusal([...FILLED, FILLED[0]!]);
    expect(why).toBe('not-empty');
    expect(problem.message).toContain('holds 4.00 L');
  });

  it('takes a bath that dried out, and its resin dissolves again', () => {
    const open = headerOf(
      { dirty: { ...OPEN, lid_open_h: 24, mark_ml: 200 } },
      { shop: { humidity_pct: 0 } },
    );
    const { seen, replayed } = run(open, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 200 },
      {
        what: 'wash',
        baths: ['dirty'],
        minutes: [1440],
        agitation: 'ultrasonic',
        area_cm2: 50,
        carry_g: 3,
        drag_ml: [0],
      },
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 200, hour: 2000 },
    ]);
    expect(seen.length).toBe(3);
    expect(resinMass(replayed.baths[0]!)).toBeCloseTo(3, 12);
    expect(replayed.baths[0]!.dry).toBe(false);
    expect(replayed.tally.air.ipa).toBeCloseTo(seen[1]!.baths[0]!.ipaG, 9);
  });
});

describe('topping up', () => {
  it('lowers the percentage and leaves the grams', () => {
    const before = run(PAIR, LOADED).replayed.baths[0]!;
    const after = run(PAIR, [...LOADED, { what: 'top-up', bath: 'dirty', ml: 500 }]).replayed.baths[0]!;
    expect(resinMass(after)).toBe(resinMass(before));
    expect(resinFraction(after)).toBeLessThan(resinFraction(before));
  });

  it('uses the solvent last poured from stock where none is named', () => {
    const { replayed } = run(PAIR, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa91', ml: 1000 },
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 1000 },
      { what: 'top-up', bath: 'dirty', to: 'mark' },
    ]);
    // 3 L of 99.5 wt% on 1 L of the weaker kind.
    const [dirty] = replayed.baths;
    expect(ipaFraction(dirty!)).toBeGreaterThan(0.95);
    expect(replayed.solvent).toBe('ipa99');
  });

  it('to the mark pours what is missing as a volume: contraction leaves a mixed bath below it', () => {
    const mixed = run(PAIR, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa70', ml: 2000 },
      { what: 'top-up', bath: 'dirty', solvent: 'ipa99', to: 'mark' },
    ]);
    expect(mixed.seen[1]!.move!.pouredMl).toBeCloseTo(2000, 9);
    expect(volumes(mixed)[0]).toBeLessThan(4000);
    expect(volumes(mixed)[0]).toBeGreaterThan(3950);
  });

  it('pours nothing at or above the mark', () => {
    const full = run(PAIR, [...LOADED, { what: 'top-up', bath: 'dirty', solvent: 'ipa99', to: 'mark' }]);
    expect(full.seen.at(-1)!.move!.pouredMl).toBe(0);
    expect(full.replayed.baths).toEqual(run(PAIR, LOADED).replayed.baths);
  });

  it('from the clean bath moves its liquid and its age', () => {
    const { replayed } = run(PAIR, [
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000, hour: 0 },
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 3000, hour: 5 },
      { what: 'top-up', bath: 'dirty', from: 'clean', ml: 600, hour: 6 },
    ]);
    const [dirty, clean] = replayed.baths;
    expect(dirty!.ipaG + clean!.ipaG).toBeCloseTo(replayed.tally.in.ipa, 9);
    expect(dirty!.ipaG / clean!.ipaG).toBeCloseTo(3600 / 3400, 12);
    expect(dirty!.pouredMs).toBe(at(0));
  });

  it('from a clean bath that holds less is refused; so is an empty one', () => {
    const less = refusal([...FILLED, { what: 'top-up', bath: 'dirty', from: 'clean', ml: 4100 }]);
    expect(less.why).toBe('holds-less');
    expect(less.problem.message).toContain('takes 4.10 L from the clean bath, which holds 4.00 L');
    expect(refusal([FILLED[0]!, { what: 'top-up', bath: 'dirty', from: 'clean', ml: 10 }]).why).toBe('empty');
  });

  it('takes the last of a bath for all of it, within a thousandth', () => {
    const { replayed } = run(PAIR, [...FILLED, { what: 'drain', bath: 'dirty', ml: 4003 }]);
    expect(replayed.refused).toEqual([]);
    expect(replayed.baths[0]).toMatchObject({ ipaG: 0, waterG: 0 });
  });

  it('from the last of the clean bath takes all of it, within a thousandth, and leaves a bath without age', () => {
    const from = (ml: number): Draft[] => [
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 1000 },
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 1000 },
      { what: 'top-up', bath: 'dirty', from: 'clean', ml },
    ];
    const { replayed } = run(PAIR, from(1000.5));
    expect(replayed.refused).toEqual([]);
    expect(replayed.baths[1]).toMatchObject({ ipaG: 0, waterG: 0, dry: false, pouredMs: Number.NaN });
    expect(replayed.baths[0]!.ipaG).toBeCloseTo(replayed.tally.in.ipa, 9);
    expect(refusal(from(1001.5))).toMatchObject({ why: 'holds-less', bath: 'clean', wantedMl: 1001.5 });
  });

  it('of nothing from an empty clean bath is no trouble, of something it is that of the clean bath', () => {
    const { replayed, seen } = run(PAIR, [
      FILLED[0]!,
      { what: 'top-up', bath: 'dirty', from: 'clean', to: 'mark' },
    ]);
    expect(replayed.refused).toEqual([]);
    expect(seen[1]!.move).toEqual({ pouredMl: 0, wasteMl: 0, waste: { resin: 0, ipa: 0, water: 0 } });
    const empty = refusal([FILLED[0]!, { what: 'top-up', bath: 'dirty', from: 'clean', ml: 10 }]);
    expect(empty).toMatchObject({ why: 'empty', bath: 'clean' });
  });

  it('of an empty bath starts it afresh; of nothing it names no usual solvent', () => {
    const { replayed } = run(PAIR, [
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000, hour: 0 },
      { what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 500, hour: 7 },
      { what: 'top-up', bath: 'clean', solvent: 'ipa70', ml: 0, hour: 8 },
      { what: 'top-up', bath: 'clean', solvent: 'ipa70', to: 'mark', hour: 9 },
    ]);
    expect(replayed.baths[0]).toMatchObject({ changedMs: at(7), pouredMs: at(7) });
    expect(replayed.baths[1]).toMatchObject({ changedMs: at(0), pouredMs: at(0) });
    expect(replayed.solvent).toBe('ipa99');
  });

  it('from clean ends a dry spell: the bath evaporates again', () => {
    const open = headerOf(
      { dirty: { ...OPEN, lid_open_h: 24, mark_ml: 200 }, clean: {} },
      { shop: { humidity_pct: 0 } },
    );
    const { seen, replayed } = run(
      open,
      [
        { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000 },
        { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 200 },
        { what: 'top-up', bath: 'dirty', from: 'clean', ml: 1000, hour: 2000 },
      ],
      2024,
    );
    expect(seen[2]!.baths[0]!.dry).toBe(false);
    expect(replayed.baths[0]!.ipaG).toBeLessThan(seen[2]!.baths[0]!.ipaG - 10);
  });

  it('without any solvent to name is refused', () => {
    expect(refusal([{ what: 'top-up', bath: 'dirty', ml: 100 }]).why).toBe('no-solvent');
  });
});

describe('draining', () => {
  it('takes everything in proportion', () => {
    const before = run(PAIR, LOADED);
    const after = run(PAIR, [...LOADED, { what: 'drain', bath: 'dirty', ml: 1000 }]);
    const share = 1 - 1000 / volumes(before)[0]!;
    expect(resinMass(after.replayed.baths[0]!)).toBeCloseTo(share * resinMass(before.replayed.baths[0]!), 9);
    expect(after.replayed.baths[0]!.ipaG).toBeCloseTo(share * before.replayed.baths[0]!.ipaG, 9);
    expect(after.seen.at(-1)!.move!.wasteMl).toBeCloseTo(1000, 9);
  });

  it('down to the mark takes what is above it, and nothing below', () => {
    const above = run(PAIR, [...LOADED, { what: 'drain', bath: 'dirty', to: 'mark' }]);
    expect(volumes(above)[0]).toBeCloseTo(4000, 8);
    const below = run(PAIR, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 900 },
      { what: 'drain', bath: 'dirty', to: 'mark' },
    ]);
    expect(below.seen[1]!.move!.wasteMl).toBe(0);
  });

  it('of all leaves nothing at all, resin included', () => {
    const { replayed } = run(PAIR, [...LOADED, { what: 'drain', bath: 'dirty', all: true }]);
    const [dirty] = replayed.baths;
    expect([resinMass(dirty!), dirty!.ipaG, dirty!.waterG]).toEqual([0, 0, 0]);
    expect(dirty!.pouredMs).toBeNaN();
    // The load leaves nothing undissolved and no film, so all of its resin is in the waste, but for what clean got: none.
    expect(replayed.tally.waste.resin).toBeCloseTo(111, 9);
  });

  it('of more than there is, or of nothing, is refused', () => {
    expect(refusal([...FILLED, { what: 'drain', bath: 'dirty', ml: 4100 }]).why).toBe('holds-less');
    expect(refusal([{ what: 'drain', bath: 'dirty', all: true }]).why).toBe('empty');
  });
});

describe('refilling', () => {
  it('drains all and fills fresh to the mark', () => {
    const { replayed, seen } = run(PAIR, [...LOADED, { what: 'refill', bath: 'dirty', hour: 9 }]);
    const [dirty] = replayed.baths;
    expect(resinMass(dirty!)).toBe(0);
    expect([dirty!.washes, dirty!.changedMs, dirty!.pouredMs]).toEqual([0, at(9), at(9)]);
    // 4 L and 100 mL of resin at 1.11 g/mL went.
    expect(seen.at(-1)!.move!.wasteMl).toBeCloseTo(4100, 6);
    expect(seen.at(-1)!.move!.pouredMl).toBe(4000);
  });
});

describe('rotating', () => {
  const used: Draft[] = [
    { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000, hour: 0 },
    { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000, hour: 1 },
    { what: 'wash', parts: { model: 6 }, minutes: [5, 5], hour: 2 },
    { what: 'wash', parts: { model: 6 }, minutes: [5, 5], hour: 3 },
  ];

  it('makes the clean liquid the dirty one, with its age; washes start again in both', () => {
    const worn = run(PAIR, used);
    const before = worn.replayed.baths[1]!;
    const { replayed } = run(PAIR, [...used, { what: 'rotate', hour: 30 }]);
    const [dirty, clean] = replayed.baths;
    expect(before.washes).toBe(2);
    // The films of the dirty bath, thicker with resin, have raised the clean one a little: what is above the mark is waste.
    const [, cleanMl] = volumes(worn);
    expect(cleanMl).toBeGreaterThan(4000);
    expect(resinMass(dirty!)).toBeCloseTo((4000 / cleanMl!) * resinMass(before), 9);
    expect([dirty!.washes, dirty!.changedMs, dirty!.pouredMs]).toEqual([0, at(30), at(1)]);
    expect([clean!.washes, clean!.changedMs, clean!.pouredMs]).toEqual([0, at(30), at(30)]);
    expect(resinMass(clean!)).toBe(0);
  });

  it('counts washes by bath, and a single-bath wash for that bath only', () => {
    const { replayed } = run(PAIR, [
      ...used,
      { what: 'wash', parts: { die: 4 }, baths: ['dirty'], minutes: [3] },
    ]);
    expect(replayed.baths.map(({ washes }) => washes)).toEqual([3, 2]);
  });

  it('fills a smaller dirty bath to its mark, and the rest goes to waste', () => {
    const header = headerOf({ dirty: { mark_ml: 3000 }, clean: { mark_ml: 4000 } });
    const rotated = run(header, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 3000 },
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000 },
      { what: 'rotate' },
    ]);
    expect(volumes(rotated)[0]).toBeCloseTo(3000, 9);
    expect(volumes(rotated)[1]).toBeCloseTo(4000, 9);
    expect(rotated.seen[2]!.move!.wasteMl).toBeCloseTo(4000, 9);
    expect(rotated.seen[2]!.move!.pouredMl).toBe(4000);
  });

  it('makes up a larger dirty bath with fresh solvent', () => {
    const header = headerOf({ dirty: { mark_ml: 4000 }, clean: { mark_ml: 2500 } });
    const rotated = run(header, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000 },
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 2500 },
      { what: 'rotate', ml: 2000 },
    ]);
    expect(volumes(rotated)[0]).toBeCloseTo(4000, 9);
    expect(volumes(rotated)[1]).toBeCloseTo(2000, 9);
    expect(rotated.seen[2]!.move!.pouredMl).toBeCloseTo(3500, 9);
    expect(rotated.replayed.tally.in.ipa).toBeCloseTo(10_000 * mixtureDensity(0.995, 20) * 0.995, 6);
  });

  it('pours all the liquid out that the tally says: dirty and what clean has too much', () => {
    const pair = headerOf({ dirty: { mark_ml: 2500 }, clean: {} });
    const made = run(pair, [
      { what: 'fill', bath: 'dirty', solvent: 'ipa91', ml: 2500 },
      { what: 'fill', bath: 'clean', solvent: 'ipa91', ml: 4000 },
      { what: 'wash', area_cm2: 900, carry_g: 60, drag_ml: [50, 0], minutes: [3, 3] },
      { what: 'rotate', solvent: 'ipa99' },
    ]);
    const { waste, wasteMl } = made.seen.at(-1)!.move!;
    for (const what of ['resin', 'ipa', 'water'] as const) {
      expect(waste[what]).toBeCloseTo(made.replayed.tally.waste[what], 12);
      expect(waste[what]).toBeGreaterThan(1);
    }
    const before = made.seen[2]!.baths.map((bath) => bathVolume(bath, made.shop.resins));
    expect(wasteMl).toBeCloseTo(before[0]! + before[1]! - 2500, 6);
  });

  it('with an empty clean bath fills both fresh', () => {
    const { replayed } = run(PAIR, [FILLED[0]!, { what: 'rotate' }]);
    expect(replayed.refused).toEqual([]);
    expect(replayed.baths[0]!.ipaG).toBeCloseTo(replayed.baths[1]!.ipaG, 9);
    expect(replayed.baths[0]!.pouredMs).toBe(at(0));
  });

  it('is refused with half a pair, and as refilling is without a solvent', () => {
    for (const half of ['dirty', 'clean']) {
      const header = headerOf({ [half]: {}, spare: {} });
      expect(refusal([{ what: 'rotate', solvent: 'ipa99' }], header)).toMatchObject({ why: 'no-pair' });
    }
    expect(refusal([{ what: 'rotate' }])).toMatchObject({ why: 'no-solvent', bath: 'clean' });
    expect(refusal([{ what: 'refill', bath: 'dirty' }])).toMatchObject({ why: 'no-solvent', bath: 'dirty' });
  });

  it('needs a pair by name, and a solvent', () => {
    const single = headerOf({ left: {}, right: {} });
    expect(refusal([{ what: 'rotate', solvent: 'ipa99' }], single).why).toBe('no-pair');
    expect(refusal([{ what: 'rotate' }]).why).toBe('no-solvent');
  });
});
