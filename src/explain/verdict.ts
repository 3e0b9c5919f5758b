/** The verdict of a bath, limit by limit, and the advice that follows. */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Quantity } from '../outlook/quantity.ts';
import { judge } from '../outlook/verdict.ts';
import type { Explanation } from './equation.ts';
import type { Seen } from './seen.ts';

/** @param advice - the sentence that `baths` shows */
export function explainVerdict(seen: Seen, place: number, advice: string): Explanation {
  const { status, shop } = seen;
  const estimate = status.estimates[place]!;
  const { bath, verdict, because, resinWtPct, waterWtPct, limits } = estimate;
  return {
    topic: 'limits',
    of: bath,
    title: `Why the ${bath} bath says "${verdict}"`,
    equations: [],
    known: [
      { about: 'resin', now: resinWtPct!, unit: 'wt%' },
      { about: 'water in the solvent', now: waterWtPct!, unit: 'wt%' },
    ],
    remarks: [
      limitRemark('Resin', resinWtPct!, limits.resin),
      limitRemark('Water', waterWtPct!, limits.water),
      ageRemark(estimate),
      because === 'none' ? 'No limit is met, so it says keep.' : `The worst of them decides: ${because}.`,
      sourceRemark(seen, place),
      ...(shop.tubs.length > 1 ? [`For all baths together: ${advice}.`] : []),
      'These are limits of practice. That a bath is inside them does not make a part safe or clean.',
    ],
  };
}

function limitRemark(what: string, quantity: Quantity, limits: BathEstimate['limits']['resin']): string {
  const [soon, change, never] = limits;
  const { p50, p95 = p50 } = quantity;
  const verdict = judge(quantity, limits);
  const words = {
    stop: `the best estimate ${p50.toFixed(2)} is at ${never} or above: stop`,
    change: `the best estimate ${p50.toFixed(2)} is at ${change} or above: change`,
    soon:
      p50 >= soon
        ? `the best estimate ${p50.toFixed(2)} is at ${soon} or above: soon`
        : `the best estimate ${p50.toFixed(2)} is below ${soon}, but the 95 % point ${p95.toFixed(2)} is at ${change} or above: soon`,
    keep: `the best estimate ${p50.toFixed(2)} is below ${soon}, and the 95 % point ${p95.toFixed(2)} below ${change}: keep`,
  };
  return `${what}, with soon at ${soon}, change at ${change}, never above ${never} wt%: ${words[verdict]}.`;
}

function ageRemark({ ageDays, limits }: BathEstimate): string {
  const days = Math.floor(ageDays ?? 0);
  return `Age: ${days} day${days === 1 ? '' : 's'}, the limit is ${limits.ageDays}: ${days >= limits.ageDays ? 'soon' : 'keep'}. Age never says more than soon.`;
}

function sourceRemark({ header, shop }: Seen, place: number): string {
  const own = Object.keys(header.limits ?? {});
  if (own.length > 0)
    return `Limits set in the ledger: ${own.join(', ')}; the others are the program's (FLIERL, ETHANOLPOSTWASH, LANGE10, DEFAULTS).`;
  const role = shop.tubs[place]!.name;
  return `The limits are the program's, for ${shop.partsUse} and the ${role} bath (FLIERL, ETHANOLPOSTWASH, LANGE10, DEFAULTS); "limits" in the head of the ledger sets your own.`;
}
