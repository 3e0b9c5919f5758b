/**
 * One filling of a waste container: from when it is opened until all of it is taken away.
 */
import { solventVolume } from '../bath/state.ts';
import type { Grams } from '../bath/tally.ts';

export type Closing = 'emptied' | 'collected';

export interface Filling {
  /** Null for what was drained without saying where to. */
  container: string | null;
  /** When it was opened, or first used without that. */
  openedMs: number;
  capacityMl: number | null;
  /** In it now, at 20 °C. */
  heldMl: number;
  grams: Grams;
  /** Emptied, collected or reclaimed from it so far. */
  takenMl: number;
  takenGrams: Grams;
  /** Of it, reclaimed. */
  reclaimedMl: number;
  /** Taken out according to the ledger, without having been put in according to it. */
  beyondMl: number;
  closed: Closing | null;
  closedMs: number | null;
  /** When something last happened to it. */
  lastMs: number;
}

/** Who logs "10 L" of 10.004 L has taken all. The same as for draining a bath. */
const ROUNDING = 1e-3;

export function openFilling(container: string | null, atMs: number): Filling {
  const none = (): Grams => ({ resin: 0, ipa: 0, water: 0 });
  return {
    container,
    openedMs: atMs,
    capacityMl: null,
    heldMl: 0,
    grams: none(),
    takenMl: 0,
    takenGrams: none(),
    reclaimedMl: 0,
    beyondMl: 0,
    closed: null,
    closedMs: null,
    lastMs: atMs,
  };
}

export function putInto(filling: Filling, liquid: { ml: number; grams: Grams }, atMs: number): void {
  filling.heldMl += liquid.ml;
  filling.grams.resin += liquid.grams.resin;
  filling.grams.ipa += liquid.grams.ipa;
  filling.grams.water += liquid.grams.water;
  filling.lastMs = atMs;
}

/** Takes liquid as it is out of a container, all of it when no volume is given; without any left it is closed. */
export function takeAway(filling: Filling, how: { action: Closing; ml?: number }, atMs: number): void {
  const { heldMl } = filling;
  const ml = how.ml ?? heldMl;
  const isAll = ml >= heldMl * (1 - ROUNDING);
  filling.beyondMl += ml > heldMl * (1 + ROUNDING) ? ml - heldMl : 0;
  const share = isAll ? 1 : ml / heldMl;
  take(filling, { ml: heldMl * share, resin: share, solvent: share });
  filling.lastMs = atMs;
  if (!isAll) return;
  filling.closed = how.action;
  filling.closedMs ??= atMs;
}

/** Takes solvent back out of a container. The resin stays in it, as sludge or still bottoms. */
export function reclaimFrom(filling: Filling, ml: number, atMs: number): void {
  const solventMl = solventVolume(filling.grams.ipa, filling.grams.water);
  const takenMl = Math.min(ml, solventMl, filling.heldMl);
  filling.beyondMl += ml > solventMl * (1 + ROUNDING) ? ml - solventMl : 0;
  if (takenMl > 0) take(filling, { ml: takenMl, resin: 0, solvent: takenMl / solventMl });
  filling.reclaimedMl += takenMl;
  filling.lastMs = atMs;
}

function take(filling: Filling, share: { ml: number; resin: number; solvent: number }): void {
  const { grams, takenGrams } = filling;
  filling.heldMl -= share.ml;
  filling.takenMl += share.ml;
  for (const what of ['resin', 'ipa', 'water'] as const) {
    const taken = grams[what] * (what === 'resin' ? share.resin : share.solvent);
    grams[what] -= taken;
    takenGrams[what] += taken;
  }
}
