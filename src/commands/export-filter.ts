/** Which events of a ledger are exported. */
import type { LedgerEvent, Written } from '../ledger/event.ts';
import type { Opened } from './context.ts';
import type { Options } from './definition.ts';
import { readWhen } from './when.ts';

export type Wanted = (event: LedgerEvent, atMs: number) => boolean;

/** One test made of `--from`, `--to`, `--case`, `--lot` and `--by`. @throws Fault, usage */
export async function wantedBy(options: Options, { clockMs }: Opened): Promise<Wanted> {
  const { fromMs, toMs } = await timesOf(options, clockMs);
  const { case: caseId, lot, by } = options;
  return (event, atMs) =>
    atMs >= fromMs &&
    atMs < toMs &&
    (by === undefined || event.by === by) &&
    (lot === undefined || ('lot' in event && event.lot === lot)) &&
    (caseId === undefined || ('cases' in event && event.cases?.includes(String(caseId)) === true));
}

/** At or after the one, before the other; endless where it is not given. @throws Fault, usage */
export async function timesOf(options: Options, clockMs: number): Promise<{ fromMs: number; toMs: number }> {
  const time = (option: string, none: number) =>
    typeof options[option] === 'string' ? readWhen(options[option], clockMs, 'starts') : none;
  return {
    fromMs: await time('from', Number.NEGATIVE_INFINITY),
    toMs: await time('to', Number.POSITIVE_INFINITY),
  };
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
