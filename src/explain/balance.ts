/** Where the grams in a bath came from and went since its liquid was last changed. */
import type { Step } from '../bath/replay.ts';
import { type Bath, resinMass } from '../bath/state.ts';

export type Substance = 'resin' | 'ipa' | 'water';

/** Grams of one substance in one bath; what left counts negative. They add up to what the bath holds. */
export interface Balance {
  /** What the liquid held right after it was changed. */
  start: number;
  /** Of the loads: what dissolved off them, what came in on their film, and what went out with it. */
  dissolved: number;
  film: number;
  out: number;
  /** Top-ups and drains. */
  moved: number;
  air: number;
  /** What readings took it to be instead. */
  readings: number;
}

/** One bath since its last change. */
export interface BathHistory {
  /** When, and by which entry; null before the first. */
  changed: { atMs: number; what: string } | null;
  loads: number;
  balance: Record<Substance, Balance>;
}

/** Keeps the balances of all baths along a replay. */
export class Balances {
  readonly baths: BathHistory[];
  private last: Bath[];

  constructor(count: number, copies: readonly Bath[]) {
    this.baths = Array.from({ length: count }, () => nothingYet(null));
    this.last = copies.map(copyOf);
  }

  /** Takes in a step of the replay. */
  see(step: Step): void {
    const reads = step.entry.event.what === 'reading';
    // A reading that taught nothing moved nothing, and the air goes on from the event before.
    if (reads && step.baths.every((bath, place) => isSame(bath, step.before[place]!))) return;
    for (let place = 0; place < this.baths.length; place += 1) this.seeBath(step, place);
    this.last = step.baths.map(copyOf);
  }

  /** The baths at the clock, after they have stood. */
  end(baths: readonly Bath[]): void {
    baths.forEach((bath, place) => {
      each(this.baths[place]!, (balance, of) => (balance.air += of(bath) - of(this.last[place]!)));
    });
  }

  private seeBath(step: Step, place: number): void {
    const before = step.before[place]!;
    const after = step.baths[place]!;
    const history = this.baths[place]!;
    each(history, (balance, of) => (balance.air += of(before) - of(this.last[place]!)));
    if (step.wash) seeWash(step, place, history);
    else if (step.entry.event.what === 'reading')
      each(history, (balance, of) => (balance.readings += of(after) - of(before)));
    else if (!Object.is(after.changedMs, before.changedMs)) {
      this.baths[place] = nothingYet({ atMs: step.entry.atMs, what: step.entry.event.what });
      each(this.baths[place]!, (balance, of) => (balance.start = of(after)));
    } else each(history, (balance, of) => (balance.moved += of(after) - of(before)));
  }
}

/** What the load did in each bath of its way; anything else that changed then was learned from a weighing. */
function seeWash({ wash, load, before, baths }: Step, place: number, history: BathHistory): void {
  if (!load!.baths.includes(place)) return;
  history.loads += 1;
  each(history, (balance, of, substance) => {
    const now = before.map(of);
    let film = 0;
    load!.baths.forEach((at, nth) => {
      const dissolved = substance === 'resin' ? wash!.dissolvedG[nth]! : 0;
      const out = (now[at]! + film + dissolved) * wash!.shares[nth]!;
      now[at] = now[at]! + film + dissolved - out;
      if (at === place) {
        balance.film += film;
        balance.dissolved += dissolved;
        balance.out -= out;
      }
      film = out;
    });
    balance.readings += of(baths[place]!) - now[place]!;
  });
}

type Of = (bath: Bath) => number;

const GRAMS: Record<Substance, Of> = {
  resin: resinMass,
  ipa: ({ ipaG }) => ipaG,
  water: ({ waterG }) => waterG,
};

function each(
  { balance }: BathHistory,
  change: (balance: Balance, of: Of, substance: Substance) => void,
): void {
  for (const substance of ['resin', 'ipa', 'water'] as const)
    change(balance[substance], GRAMS[substance], substance);
}

function nothingYet(changed: BathHistory['changed']): BathHistory {
  const none = (): Balance => ({
    start: 0,
    dissolved: 0,
    film: 0,
    out: 0,
    moved: 0,
    air: 0,
    readings: 0,
  });
  return { changed, loads: 0, balance: { resin: none(), ipa: none(), water: none() } };
}

function copyOf(bath: Bath): Bath {
  return { ...bath, resin: bath.resin.slice() };
}

function isSame(one: Bath, other: Bath): boolean {
  return (
    one.ipaG === other.ipaG &&
    one.waterG === other.waterG &&
    one.resin.length === other.resin.length &&
    one.resin.every((grams, place) => grams === other.resin[place])
  );
}
