/**
 * An event that cannot have happened as written, as a problem of the ledger: the place, the figures, what to do.
 */
import type { Problem } from '../ledger/problem.ts';
import type { Refused } from './replay.ts';
import type { Shop } from './shop.ts';

/**
 * @param isNow - the event is of this moment, so that no time need be named
 * @returns a problem that names the event's line; the excerpt is the caller's to add
 */
export function refusalProblem({ entry, refusal }: Refused, shop: Shop, isNow = false): Problem {
  const bath = typeof refusal.bath === 'number' ? shop.tubs[refusal.bath]!.name : refusal.bath;
  const event = `"${entry.event.id}" (${entry.event.what})`;
  return { ...wording(refusal, { bath, event, isNow }), line: entry.line, severity: 'error' };
}

function wording(
  refusal: Refused['refusal'],
  { bath, event, isNow }: { bath: string; event: string; isNow: boolean },
): Pick<Problem, 'code' | 'message' | 'help'> {
  switch (refusal.why) {
    case 'dry':
      return {
        code: 'bath-empty',
        message: `Event ${event} uses the ${bath} bath, whose solvent has evaporated${isNow ? '' : ' by then'}`,
        help: `Log the top-up or refill that was done, or refill it: bathbook refill ${bath}`,
      };
    case 'empty':
      return {
        code: 'bath-empty',
        message: `Event ${event} uses the ${bath} bath, which is empty ${isNow ? 'now' : 'at that time'}`,
        help: `Log the fill first: bathbook fill ${bath} 4 L ipa99${isNow ? '' : ' --at TIME'}`,
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
        message: `Event ${event} drags ${amount(refusal.dragMl, refusal.holdsMl)} out of the ${bath} bath, which holds ${amount(refusal.holdsMl, refusal.dragMl)}`,
        help: 'Check the parts and drag_ml of this wash, or log the top-up that came before it',
      };
    case 'not-empty':
      return {
        code: 'bath-not-empty',
        message: `Event ${event} pours into the ${bath} bath, which holds ${amount(refusal.holdsMl)} ${isNow ? 'now' : 'at that time'}`,
        help: `To pour more in: bathbook top-up ${bath}; to change the liquid: bathbook refill ${bath}`,
      };
    case 'holds-less':
      return {
        code: 'bath-holds-less',
        message: `Event ${event} takes ${amount(refusal.wantedMl, refusal.holdsMl)} from the ${bath} bath, which holds ${amount(refusal.holdsMl, refusal.wantedMl)}`,
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

/** Litres from one litre on, as elsewhere; beside an amount that would read the same in litres, millilitres. */
function amount(ml = 0, beside?: number): string {
  const litres = inLitres(ml);
  const isAlike = beside !== undefined && beside !== ml && inLitres(beside) === litres;
  return ml < 999.5 || isAlike ? `${ml.toFixed(0)} mL` : `${litres} L`;
}

function inLitres(ml: number): string {
  return (ml / 1000).toFixed(2);
}
