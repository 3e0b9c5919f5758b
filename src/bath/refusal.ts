/**
 * An event that cannot have happened as written, as a problem of the ledger: the place, the figures, what to do.
 */
import type { Problem } from '../ledger/problem.ts';
import type { Refused } from './replay.ts';
import type { Shop } from './shop.ts';

/** @returns a problem that names the event's line; the excerpt is the caller's to add */
export function refusalProblem({ entry, refusal }: Refused, shop: Shop): Problem {
  const bath = typeof refusal.bath === 'number' ? shop.tubs[refusal.bath]!.name : refusal.bath;
  const event = `"${entry.event.id}" (${entry.event.what})`;
  return { ...wording(refusal, bath, event), line: entry.line, severity: 'error' };
}

function wording(
  refusal: Refused['refusal'],
  bath: string,
  event: string,
): Pick<Problem, 'code' | 'message' | 'help'> {
  switch (refusal.why) {
    case 'dry':
      return {
        code: 'bath-empty',
        message: `Event ${event} uses the ${bath} bath, whose solvent has evaporated by then`,
        help: `Log the top-up or refill that was done, or refill it: bathbook refill ${bath}`,
      };
    case 'empty':
      return {
        code: 'bath-empty',
        message: `Event ${event} uses the ${bath} bath, which is empty at that time`,
        help: `Log the fill first: bathbook fill ${bath} 4 L ipa99 --at TIME`,
      };
    case 'weak':
      return {
        code: 'solvent-weak',
        message: `Event ${event} washes in the ${bath} bath, whose solvent is below 40 wt% IPA, where the density data end`,
        help: `Refill the bath: bathbook refill ${bath}`,
      };
    case 'runs-dry':
      return {
        code: 'bath-runs-dry',
        message: `Event ${event} drags ${ml(refusal.dragMl)} out of the ${bath} bath, which holds ${ml(refusal.holdsMl)}`,
        help: 'Check the parts and drag_ml of this wash, or log the top-up that came before it',
      };
    case 'not-empty':
      return {
        code: 'bath-not-empty',
        message: `Event ${event} pours into the ${bath} bath, which holds ${ml(refusal.holdsMl)} at that time`,
        help: `To pour more in: bathbook top-up ${bath}; to change the liquid: bathbook refill ${bath}`,
      };
    case 'holds-less':
      return {
        code: 'bath-holds-less',
        message: `Event ${event} takes ${ml(refusal.wantedMl)} from the ${bath} bath, which holds ${ml(refusal.holdsMl)}`,
        help: 'Give at most that, or all',
      };
    case 'no-solvent':
      return {
        code: 'no-solvent',
        message: `Event ${event} names no solvent, and none was poured before it`,
        help: 'Name one: --solvent ipa99',
      };
    case 'no-pair':
      return {
        code: 'unknown-bath',
        message: `Event ${event} needs baths named "dirty" and "clean", and the ledger has no such pair`,
        help: 'Use refill instead: bathbook refill BATH',
      };
    default:
      return refusal satisfies never;
  }
}

function ml(value: number | undefined): string {
  return `${(value ?? 0).toFixed(0)} mL`;
}
