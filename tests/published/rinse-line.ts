/**
 * A line of rinse tanks run through the program, for comparison with rinse theory.
 *
 * Theory: a load brings `carryMl` of pure resin, every film leaves with the concentration of its tank, volumes add.
 * X is the resin volume fraction right after a wash, C the same after the level rule. The program is driven with its own
 * keys only: `carry_ml`, `drag_ml`, a soak so long that nothing stays undissolved (exp(−1440/1.2) is 0 in doubles), and
 * `to: mark`. Evaporation is off.
 */

import { DISSOLUTION_MIN } from '../../src/bath/load.ts';
import { replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { type Bath, bathVolume, resinVolume } from '../../src/bath/state.ts';
import { type Draft, entriesOf, headerOf, START_MS } from '../bath/bench.ts';

export interface Line {
  /** Mark of each tank, mL. */
  volumesMl: number[];
  /** Resin brought by each load, mL; the list repeats. */
  carryMl: number[];
  /** Film that leaves each tank, mL, one list for each tank; the lists repeat. */
  dragMl: number[][];
  /** Kept at the mark after each load, or left as it comes. */
  rule: 'level' | 'float';
  /** Share of the resin that passes the first tank undissolved. */
  bypass?: number;
  /** Rotate the pair after so many loads. */
  rotateEvery?: number;
  resinDensity?: number;
  areaCm2?: number;
}

/** One load: volume fractions in each tank, resin held [mL], residue on the parts [µg/cm²]. */
interface Load {
  x: number[];
  c: number[];
  residueUgPerCm2: number;
}

export interface Course {
  loads: Load[];
  /** Resin in the first tank right after each rotation, mL. */
  startsMl: number[];
  /** The five tallies closed when the replay ended; what is left on parts, in waste and held, mL of resin. */
  resinMl: { in: number; parts: number; waste: number; held: number };
}

const LONG_SOAK_MIN = 1440;

export function runLine(line: Line, loads: number): Course {
  const names = namesOf(line);
  const density = line.resinDensity ?? 1.11;
  const marks = names.map((name, at) => [name, { mark_ml: line.volumesMl[at]! }]);
  const header = headerOf(Object.fromEntries(marks), { resins: { test: { density_g_ml: density } } });
  const shop = openShop(header);
  const course: Course = { loads: [], startsMl: [], resinMl: { in: 0, parts: 0, waste: 0, held: 0 } };
  const fractions = (baths: readonly Bath[]) =>
    baths.map((bath) => resinVolume(bath, shop.resins) / bathVolume(bath, shop.resins));
  const replayed = replay(shop, entriesOf(draftsOf(line, names, loads)), START_MS, {
    watch: ({ entry, baths, wash }) => {
      if (wash) {
        const x = fractions(baths);
        course.loads.push({ x, c: x, residueUgPerCm2: wash.residueUgPerCm2 });
      } else if (entry.event.what === 'rotate') {
        course.startsMl.push(resinVolume(baths[0]!, shop.resins));
      } else if (course.loads.length > 0) {
        course.loads.at(-1)!.c = fractions(baths);
      }
    },
  });
  if (replayed.refused.length > 0) throw new Error(`refused: ${JSON.stringify(replayed.refused[0])}`);
  const { tally, baths } = replayed;
  const held = baths.reduce((sum, bath) => sum + resinVolume(bath, shop.resins), 0);
  course.resinMl = {
    in: tally.in.resin / density,
    parts: tally.parts.resin / density,
    waste: tally.waste.resin / density,
    held,
  };
  return course;
}

function namesOf({ volumesMl }: Line): string[] {
  return volumesMl.length === 2 ? ['dirty', 'clean'] : volumesMl.map((_, at) => `tank${at + 1}`);
}

function draftsOf(line: Line, names: string[], loads: number): Draft[] {
  const solvent = 'ipa99';
  const drafts: Draft[] = names.map((bath, at) => ({ what: 'fill', bath, solvent, ml: line.volumesMl[at]! }));
  const first = line.bypass ? -DISSOLUTION_MIN.ultrasonic * Math.log(line.bypass) : LONG_SOAK_MIN;
  const minutes = names.map((_, at) => (at === 0 ? first : LONG_SOAK_MIN));
  for (let load = 0; load < loads; load += 1) {
    const carry = line.carryMl[load % line.carryMl.length]!;
    const drag = line.dragMl.map((list) => list[load % list.length]!);
    drafts.push({
      what: 'wash',
      area_cm2: line.areaCm2 ?? 100,
      resin: 'test',
      baths: names,
      agitation: 'ultrasonic',
      minutes,
      carry_ml: carry,
      drag_ml: drag,
    });
    if (line.rule === 'level')
      drafts.push(...levelled(names, gainsOf(carry, drag, line.bypass ?? 0), solvent));
    if (line.rotateEvery && (load + 1) % line.rotateEvery === 0) drafts.push({ what: 'rotate', solvent });
  }
  return drafts;
}

/** What each tank gained at a load, mL. */
function gainsOf(carryMl: number, dragMl: number[], bypass: number): number[] {
  return dragMl.map((leaves, at) => {
    const resin = at === 0 ? (1 - bypass) * carryMl : at === 1 ? bypass * carryMl : 0;
    return resin + (dragMl[at - 1] ?? 0) - leaves;
  });
}

/** Tops up a tank that lost more than it got, drains one that got more. */
function levelled(names: string[], gains: number[], solvent: string): Draft[] {
  return names.flatMap((bath, at): Draft[] => {
    if (gains[at] === 0) return [];
    return gains[at]! > 0
      ? [{ what: 'drain', bath, to: 'mark' }]
      : [{ what: 'top-up', bath, solvent, to: 'mark' }];
  });
}

/** The line of a text like `V1=1000; V2=800; Dr=4; D1=2; D2=2; phi=1/20`. */
export function lineOf(numbers: Record<string, number[]>, rule: Line['rule']): Line {
  const tanks = numbers.V2 ? 2 : 1;
  return {
    volumesMl: tanks === 2 ? [numbers.V1![0]!, numbers.V2![0]!] : [numbers.V1![0]!],
    carryMl: numbers.Dr!,
    dragMl: tanks === 2 ? [numbers.D1!, numbers.D2!] : [numbers.D1!],
    rule,
    ...(numbers.phi ? { bypass: numbers.phi[0]! } : {}),
  };
}

/** A row of `tanks` equal tanks fed from a bath of pure resin, so that C0 = 1. */
export function equalTanks(volumeMl: number, dragMl: number, tanks: number): Line {
  return {
    volumesMl: Array(tanks).fill(volumeMl),
    carryMl: [dragMl],
    dragMl: Array(tanks).fill([dragMl]),
    rule: 'level',
  };
}
