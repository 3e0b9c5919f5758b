/**
 * The worlds beside the best estimate, README.md 2 and 3: one for the middle, and two for each unknown factor, √3 standard
 * deviations above and below it.
 */
import type { Load } from '../bath/load.ts';
import type { Move } from '../bath/moves.ts';
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath, copyInto, isEmpty } from '../bath/state.ts';
import type { WashOutcome } from '../bath/wash.ts';
import { type Bend, bendThrough, REACH, slope } from './bend.ts';
import { type Axis, axesOf, copyFactors, factorOn, setFactor, washScatter } from './factors.ts';
import { joined, type Lump, lumpOf } from './lump.ts';
import {
  addColumn,
  type Covariance,
  noCovariance,
  passed,
  passMove,
  passWash,
  scatterOf,
} from './scatter.ts';
import { emptyWorld, moveWorld, roomFor, standWorld, type World, washWorld } from './world.ts';

/** What a single wash did to the worlds, before its scatter is added to theirs. */
export interface SingleWash {
  /** In each world; undefined where it could not be. */
  outcomes: (WashOutcome | undefined)[];
  /** Grams in each bath for one standard deviation of the wash's own scatter. */
  column: Float64Array;
  /** That standard deviation, of ln c. */
  scatterSd: number;
}

/** A figure of the last wash in every world. */
export interface WashFigure {
  /** By world. */
  values: number[];
  /** Standard deviation of its logarithm from the wash's own scatter. */
  scatterSd: number;
  /** By how much readings since have moved it. */
  moved: number;
}

/** What the worlds say of the last washes: it tells how far off the last wash's own figures may be. */
export interface LastWash {
  carry: WashFigure;
  residue: WashFigure;
  drags: WashFigure[];
}

/**
 * The air of so short a time may be taken after a wash that lay in it: what that neglects is the product of the share that
 * evaporates, below a hundredth, and the share that a lump carries out.
 */
const SHORT_MS = 12 * 3_600_000;

/** All that goes on from one event to the next. Plain data. */
export interface EnsembleUnderway {
  worlds: World[];
  scatter: Covariance;
  last: LastWash | undefined;
  sinceMs: number;
  lump: Lump | undefined;
}

export class Ensemble {
  readonly shop: Shop;
  readonly axes: Axis[];
  /** The middle, then for each axis the world above and the one below. */
  readonly worlds: World[];
  scatter: Covariance;
  last: LastWash | undefined;
  private sinceMs = Number.NaN;
  private lump: Lump | undefined;
  private readonly room: Bath[];

  /** @param from - where another of this shop came to, which this one carries on and changes */
  constructor(shop: Shop, factors: AllFactors, from?: EnsembleUnderway) {
    this.shop = shop;
    this.axes = axesOf(shop);
    this.worlds = Array.from({ length: 1 + 2 * this.axes.length }, () => emptyWorld(shop, factors));
    this.scatter = noCovariance(shop.tubs.length);
    this.room = roomFor(shop);
    if (from) this.carryOn(from);
    else this.spreadFactors();
  }

  /** Where it has come to; live. */
  get underway(): EnsembleUnderway {
    const { worlds, scatter, last, sinceMs, lump } = this;
    return { worlds, scatter, last, sinceMs, lump };
  }

  /** A wash joins those that wait, or the worlds take those first. */
  wash(load: Load, atMs: number): void {
    if (this.lump && joined(this.lump, load, atMs, this.shop)) return;
    this.takeLump();
    this.lump = lumpOf(load, atMs);
  }

  /** A wash by itself, whose scatter is left for the caller to add to {@link scatter}. */
  washAlone(load: Load, atMs: number): SingleWash {
    this.takeLump();
    return this.washAll(lumpOf(load, atMs));
  }

  /** A move of liquid; `before` and `after` are the baths of the best estimate. */
  move(
    move: Move,
    on: { atMs: number; before: readonly Bath[]; after: readonly Bath[]; solvent: string | undefined },
  ): void {
    this.standTo(on.atMs);
    for (const world of this.worlds) moveWorld(world, { ...on, shop: this.shop, move });
    this.scatter = passed(this.scatter, passMove(move, on.before, on.after, this.shop));
  }

  /** Brings the worlds to a moment: the washes that wait, then the air. */
  standTo(atMs: number): void {
    this.takeLump();
    this.stand(atMs);
  }

  /**
   * Somebody read a liquid in this bath: worlds in which it had dried out are wrong, and take the liquid of the middle or,
   * where that is dry as well, of the best estimate.
   */
  refuteDry(place: number, best: Bath): void {
    const middle = this.worlds[0]!.baths[place]!;
    if (isEmpty(middle)) copyInto(middle, best);
    for (const { baths } of this.worlds) if (isEmpty(baths[place]!)) copyInto(baths[place]!, middle);
  }

  /** The worlds as they are at a moment, apart: this ensemble goes on as if nobody had looked. */
  at(atMs: number): Ensemble {
    const { worlds, scatter, lump, ...rest } = this.underway;
    const seen = new Ensemble(this.shop, worlds[0]!.factors, {
      ...rest,
      worlds: worlds.map(({ baths, factors }) => ({
        baths: baths.map(copyBath),
        factors: copyFactors(factors),
      })),
      scatter: scatter.map((row) => row.slice()),
      lump: lump && { ...lump, load: { ...lump.load } },
    });
    seen.standTo(atMs);
    return seen;
  }

  /** How a figure answers to each factor, from its values in the worlds; the middle is the origin. */
  bends(values: ArrayLike<number>): Bend[] {
    const middle = values[0]!;
    return this.axes.map((_, axis) =>
      bendThrough(middle - values[2 + 2 * axis]!, values[1 + 2 * axis]! - middle),
    );
  }

  /** The slopes of curves at the middle. */
  slopesOf(bends: readonly Bend[]): Float64Array {
    return Float64Array.from(bends, (bend) => slope(bend, 0));
  }

  /** Standard deviations of ln κ, in the order of the axes. */
  factorSds(): number[] {
    return this.axes.map((axis) => {
      const logs = this.worlds.map(({ factors }) => Math.log(factorOn(factors, axis)));
      const halves = this.axes.map((_, other) => (logs[1 + 2 * other]! - logs[2 + 2 * other]!) / (2 * REACH));
      return Math.sqrt(halves.reduce((sum, one) => sum + one * one, 0));
    });
  }

  private carryOn({ worlds, scatter, last, sinceMs, lump }: EnsembleUnderway): void {
    worlds.forEach((world, place) => {
      this.worlds[place] = world;
    });
    this.scatter = scatter;
    this.last = last;
    this.sinceMs = sinceMs;
    this.lump = lump;
  }

  private spreadFactors(): void {
    this.axes.forEach((axis, place) => {
      const middle = factorOn(this.worlds[0]!.factors, axis);
      setFactor(this.worlds[1 + 2 * place]!.factors, axis, middle * Math.exp(REACH * axis.priorSd));
      setFactor(this.worlds[2 + 2 * place]!.factors, axis, middle * Math.exp(-REACH * axis.priorSd));
    });
  }

  private stand(atMs: number): void {
    for (const world of this.worlds) standWorld(world, this.shop, atMs - this.sinceMs);
    this.sinceMs = atMs;
  }

  private takeLump(): void {
    const { lump } = this;
    if (!lump) return;
    this.lump = undefined;
    const { column } = this.washAll(lump);
    addColumn(this.scatter, column);
  }

  private washAll(lump: Lump): SingleWash {
    const { shop } = this;
    const middleMs = (lump.firstMs + lump.lastMs) / 2;
    if (!(middleMs - this.sinceMs < SHORT_MS)) this.stand(middleMs);
    const outcomes = this.worlds.map((world) => washWorld(world, shop, lump.load, this.room));
    const scatterSd = scatterOf(lump);
    const column = new Float64Array(shop.tubs.length);
    if (outcomes[0]) {
      const ownSd = lump.load.givenCarryG === undefined ? washScatter(lump.load) : 0;
      this.last = lastOf(outcomes, ownSd);
      const rows = passWash(shop.tubs.length, lump.load, outcomes[0], scatterSd);
      this.scatter = passed(this.scatter, rows);
      rows.forEach((row, place) => {
        column[place] = row[shop.tubs.length]!;
      });
    }
    return { outcomes, column, scatterSd };
  }
}

function lastOf(outcomes: readonly (WashOutcome | undefined)[], ownSd: number): LastWash {
  const first = outcomes[0]!;
  const figure = (of: (outcome: WashOutcome) => number, share: number): WashFigure => ({
    values: outcomes.map((outcome) => of(outcome ?? first)),
    scatterSd: ownSd * share,
    moved: 1,
  });
  const rest = first.residueG > 0 ? first.undissolvedG / first.residueG : 0;
  return {
    carry: figure(({ carryG }) => carryG, 1),
    residue: figure(({ residueG }) => residueG, rest),
    drags: first.dragMl.map((_, step) => figure(({ dragMl }) => dragMl[step]!, 0)),
  };
}
