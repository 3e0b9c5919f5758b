import type { InspectEvent, WeighedEvent, Written } from './event.ts';
import { didYouMean } from './near.ts';
import type { Problem } from './problem.ts';

/** Weighed loads and inspections name the wash they belong to; it must be in the ledger, and a wash. */
export function checkReferences(events: readonly Written[]): Problem[] {
  const naming = events.filter(isNaming);
  if (naming.length === 0) {
    return [];
  }
  const kinds = new Map(events.map(({ event }) => [event.id, event.what]));
  return naming.flatMap(({ event, line }): Problem[] => {
    const id = event.wash!;
    const kind = kinds.get(id);
    if (kind === 'wash') {
      return [];
    }
    const why = kind === undefined ? 'the ledger has no event with this id' : `that event is a ${kind}`;
    const washes = [...kinds].filter(([, what]) => what === 'wash').map(([wash]) => wash);
    return [
      {
        code: 'unknown-id',
        message: `Cannot find the wash "${id}" of this ${event.what}, ${why}`,
        help: didYouMean(id, washes) ?? 'Look the id up with: bathbook entries --what wash',
        line,
        severity: 'error',
      },
    ];
  });
}

function isNaming(written: Written): written is Written<WeighedEvent | InspectEvent> {
  const { event } = written;
  return (event.what === 'weighed' || event.what === 'inspect') && event.wash !== undefined;
}
