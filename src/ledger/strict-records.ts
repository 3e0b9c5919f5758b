/** What a careful shop is told of its records with `check --strict`: things that were done or written, and count, but should not stand. */
import type { Entry } from './event.ts';
import type { Problem } from './problem.ts';

/**
 * Reclaimed solvent poured into the clean bath: it brings residue to the last rinse. A solvent counts as reclaimed from the first
 * time on that something was reclaimed as it; a move that names none pours the one poured last, as in the replay.
 */
export function reclaimedInClean(entries: readonly Entry[]): Problem[] {
  const reclaimed = new Set<string>();
  let last: string | undefined;
  return entries.flatMap((entry): Problem[] => {
    if (entry.event.what === 'reclaim') reclaimed.add(entry.event.solvent);
    const pour = pouredBy(entry);
    if (!pour) return [];
    last = pour.solvent ?? last;
    return pour.intoClean && last !== undefined && reclaimed.has(last) ? [intoClean(entry, last)] : [];
  });
}

/** Solvent from stock; undefined where there is none, as for a top-up from the clean bath. */
function pouredBy({ event }: Entry): { solvent: string | undefined; intoClean: boolean } | undefined {
  switch (event.what) {
    case 'rotate':
      return { solvent: event.solvent, intoClean: true };
    case 'top-up':
      return event.from === 'clean'
        ? undefined
        : { solvent: event.solvent, intoClean: event.bath === 'clean' };
    case 'fill':
    case 'refill':
      return { solvent: event.solvent, intoClean: event.bath === 'clean' };
    default:
      return undefined;
  }
}

function intoClean({ event, line }: Entry, solvent: string): Problem {
  const unnamed =
    'solvent' in event && event.solvent !== undefined ? '' : ': it names none, and that was poured last';
  return {
    code: 'reclaimed-in-clean',
    message: `The ${event.what} "${event.id}" pours reclaimed "${solvent}" into the clean bath${unnamed}`,
    help: `If fresh solvent was poured, name it: bathbook amend ${event.id} solvent=NAME --why "it was fresh"; if not, refill the clean bath with fresh solvent`,
    line,
    severity: 'warning',
  };
}

/** A weighing teaches what its wash carried over; once the wash is voided it teaches nothing. */
export function weighedVoided(entries: readonly Entry[], voided: ReadonlyMap<string, string>): Problem[] {
  return entries.flatMap(({ event, line }): Problem[] => {
    const by = event.what === 'weighed' ? voided.get(event.wash) : undefined;
    if (event.what !== 'weighed' || by === undefined) return [];
    return [
      {
        code: 'weighed-voided',
        message: `The weighing "${event.id}" counts no longer, its wash "${event.wash}" was voided by "${by}"`,
        help: `If the wash was logged anew, name that one: bathbook amend ${event.id} wash=ID --why "wash logged anew"; else void the weighing: bathbook void ${event.id} --why "its wash is void"`,
        line,
        severity: 'warning',
      },
    ];
  });
}
