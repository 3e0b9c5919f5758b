/** What holds for every history, the impossible events in it included. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Along, replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { type Bath, bathVolume, isEmpty, resinFraction } from '../../src/bath/state.ts';
import { held, imbalance, type Tally } from '../../src/bath/tally.ts';
import type { Written } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { settle } from '../../src/ledger/settle.ts';
import { anyDrafts, anyHeader, record, scalableDrafts, sealedHeader } from './arbitrary.ts';
import { type Draft, entriesOf, run, START_MS } from './bench.ts';

const SUBSTANCES = ['resin', 'ipa', 'water'] as const;

/** Everything a replay says, as text: equal texts are equal to the last bit. */
function bytesOf(header: Header, drafts: readonly Draft[], clockHour?: number): string {
  const { replayed, seen } = run(header, drafts, clockHour);
  const plain = (bath: Bath) => ({ ...bath, resin: [...bath.resin] });
  return JSON.stringify({
    baths: replayed.baths.map(plain),
    tally: replayed.tally,
    solvent: replayed.solvent,
    steps: seen.map((step) => ({ baths: step.baths.map(plain), wash: step.wash, move: step.move })),
  });
}

const lastHour = (drafts: readonly Draft[]) => Math.max(...drafts.map(({ hour = 0 }) => hour));

function gapOf(baths: readonly Bath[], tally: Tally): number {
  const now = held(baths);
  return Math.max(
    ...SUBSTANCES.map((what) => {
      const out = now[what] + tally.parts[what] + tally.tray[what] + tally.waste[what] + tally.air[what];
      const scale = Math.max(tally.in[what], Math.abs(tally.air[what]), 1e-9);
      return Math.abs(tally.in[what] - out) / scale;
    }),
  );
}

describe('every history', () => {
  it('conserves resin, IPA and water after every event and at the clock', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, fc.nat(900), (header, drafts, after) => {
        const shop = openShop(header);
        const clockMs = START_MS + (lastHour(drafts) + after) * 3_600_000;
        const entries = entriesOf(drafts);
        const replayed = replay(shop, entries, clockMs);
        expect(gapOf(replayed.baths, replayed.tally)).toBeLessThanOrEqual(1e-9);
        for (let count = 1; count <= entries.length; count += 5) {
          const part = replay(shop, entries.slice(0, count), entries[count - 1]!.atMs);
          expect(gapOf(part.baths, part.tally)).toBeLessThanOrEqual(1e-9);
        }
      }),
    );
  });

  it('holds no negative mass, and tallies only what can be', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, fc.nat(900), (header, drafts, after) => {
        const { replayed, seen } = run(header, drafts, lastHour(drafts) + after);
        for (const baths of [...seen.map((step) => step.baths), replayed.baths]) {
          for (const bath of baths) {
            expect(Math.min(bath.ipaG, bath.waterG, ...bath.resin)).toBeGreaterThanOrEqual(0);
          }
        }
        for (const { wash } of seen) {
          if (!wash) continue;
          expect(Math.min(wash.carryG, ...wash.dragMl)).toBeGreaterThanOrEqual(0);
          expect(wash.residueUgPerCm2).toBeGreaterThanOrEqual(0);
        }
        for (const what of SUBSTANCES) {
          const { parts, tray, waste } = replayed.tally;
          expect(Math.min(parts[what], tray[what], waste[what])).toBeGreaterThanOrEqual(0);
        }
        expect(replayed.tally.air.resin).toBe(0);
      }),
    );
  });

  it('is the same to the last bit each time it is replayed', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, (header, drafts) => {
        expect(bytesOf(header, drafts, lastHour(drafts) + 100)).toBe(
          bytesOf(header, drafts, lastHour(drafts) + 100),
        );
      }),
      { numRuns: 30 },
    );
  });

  it('is untouched by its impossible events: without them it is the same to the last bit', () => {
    let impossible = 0;
    fc.assert(
      fc.property(anyHeader, anyDrafts, (header, drafts) => {
        const { replayed } = run(header, drafts);
        const refused = new Set(replayed.refused.map(({ entry }) => entry.place));
        impossible += refused.size;
        const possible = drafts.filter((_, place) => !refused.has(place));
        const clock = lastHour(drafts) + 50;
        expect(bytesOf(header, drafts, clock)).toBe(bytesOf(header, possible, clock));
      }),
      { numRuns: 200 },
    );
    // Otherwise this would say nothing.
    expect(impossible).toBeGreaterThan(200);
  });

  it('is untouched by events that move nothing', () => {
    fc.assert(
      fc.property(
        anyHeader,
        anyDrafts,
        fc.array(fc.tuple(record, fc.nat(100)), { minLength: 1, maxLength: 8 }),
        (header, drafts, records) => {
          const mixed = [...drafts];
          for (const [event, at] of records) {
            const place = at % (mixed.length + 1);
            const before = mixed[place - 1]?.hour ?? 0;
            const next = mixed[place]?.hour ?? before + 7;
            mixed.splice(place, 0, { ...event, hour: (before + next) / 2 });
          }
          const clock = lastHour(drafts) + 50;
          expect(bytesOf(header, mixed, clock)).toBe(bytesOf(header, drafts, clock));
        },
      ),
    );
  });

  it('does not look ahead: cut anywhere, the first part is the same to the last bit', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, fc.nat(100), (header, drafts, at) => {
        const { seen, entries } = run(header, drafts);
        const cut = at % entries.length;
        const part = run(header, drafts.slice(0, cut + 1));
        const last = seen.findLast(({ entry }) => entry.place <= cut);
        const same = part.seen.at(-1);
        expect(same?.baths).toEqual(last?.baths);
        expect(same?.wash).toEqual(last?.wash);
      }),
    );
  });

  it('goes on from a clock between two events within what the length of steps costs', () => {
    fc.assert(
      fc.property(sealedHeader, anyDrafts, fc.nat(5000), (header, drafts, clockHour) => {
        // Nothing lost to the air: waiting is free, so the clock between two events shows the state after the first.
        const past = drafts.filter(({ hour = 0 }) => hour <= clockHour);
        const { seen } = run(header, drafts);
        const last = seen.findLast(({ entry }) => entry.place < past.length);
        if (last) expect(run(header, past, clockHour).replayed.baths).toEqual(last.baths);
      }),
    );
  });

  it('takes events of the same time in the order of the file, and others in the order of time', async () => {
    await fc.assert(
      fc.asyncProperty(
        anyHeader,
        anyDrafts,
        fc.array(fc.nat(3), { minLength: 40, maxLength: 40 }),
        async (header, drafts, hours) => {
          // Written in any order, four moments in all.
          const scattered = drafts.map((draft, place) => ({ ...draft, hour: hours[place % 40]! }));
          const written = entriesOf(scattered) as Written[];
          const { entries } = await settle(written, START_MS + 10 * 3_600_000);
          const wanted = [0, 1, 2, 3].flatMap((hour) =>
            written.filter(({ atMs }) => atMs === START_MS + hour * 3_600_000),
          );
          expect(entries.map(({ place }) => place)).toEqual(wanted.map(({ place }) => place));
          const steps: number[] = [];
          const refused = replay(openShop(header), entries, START_MS + 10 * 3_600_000, {
            watch: ({ entry }) => steps.push(entry.place),
          }).refused.map(({ entry }) => entry.place);
          expect(steps).toEqual(wanted.map(({ place }) => place).filter((place) => !refused.includes(place)));
        },
      ),
    );
  });

  it('marks a bath without solvent as never poured, and one with solvent as poured', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, fc.nat(900), (header, drafts, after) => {
        const { replayed, seen } = run(header, drafts, lastHour(drafts) + after);
        for (const bath of [...seen.flatMap((step) => step.baths), ...replayed.baths]) {
          if (isEmpty(bath) && !bath.dry) expect(bath.pouredMs).toBeNaN();
          if (!isEmpty(bath)) {
            expect(bath.pouredMs).not.toBeNaN();
            expect(bath.dry).toBe(false);
          }
        }
      }),
    );
  });

  it('never overshoots the mark when topping up to it, and leaves a bath above it alone', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, (header, drafts) => {
        const { seen, shop } = run(header, drafts);
        for (const { entry, baths, move } of seen) {
          if (entry.event.what !== 'top-up' || entry.event.to !== 'mark') continue;
          const place = shop.tubPlace.get(entry.event.bath)!;
          const { markMl } = shop.tubs[place]!;
          const volume = bathVolume(baths[place]!, shop.resins);
          // Contraction can leave it below; a bath that was above the mark got nothing.
          if (move!.pouredMl > 0) expect(volume).toBeLessThanOrEqual(markMl * (1 + 1e-9));
        }
      }),
      { numRuns: 200 },
    );
  });
});

/** Readings of either bath put in among the events of a history. */
const readings = fc.array(fc.tuple(fc.constantFrom('dirty', 'clean'), fc.nat(100)), {
  minLength: 1,
  maxLength: 6,
});

function withReadings(drafts: readonly Draft[], among: readonly (readonly [string, number])[]): Draft[] {
  const mixed = [...drafts];
  for (const [bath, at] of among) {
    const place = at % (mixed.length + 1);
    const hour = mixed[place - 1]?.hour ?? 0;
    mixed.splice(place, 0, { what: 'reading', bath, resin_wt_pct: 3, hour });
  }
  return mixed;
}

/** Runs beside a replay; at each reading it makes every mass of both baths `factor` times as large. */
function onlooker(factor: number): Along & { read: Along['read']; seen: string[] } {
  const seen: string[] = [];
  return {
    seen,
    happened: ({ entry }) => {
      seen.push(entry.event.id);
      return false;
    },
    read: (entry, _, baths) => {
      seen.push(entry.event.id);
      for (const bath of baths) {
        bath.resin = bath.resin.map((grams) => grams * factor);
        bath.ipaG *= factor;
        bath.waterG *= factor;
      }
    },
    settled: () => seen.push('clock'),
  };
}

describe('a replay with somebody beside it who learns', () => {
  const clockOf = (drafts: readonly Draft[]) => START_MS + (lastHour(drafts) + 50) * 3_600_000;

  it('is the plain one to the last bit while there is nothing to learn from', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, (header, drafts) => {
        const shop = openShop(header);
        const entries = entriesOf(drafts);
        const along = onlooker(2);
        expect(replay(shop, entries, clockOf(drafts), { along })).toEqual(
          replay(shop, entries, clockOf(drafts)),
        );
        const refused = new Set(
          replay(shop, entries, clockOf(drafts)).refused.map(({ entry }) => entry.event.id),
        );
        const ids = entries.map(({ event }) => event.id).filter((id) => !refused.has(id));
        expect(along.seen).toEqual([...ids, 'clock']);
      }),
      { numRuns: 50 },
    );
  });

  it('is the plain one in sealed tubs where readings change nothing', () => {
    fc.assert(
      fc.property(sealedHeader, anyDrafts, readings, (header, drafts, among) => {
        const shop = openShop(header);
        const mixed = withReadings(drafts, among);
        const plain = replay(shop, entriesOf(drafts), clockOf(drafts));
        const read = replay(shop, entriesOf(mixed), clockOf(drafts), { along: onlooker(1) });
        expect(read.baths).toEqual(plain.baths);
      }),
      { numRuns: 50 },
    );
  });

  it('closes its tallies whatever a reading makes of the baths, and refuses one of an empty bath', () => {
    let learned = 0;
    fc.assert(
      fc.property(
        anyHeader,
        anyDrafts,
        readings,
        fc.constantFrom(0.5, 0.97, 1.03, 2),
        (header, drafts, among, factor) => {
          const mixed = withReadings(drafts, among);
          const along = onlooker(factor);
          const { baths, tally, refused } = replay(openShop(header), entriesOf(mixed), clockOf(drafts), {
            along,
          });
          expect(imbalance(baths, tally)).toBeLessThanOrEqual(1e-9);
          expect(gapOf(baths, tally)).toBeLessThanOrEqual(1e-9);
          const unread = refused.filter(({ entry }) => entry.event.what === 'reading');
          expect(unread.every(({ refusal }) => ['empty', 'dry'].includes(refusal.why))).toBe(true);
          const read = mixed.filter(
            ({ what }, place) => what === 'reading' && along.seen.includes(`e${place}`),
          );
          expect(read.length + unread.length).toBe(among.length);
          learned += read.length;
        },
      ),
      { numRuns: 100 },
    );
    // Otherwise this would say nothing.
    expect(learned).toBeGreaterThan(100);
  });
});

/** The same history in a shop `factor` times as large. */
function scaled(header: Header, drafts: readonly Draft[], factor: number): [Header, Draft[]] {
  const baths = Object.fromEntries(
    Object.entries(header.baths).map(([name, tub]) => [name, { ...tub, mark_ml: tub.mark_ml * factor }]),
  );
  const keys = ['ml', 'area_cm2', 'volume_ml', 'carry_g', 'carry_ml', 'trapped_g'];
  const grown = drafts.map((draft) => {
    const copy: Record<string, unknown> = { ...draft };
    for (const key of keys) if (typeof copy[key] === 'number') copy[key] *= factor;
    if (Array.isArray(copy.drag_ml)) copy.drag_ml = copy.drag_ml.map((ml: number) => ml * factor);
    return copy as unknown as Draft;
  });
  return [{ ...header, baths }, grown];
}

describe('scaling', () => {
  it('changes no fraction and no residue, with drag-out given and nothing lost to the air', () => {
    fc.assert(
      fc.property(sealedHeader, scalableDrafts, fc.constantFrom(0.1, 2, 7.3), (header, drafts, factor) => {
        const small = run(header, drafts);
        const large = run(...scaled(header, drafts, factor));
        expect(large.seen.length).toBe(small.seen.length);
        small.seen.forEach((step, at) => {
          const other = large.seen[at]!;
          step.baths.forEach((bath, place) => {
            // A share of what little rounding leaves behind is no fraction.
            if (bathVolume(bath, small.shop.resins) < 1e-6) return;
            expect(resinFraction(other.baths[place]!)).toBeCloseTo(resinFraction(bath), 10);
          });
          if (step.wash) {
            const residue = step.wash.residueUgPerCm2;
            expect(Math.abs(other.wash!.residueUgPerCm2 - residue)).toBeLessThanOrEqual(
              1e-9 * residue + 1e-9,
            );
          }
        });
      }),
    );
  });
});
