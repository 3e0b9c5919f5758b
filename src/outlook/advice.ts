/**
 * One sentence for the pair: the action, the reason, the numbers. Decided here as data, worded by `render/advice.ts`.
 */
import type { Shop } from '../bath/shop.ts';
import type { BathEstimate } from './estimate.ts';
import type { LoadsLeft } from './loads-left.ts';
import type { Plan } from './plan.ts';
import { type Because, isAtLeast, isWorse, judge } from './verdict.ts';

type Action = 'nothing' | 'rotate' | 'refill-clean' | 'refill-both' | 'refill' | 'top-up' | 'take-reading';

/** Why the action: the bath and the figure that decided. */
export interface Advice {
  action: Action;
  /** `now` for change or stop, `soon` to plan for it, `none` when there is nothing to do. */
  when: 'now' | 'soon' | 'none';
  bath: string | null;
  because: Because | 'level' | 'overfull' | 'reading' | 'empty';
  /** Water in the clean bath is why a rotation would not help. */
  rotationWouldCarryWater: boolean;
  loadsLeft: LoadsLeft | null;
  /** When; null where the pace is not known. */
  plan: Plan | null;
  /** Best right after the days off that begin today or tomorrow. */
  afterRest: boolean;
}

/** Below this share of the mark a top-up is worth a word. Common practice, no source. */
export const LOW_LEVEL = 0.9;

/**
 * What to do with the pair. The worse bath leads; of two equally bad the one that a rotation cannot cure, or whose limit comes first.
 *
 * - an empty bath must be filled first
 * - water in the clean bath past its limit: refill; rotating would carry that water into the dirty bath
 * - clean bath too loaded even for the dirty one: refill both
 * - a bath that is not of the pair: refill that one
 * - a limit that only the 95 % point has come to: take a reading
 * - otherwise rotation cures resin and age in either bath and water in the dirty one
 * - nothing else wrong, but by the ledger a bath holds more than goes into it, or its last reading was too far off: take a reading
 * - a low level with nothing else wrong: top up
 */
export function adviseOn(
  estimates: BathEstimate[],
  shop: Shop,
  left: LoadsLeft | null,
  plan: Plan | null = null,
): Advice {
  const base = { rotationWouldCarryWater: false, loadsLeft: left, plan, afterRest: false };
  const empty = estimates.filter((bath) => bath.resinWtPct === null);
  if (empty.length > 0) return { ...base, ...adviceOnEmpty(empty, estimates) };
  const comesFirst = (one: BathEstimate, other: BathEstimate) => isNearer(one, other, estimates, plan);
  const worst = estimates.reduce((a, b) => (leads(b, a, comesFirst) ? b : a));
  if (worst.verdict === 'keep') return { ...base, ...adviceOnLevel(estimates, shop) };
  const when = isAtLeast(worst.verdict, 'change') ? 'now' : 'soon';
  const reason = { when, bath: worst.bath, because: worst.because } as const;
  if (isDoubtful(worst)) return { ...base, ...reason, action: 'take-reading' };
  return { ...base, ...reason, ...cure(estimates, worst), afterRest: waits(when, worst, left, plan) };
}

/** Days off are worth a word when they begin today or tomorrow. */
const REST_WITHIN_DAYS = 1;

/**
 * True when a change that is only due soon comes on the first day after the days off: the loads before them do not bring it, and
 * fresh solvent would stand through them for nothing.
 */
function waits(
  when: 'now' | 'soon',
  worst: BathEstimate,
  left: LoadsLeft | null,
  plan: Plan | null,
): boolean {
  if (when !== 'soon' || worst.because !== 'resin' || !left || !plan?.rest || !plan.on) return false;
  const { startsIn, endsIn, loadsBefore } = plan.rest;
  return startsIn <= REST_WITHIN_DAYS && left.loads >= loadsBefore && plan.on.midnights <= endsIn;
}

type Compares = (one: BathEstimate, other: BathEstimate) => boolean;

function leads(one: BathEstimate, other: BathEstimate, comesFirst: Compares): boolean {
  if (one.verdict !== other.verdict) return isWorse(one.verdict, other.verdict);
  if (isDoubtful(one) !== isDoubtful(other)) return isDoubtful(other);
  if (one.bath === 'clean' && one.because === 'water') return true;
  return one.because === 'resin' && other.because === 'resin' && comesFirst(one, other);
}

/** True when a bath meets its change limit before another: sooner at the shop's pace, or else with a larger share of it. */
function isNearer(
  one: BathEstimate,
  other: BathEstimate,
  estimates: BathEstimate[],
  plan: Plan | null,
): boolean {
  const [days, others] = [one, other].map((bath) => plan?.limits[estimates.indexOf(bath)]?.days);
  if (days !== undefined && others !== undefined && days !== others) return days < others;
  const [share, otherShare] = [one, other].map(({ resinWtPct, limits }) => resinWtPct!.p50 / limits.resin[1]);
  return share! > otherShare!;
}

/** Soon only because it could be past the change limit already: the best estimate is below soon. */
function isDoubtful({ verdict, because, resinWtPct, waterWtPct, limits }: BathEstimate): boolean {
  if (verdict !== 'soon') return false;
  if (because === 'resin') return resinWtPct!.p50 < limits.resin[0];
  return because === 'water' && waterWtPct!.p50 < limits.water[0];
}

/** What does not depend on why. */
type Given = 'loadsLeft' | 'rotationWouldCarryWater' | 'plan' | 'afterRest';

function adviceOnEmpty(empty: BathEstimate[], all: BathEstimate[]): Omit<Advice, Given> {
  const one = empty.length < all.length && empty.length === 1;
  return {
    action: one ? (empty[0]!.bath === 'clean' ? 'refill-clean' : 'top-up') : 'refill-both',
    when: 'now',
    bath: empty.length === 1 ? empty[0]!.bath : null,
    because: 'empty',
  };
}

/** By the ledger it holds more than goes into it: an amount was a slip, or something is not logged. */
export function isOverfull({ volumeMl, brimMl }: BathEstimate): boolean {
  return volumeMl.p50 > brimMl;
}

function adviceOnLevel(estimates: BathEstimate[], shop: Shop): Omit<Advice, Given> {
  const overfull = estimates.find(isOverfull);
  if (overfull) return { action: 'take-reading', when: 'soon', bath: overfull.bath, because: 'overfull' };
  const doubted = estimates.find((bath) => bath.doubted);
  if (doubted) return { action: 'take-reading', when: 'soon', bath: doubted.bath, because: 'reading' };
  const low = estimates.find((bath, place) => bath.volumeMl.p50 < LOW_LEVEL * shop.tubs[place]!.markMl);
  if (low) return { action: 'top-up', when: 'soon', bath: low.bath, because: 'level' };
  return { action: 'nothing', when: 'none', bath: null, because: 'none' };
}

function cure(
  estimates: BathEstimate[],
  worst: BathEstimate,
): { action: Action; rotationWouldCarryWater: boolean } {
  const clean = estimates.find(({ bath }) => bath === 'clean');
  const dirty = estimates.find(({ bath }) => bath === 'dirty');
  if (!clean || !dirty || (worst !== clean && worst !== dirty)) {
    return { action: 'refill', rotationWouldCarryWater: false };
  }
  const dirtyFails = isAtLeast(dirty.verdict, isAtLeast(worst.verdict, 'change') ? 'change' : 'soon');
  if (isWet(clean, dirty))
    return { action: dirtyFails ? 'refill-both' : 'refill-clean', rotationWouldCarryWater: true };
  const tooLoaded = clean.resinWtPct!.p50 >= dirty.limits.resin[0];
  return { action: tooLoaded ? 'refill-both' : 'rotate', rotationWouldCarryWater: false };
}

/** True when the water in the clean liquid has come to a limit, its own or that of the dirty bath it would be moved to. */
function isWet(clean: BathEstimate, dirty: BathEstimate): boolean {
  return [clean.limits.water, dirty.limits.water].some(
    (limits) => judge({ p50: clean.waterWtPct!.p50 }, limits) !== 'keep',
  );
}
