/**
 * How resin and water of each bath went over a window of time, with what was done to them; kept while one replay runs.
 *
 * Each moment is what the entries up to it say, with their corrections: what `baths --as-of` tells of it.
 */
import type { Move } from '../bath/moves.ts';
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { Belief } from '../belief/belief.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Entry } from '../ledger/event.ts';
import { type Loads, LoadsKept } from './series-loads.ts';
import { type Banded, bandsAt, type Percents, percentsOf } from './series-look.ts';
import { type LookPlan, lookPlan } from './series-plan.ts';
import { Stood } from './series-stood.ts';
import { type Point, Thinned } from './series-thin.ts';

export interface Window {
  fromMs: number;
  toMs: number;
}

/** One bath at one moment; null while it held no solvent. */
export interface Looked {
  atMs: number;
  banded: Percents<Banded> | null;
}

interface BathSeries {
  /** The best estimate at every event, thinned. */
  best: Percents<Point[]>;
  /** With the band, at the moments that were looked at, in order. */
  looked: Looked[];
}

export interface Turn {
  atMs: number;
  what: Move['what'];
  /** Places of the baths whose liquid it changed. */
  baths: number[];
}

export interface Series {
  window: Window;
  /** In the order of `shop.tubs`. */
  baths: BathSeries[];
  turns: Turn[];
  loads: Loads;
}

export class SeriesKept {
  private readonly shop: Shop;
  private readonly window: Window;
  private readonly plan: LookPlan;
  private readonly moments: readonly number[];
  private readonly best: Percents<Thinned>[];
  private readonly looked: Looked[][];
  private readonly turns: Turn[] = [];
  private readonly loads: LoadsKept;
  private readonly still: Stood;
  private place = 0;
  private next = 0;

  /**
   * @param entries - those that are replayed, none after the window
   * @param moments - looked at besides, in order
   */
  constructor(
    shop: Shop,
    on: { window: Window; entries: readonly Entry[]; moments: readonly number[]; bins: LoadsKept['bins'] },
  ) {
    const { window } = on;
    this.shop = shop;
    this.window = window;
    this.still = new Stood(shop);
    this.plan = lookPlan(on.entries, window);
    this.moments = [window.fromMs, ...on.moments.filter((ms) => ms > window.fromMs && ms < window.toMs)];
    this.best = shop.tubs.map(() => ({ resin: new Thinned(window), water: new Thinned(window) }));
    this.looked = shop.tubs.map(() => []);
    this.loads = new LoadsKept(window, on.bins, on.entries);
  }

  /** To be handed to a replay. */
  watch(step: Step, belief: Belief): void {
    const { watched, after, before } = this.plan;
    const { entry } = step;
    const place = watched.indexOf(entry, this.place);
    // One that is refused is not among them, and has changed nothing.
    if (place < 0) return;
    this.place = place;
    const next = watched[place + 1];
    if (entry.atMs > this.window.fromMs) this.happened(step, after.has(entry) ? belief.ensemble : null);
    const untilMs = next?.atMs ?? this.window.toMs;
    for (let ms = this.moments[this.next]; ms !== undefined && ms < untilMs; ms = this.moments[this.next]) {
      if (ms >= entry.atMs) this.stood(ms, step, belief);
      this.next += 1;
    }
    if (next && before.has(next)) this.stood(next.atMs, step, belief);
  }

  /** @param estimates - at the end of the window */
  series(estimates: readonly { resinWtPct: Quantity | null; waterWtPct: Quantity | null }[]): Series {
    const { toMs } = this.window;
    const now = estimates.map(({ resinWtPct, waterWtPct }) =>
      resinWtPct && waterWtPct ? { resin: whole(resinWtPct), water: whole(waterWtPct) } : null,
    );
    now.forEach((banded, place) => {
      this.keep(place, toMs, banded && { resin: banded.resin.p50, water: banded.water.p50 });
      this.looked[place]!.push({ atMs: toMs, banded });
    });
    const baths = this.best.map(({ resin, water }, place) => ({
      best: { resin: resin.points(), water: water.points() },
      looked: this.looked[place]!,
    }));
    return { window: this.window, baths, turns: this.turns, loads: this.loads.loads() };
  }

  /** An event in the window; with the worlds, where they are looked at. */
  private happened(step: Step, ensemble: Ensemble | null): void {
    const { entry, before, baths } = step;
    const seen = ensemble?.at(entry.atMs);
    baths.forEach((bath, place) => {
      this.keep(place, entry.atMs, percentsOf(before[place]!));
      this.keep(place, entry.atMs, percentsOf(bath));
      if (seen) this.looked[place]!.push({ atMs: entry.atMs, banded: bandsAt(bath, place, seen) });
    });
    if (step.move) this.turns.push(turnOf(entry, this.shop));
    if (step.wash) this.loads.add(entry, step.wash);
  }

  /** A moment after an event at which nothing happened. */
  private stood(atMs: number, step: Step, belief: Belief): void {
    const { baths, ensemble } = this.still.at(atMs, step, belief.ensemble);
    baths.forEach((bath, place) => {
      this.keep(place, atMs, percentsOf(bath));
      this.looked[place]!.push({ atMs, banded: bandsAt(bath, place, ensemble) });
    });
  }

  private keep(place: number, atMs: number, percents: Percents<number> | null): void {
    const { resin, water } = this.best[place]!;
    resin.add(atMs, percents?.resin ?? null);
    water.add(atMs, percents?.water ?? null);
  }
}

interface Quantity {
  p05?: number;
  p50: number;
  p95?: number;
}

function whole({ p05, p50, p95 }: Quantity): Banded {
  return { p05: p05 ?? p50, p50, p95: p95 ?? p50 };
}

function turnOf({ atMs, event }: Entry, { tubPlace }: Shop): Turn {
  const move = event as Move;
  const names = move.what === 'rotate' ? ['dirty', 'clean'] : [move.bath];
  return { atMs, what: move.what, baths: names.map((name) => tubPlace.get(name)!) };
}
