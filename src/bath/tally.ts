/**
 * The five tallies: what went in is held, or left on parts, in the tray, as waste or into the air.
 */
import { type Bath, resinMass } from './state.ts';

/** Grams of each substance. */
export interface Grams {
  resin: number;
  ipa: number;
  water: number;
}

export interface Tally {
  /** All that was ever poured in or carried in. */
  in: Grams;
  /** Film and undissolved rest on washed parts. */
  parts: Grams;
  /** Taken off by rinses before and between the baths. */
  tray: Grams;
  /** Drained to waste. */
  waste: Grams;
  /** Net loss to the air; water taken up counts negative. */
  air: Grams;
}

/** Nothing has moved yet. */
export function emptyTally(): Tally {
  const none = (): Grams => ({ resin: 0, ipa: 0, water: 0 });
  return { in: none(), parts: none(), tray: none(), waste: none(), air: none() };
}

/** Makes `tally` the same as `from`, without making anything new. */
export function copyTally(tally: Tally, from: Tally): void {
  copyGrams(tally.in, from.in);
  copyGrams(tally.parts, from.parts);
  copyGrams(tally.tray, from.tray);
  copyGrams(tally.waste, from.waste);
  copyGrams(tally.air, from.air);
}

function copyGrams(grams: Grams, from: Grams): void {
  grams.resin = from.resin;
  grams.ipa = from.ipa;
  grams.water = from.water;
}

/** What the baths hold now. */
export function held(baths: readonly Bath[]): Grams {
  const sum: Grams = { resin: 0, ipa: 0, water: 0 };
  for (const bath of baths) {
    sum.resin += resinMass(bath);
    sum.ipa += bath.ipaG;
    sum.water += bath.waterG;
  }
  return sum;
}

/** The balance is relative to what was moved, and to a microgram where that is less: what rounding leaves of nothing is nothing. */
const LEAST_G = 1e-6;

/**
 * The largest relative gap of in = held + parts + tray + waste + air over the three substances.
 * Relative to the largest of the six figures of a substance; 0 when nothing has moved.
 */
export function imbalance(baths: readonly Bath[], tally: Tally): number {
  const now = held(baths);
  let worst = 0;
  for (const what of ['resin', 'ipa', 'water'] as const) {
    const terms = [now[what], tally.parts[what], tally.tray[what], tally.waste[what], tally.air[what]];
    const scale = Math.max(LEAST_G, tally.in[what], ...terms.map(Math.abs));
    worst = Math.max(worst, Math.abs(tally.in[what] - terms.reduce((a, b) => a + b, 0)) / scale);
  }
  return worst;
}

/**
 * Closes the balance after a reading changed what the baths are held to hold: resin is taken to have come in with the
 * washes, solvent to have stayed in the air or come from it, which are the least known.
 */
export function closeTally(baths: readonly Bath[], tally: Tally): void {
  const now = held(baths);
  tally.in.resin = now.resin + tally.parts.resin + tally.tray.resin + tally.waste.resin + tally.air.resin;
  for (const what of ['ipa', 'water'] as const)
    tally.air[what] = tally.in[what] - now[what] - tally.parts[what] - tally.tray[what] - tally.waste[what];
}
