/**
 * Golden cases: complete ledgers, and what an independent implementation of the model computes from them. Nothing in
 * tests/golden was produced by this program; tests/golden/README.md says what each key means.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { figuresOf } from '../src/bath/figures.ts';
import { replay } from '../src/bath/replay.ts';
import { openShop, type Shop } from '../src/bath/shop.ts';
import { type Bath, isEmpty } from '../src/bath/state.ts';
import { held } from '../src/bath/tally.ts';
import { readLedger } from '../src/ledger/read.ts';
import { settle } from '../src/ledger/settle.ts';

interface Expected {
  about: string;
  tolerance_relative: number;
  as_of: string;
  after: ({ id: string; what: string; wash?: Record<string, number | number[]> } & Record<string, unknown>)[];
  at_as_of: Record<string, Record<string, number | null>>;
  tally_g: Record<string, Record<string, number>>;
  closed_form?: { after: string; bath: string; value: number; quantity: string }[];
}

const folder = new URL('golden/', import.meta.url);
const cases = readdirSync(folder).filter((name) => name.endsWith('.yaml'));

function expectedOf(name: string): Expected {
  return JSON.parse(readFileSync(new URL(name.replace('.yaml', '.expected.json'), folder), 'utf8'));
}

/** Values below 0.001 of their unit compare against 0.001. */
function close(actual: number | null, wanted: number | null, tolerance: number, label: string): void {
  if (wanted === null || actual === null) {
    expect(actual, label).toBe(wanted);
    return;
  }
  const gap = Math.abs(actual - wanted) / Math.max(Math.abs(wanted), 0.001);
  expect(gap, `${label}: ${actual} against ${wanted}`).toBeLessThanOrEqual(tolerance);
}

function contents(bath: Bath, shop: Shop): Record<string, number | null> {
  const figures = figuresOf(bath, shop.resins, shop.roomC);
  return {
    resin_g: figures.resinG,
    ipa_g: figures.ipaG,
    water_g: figures.waterG,
    volume_ml: figures.volumeMl,
    resin_wt_pct: figures.resinWtPct,
    resin_vol_pct: figures.resinVolPct,
    water_wt_pct: figures.waterWtPct,
    density_20c_g_ml: figures.density20,
  };
}

/** Values that published rinse theory gives exactly, from a recursion in rational numbers. */
const EXACT = 1e-9;

/** Holds both baths right after one event against the exact values named for it; tells how many there were. */
function compareExact(
  baths: readonly Bath[],
  exact: NonNullable<Expected['closed_form']>,
  id: string,
  shop: Shop,
): number {
  const named = exact.filter(({ after }) => after === id);
  for (const { bath, quantity, value } of named) {
    const actual = contents(baths[shop.tubPlace.get(bath)!]!, shop)[quantity]!;
    close(actual, value, EXACT, `${id} ${bath} ${quantity} by theory`);
  }
  return named.length;
}

function compareBaths(
  baths: readonly Bath[],
  wanted: Record<string, unknown>,
  on: { shop: Shop; tolerance: number; label: string },
): void {
  on.shop.tubs.forEach((tub, place) => {
    const expected = wanted[tub.name] as Record<string, number | null>;
    const actual = contents(baths[place]!, on.shop);
    if (isEmpty(baths[place]!)) expect(expected.resin_wt_pct, `${on.label} ${tub.name}`).toBeNull();
    for (const key of Object.keys(expected)) {
      close(actual[key]!, expected[key]!, on.tolerance, `${on.label} ${tub.name} ${key}`);
    }
  });
}

describe('golden cases', () => {
  it('are all here', () => {
    expect(cases.length).toBe(14);
    const withTheory = cases.filter((name) => expectedOf(name).closed_form);
    expect(withTheory).toEqual(cases.filter((name) => /^p0[234]-theory/.test(name)));
  });

  it.each(cases)('%s', async (name) => {
    const file = await readLedger(readFileSync(new URL(name, folder)));
    expect(file.problems).toEqual([]);
    const expected = expectedOf(name);
    const clockMs = Date.parse(expected.as_of);
    const shop = openShop(file.header!);
    const settled = await settle(file.events, clockMs);
    expect(settled.problems).toEqual([]);
    const tolerance = expected.tolerance_relative;
    const exact = expected.closed_form ?? [];
    let seen = 0;
    let seenExact = 0;
    const replayed = replay(shop, settled.entries, clockMs, {
      watch: ({ entry, baths, wash }) => {
        const wanted = expected.after[seen]!;
        seen += 1;
        const label = `${wanted.id} (${wanted.what})`;
        expect(entry.event.id).toBe(wanted.id);
        compareBaths(baths, wanted, { shop, tolerance, label });
        seenExact += compareExact(baths, exact, wanted.id, shop);
        if (!wanted.wash) return;
        close(wash!.carryG, wanted.wash.carry_g as number, tolerance, `${label} carry_g`);
        close(wash!.residueUgPerCm2, wanted.wash.residue_ug_per_cm2 as number, tolerance, `${label} residue`);
        close(wash!.areaCm2, wanted.wash.area_cm2 as number, tolerance, `${label} area`);
        const drags = wanted.wash.drag_ml as number[];
        expect(wash!.dragMl.length, label).toBe(drags.length);
        drags.forEach((drag, step) => {
          close(wash!.dragMl[step]!, drag, tolerance, `${label} drag ${step}`);
        });
      },
    });
    expect(seen).toBe(expected.after.length);
    expect(seenExact).toBe(exact.length);
    expect(replayed.refused).toEqual([]);
    compareBaths(replayed.baths, expected.at_as_of, { shop, tolerance, label: 'at the clock' });
    compareTallies({ ...replayed.tally, held: held(replayed.baths) }, expected.tally_g, tolerance);
  });
});

/** Tallies compare against the largest of the six for that substance. */
function compareTallies(
  actual: Record<string, { resin: number; ipa: number; water: number }>,
  wanted: Record<string, Record<string, number>>,
  tolerance: number,
): void {
  for (const substance of ['resin', 'ipa', 'water'] as const) {
    const scale = Math.max(...Object.values(wanted).map((grams) => Math.abs(grams[substance]!)), 1e-3);
    for (const tally of Object.keys(wanted)) {
      const gap = Math.abs(actual[tally]![substance] - wanted[tally]![substance]!) / scale;
      expect(gap, `${tally} ${substance}`).toBeLessThanOrEqual(tolerance);
    }
  }
}
