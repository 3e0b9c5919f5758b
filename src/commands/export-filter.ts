/** Which events of a ledger are exported. */
import type { LedgerEvent, Written } from '../ledger/event.ts';
import type { Opened } from './context.ts';
import type { Options } from './definition.ts';
import { readWhen } from './when.ts';

export type Wanted = (event: LedgerEvent, atMs: number) => boolean;

/** One test made of `--from`, `--to`, `--case` and `--lot`. @throws Fault, usage */
export async function wantedBy(options: Options, { clockMs }: Opened): Promise<Wanted> {
  const time = (option: string, none: number) =>
    typeof options[option] === 'string' ? readWhen(options[option], clockMs, 'starts') : none;
  const fromMs = await time('from', Number.NEGATIVE_INFINITY);
  const toMs = await time('to', Number.POSITIVE_INFINITY);
  const { case: caseId, lot } = options;
  return (event, atMs) =>
    atMs >= fromMs &&
    atMs < toMs &&
    (lot === undefined || ('lot' in event && event.lot === lot)) &&
    (caseId === undefined || ('cases' in event && event.cases?.includes(String(caseId)) === true));
}

/** Those events, and whatever corrects or belongs to one of them, in the order of the file. */
export function chosenOf(events: readonly Written[], wanted: Wanted, options: Options): Written[] {
  const chosen = new Set(
    events.filter(({ event, atMs }) => wanted(event, atMs)).map(({ event }) => event.id),
  );
  if (options.case !== undefined || options.lot !== undefined) addNaming(events, chosen);
  return events.filter(({ event }) => chosen.has(event.id));
}

/** Corrections of corrections as well, wherever they stand. */
function addNaming(events: readonly Written[], chosen: Set<string>): void {
  const naming = events.flatMap(({ event }) => {
    const named = 'of' in event ? event.of : 'wash' in event ? event.wash : undefined;
    return named === undefined ? [] : [{ id: event.id, named }];
  });
  for (let before = -1; before !== chosen.size; ) {
    before = chosen.size;
    for (const { id, named } of naming) if (chosen.has(named)) chosen.add(id);
  }
}
