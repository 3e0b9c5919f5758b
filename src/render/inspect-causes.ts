/** Likely causes in words: how likely, what the log says, what to do, and on what that rests. */
import type { Cause, CauseKind, Weight } from '../records/causes.ts';
import type { WashSeen } from '../records/inspections.ts';
import { banded, minutes, trim } from './format.ts';
import { printable } from './printable.ts';

export interface CauseWords {
  /** How sure one can be of it; never more than likely. */
  likely: 'likely' | 'may be' | 'cannot be ruled out';
  says: string;
  do: string;
  /** Source by its id in data/SOURCES.md, or that there is none. */
  basis: string;
}

const LIKELY: Record<Weight, CauseWords['likely']> = {
  3: 'likely',
  2: 'may be',
  1: 'cannot be ruled out',
};

const PRACTICE = 'common practice, no source';

export function causeWords({ kind, weight }: Cause, wash: WashSeen, minutesSinceWash: number): CauseWords {
  return { likely: LIKELY[weight], says: printable(says(kind, wash, minutesSinceWash)), ...REMEDY[kind] };
}

function says(kind: CauseKind, wash: WashSeen, minutesSinceWash: number): string {
  const soakMin = wash.soakMin.reduce((sum, one) => sum + one, 0);
  switch (kind) {
    case 'bath-resin':
      return `resin in the ${wash.lastBath} bath: ${banded(wash.resinWtPct!)} wt% by estimate, limits ${wash.limits.resin.join(', ')}`;
    case 'water':
      return `water in the ${wash.lastBath} bath: ${banded(wash.waterWtPct!)} wt% of the solvent by estimate, limits ${wash.limits.water.join(', ')}`;
    case 'undissolved':
      return `resin that did not dissolve: about ${trim(100 * wash.undissolvedShare, wash.undissolvedShare < 0.1 ? 1 : 0)} % of what came in, with ${wash.soakMin.map((one) => trim(one, 1)).join(' + ')} min of soak, ${wash.agitation}`;
    case 'short-soak':
      return `a short soak: ${minutes(soakMin)} in all`;
    case 'long-soak':
      return `a long soak: ${minutes(soakMin)} in all${wash.thin.length > 0 ? `, with thin parts (${wash.thin.join(', ')})` : ''}`;
    case 'drying':
      return minutesSinceWash < wash.dryMin
        ? `cured or handled wet: looked at ${minutes(minutesSinceWash)} after the wash, ${minutes(wash.dryMin)} of drying is usual`
        : `cured or handled wet: the log does not say how long they dried, ${minutes(wash.dryMin)} is usual`;
    case 'drained':
      return `short draining: ${minutes(wash.drainedMin)}${wash.drainedLogged ? '' : ' (the shop’s usual time)'}, so that more resin came in`;
    case 'hollow':
      return 'hollow parts: resin stays in blind holes and corners';
    default:
      return kind satisfies never;
  }
}

const REWASH = 'rewash in fresh solvent before light-curing; more light does not cure an unclean film';

const REMEDY: Record<CauseKind, Pick<CauseWords, 'do' | 'basis'>> = {
  'bath-resin': { do: `${REWASH}; change that bath`, basis: 'FLIERL, ETHANOLPOSTWASH' },
  undissolved: { do: `${REWASH}; move the parts or the liquid`, basis: PRACTICE },
  'short-soak': { do: REWASH, basis: 'SPLINTSOAK2021' },
  'long-soak': {
    do: 'washing again does not help; keep to the minutes of the instructions for use',
    basis: 'SPLINTSOAK2021, RINSETIME2021',
  },
  water: { do: 'rewash in fresh dry solvent; refill that bath, rotating does not dry it', basis: PRACTICE },
  drying: { do: 'dry until no dark patches are left, in moving air, before light-curing', basis: PRACTICE },
  drained: { do: `drain longer, tilted; ${REWASH}`, basis: PRACTICE },
  hollow: { do: 'flush the holes with fresh solvent and blow them out before light-curing', basis: PRACTICE },
};
