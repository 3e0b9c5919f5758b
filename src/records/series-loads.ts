/**
 * Loads over a window of time: what each left on its parts, and how many there were.
 */
import type { WashOutcome } from '../bath/wash.ts';
import type { Entry, InspectResult } from '../ledger/event.ts';
import { type Bin, binAt } from './series-bins.ts';
import { type Point, Thinned } from './series-thin.ts';

/** A day, a week or a month. */
export interface LoadsOf extends Bin {
  loads: number;
  /** µg/cm², the least and the most that a load of it left; null where no surface is known. */
  least: number | null;
  most: number | null;
}

/** A load whose parts did not look as they should. */
export interface Blemished {
  atMs: number;
  residue: number;
  results: InspectResult[];
}

export interface Loads {
  bins: LoadsOf[];
  /** Residue of the loads [µg/cm²], thinned. */
  residue: Point[];
  blemished: Blemished[];
}

/** Dots need more room than a line. */
const COLUMNS = 240;

export class LoadsKept {
  readonly bins: readonly Bin[];
  private readonly counted: LoadsOf[];
  private readonly residue: Thinned;
  private readonly results = new Map<string, InspectResult[]>();
  private readonly blemished: Blemished[] = [];

  constructor(window: { fromMs: number; toMs: number }, bins: readonly Bin[], entries: readonly Entry[]) {
    this.bins = bins;
    this.counted = bins.map((bin) => ({ ...bin, loads: 0, least: null, most: null }));
    this.residue = new Thinned(window, COLUMNS);
    for (const { event } of entries) {
      if (event.what !== 'inspect' || event.wash === undefined || event.result === 'ok') continue;
      this.results.set(event.wash, [...(this.results.get(event.wash) ?? []), event.result]);
    }
  }

  add({ atMs, event }: Entry, { residueUgPerCm2 }: WashOutcome): void {
    const bin = this.counted[binAt(this.bins, atMs)];
    if (bin) bin.loads += 1;
    if (!Number.isFinite(residueUgPerCm2)) return;
    this.residue.add(atMs, residueUgPerCm2);
    if (bin) {
      bin.least = Math.min(bin.least ?? residueUgPerCm2, residueUgPerCm2);
      bin.most = Math.max(bin.most ?? residueUgPerCm2, residueUgPerCm2);
    }
    const results = this.results.get(event.id);
    if (results) this.blemished.push({ atMs, residue: residueUgPerCm2, results: [...new Set(results)] });
  }

  loads(): Loads {
    return { bins: this.counted, residue: this.residue.points(), blemished: this.blemished };
  }
}
