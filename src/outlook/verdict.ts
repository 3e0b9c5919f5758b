/**
 * What to make of a bath. Keep, soon, change or stop, and the limit that decided.
 */
import type { Limits, Tub } from '../bath/shop.ts';
import type { Quantity } from './quantity.ts';

export const VERDICTS = ['keep', 'soon', 'change', 'stop'] as const;
export type Verdict = (typeof VERDICTS)[number];

export type Because = 'resin' | 'water' | 'age' | 'none';

export interface Judged {
  verdict: Verdict;
  because: Because;
}

/**
 * Judges one estimate against its limits.
 *
 *     stop  median ≥ never      change  median ≥ change      soon  median ≥ soon or 95 % point ≥ change      keep  otherwise
 */
export function judge(estimate: Quantity, [soon, change, never]: Limits): Verdict {
  if (estimate.p50 >= never) return 'stop';
  if (estimate.p50 >= change) return 'change';
  if (estimate.p50 >= soon || (estimate.p95 ?? estimate.p50) >= change) return 'soon';
  return 'keep';
}

/**
 * Judges a bath: the worst of resin, water and age, and which of them decided. Age can only say soon.
 * Where two are equally bad, resin before water before age.
 */
export function judgeBath(
  bath: { resinWtPct: Quantity; waterWtPct: Quantity; ageDays: number },
  limits: Tub['limits'],
): Judged {
  const findings: [Because, Verdict][] = [
    ['resin', judge(bath.resinWtPct, limits.resin)],
    ['water', judge(bath.waterWtPct, limits.water)],
    ['age', bath.ageDays >= limits.ageDays ? 'soon' : 'keep'],
  ];
  let worst: Judged = { verdict: 'keep', because: 'none' };
  for (const [because, verdict] of findings) {
    if (isWorse(verdict, worst.verdict)) worst = { verdict, because };
  }
  return worst;
}

/** True when `one` is worse than `other`. */
export function isWorse(one: Verdict, other: Verdict): boolean {
  return VERDICTS.indexOf(one) > VERDICTS.indexOf(other);
}

/** True when `one` is as bad as `other` or worse. */
export function isAtLeast(one: Verdict, other: Verdict): boolean {
  return !isWorse(other, one);
}
