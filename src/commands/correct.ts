/** What the corrections share: the entry they name, and the reason they give. */
import type { LedgerEvent, Written } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { LAST } from './last-word.ts';
import type { Bench } from './write.ts';

/**
 * The entry with an id.
 *
 * @throws Fault, usage, when the ledger has none
 */
export function entryNamed(id: string, { file }: Pick<Bench, 'file'>): Written {
  const found = file.events.find(({ event }) => event.id === id);
  if (found) return found;
  const ids = file.events.map(({ event }) => event.id);
  throw usage(
    `Cannot find an entry with the id "${id}"`,
    didYouMean(id, ids) ?? 'look the ids up with: bathbook entries --last 10',
  );
}

/**
 * The id that is meant: `last` stands for the last entry of the file that counts, where none has that id.
 *
 * @param take - which entries it may be
 * @throws Fault, usage, when there is none
 */
export function idNamed(
  id: string,
  { file, settled: { voided } }: Pick<Bench, 'file' | 'settled'>,
  take: (event: LedgerEvent) => boolean = () => true,
): string {
  if (id !== LAST || file.events.some(({ event }) => event.id === LAST)) return id;
  const last = file.events.findLast(({ event }) => !voided.has(event.id) && take(event));
  if (last) return last.event.id;
  throw usage('Cannot find a last entry, none counts', 'look at them all with: bathbook entries');
}

/**
 * Refuses to correct what no longer counts.
 *
 * @throws Fault, usage, that names the void and how to take it back
 */
export function refuseVoided(id: string, verb: string, { settled }: Bench): void {
  const by = settled.voided.get(id);
  if (by === undefined) return;
  throw usage(
    `Cannot ${verb} "${id}", it no longer counts since the void "${by}"`,
    `to make it count again: bathbook void ${by} --why "it was right"`,
  );
}

/** Whether the reason will have to be asked for. */
export function asksForReason(context: Context, options: Options): boolean {
  return context.canAsk && !(typeof options.why === 'string' && options.why.trim());
}

/**
 * The reason given, or asked for on a terminal.
 *
 * @throws Fault, usage, when there is none
 */
export async function reasonFor(context: Context, options: Options, command: string): Promise<string> {
  const given = typeof options.why === 'string' ? options.why.trim() : '';
  if (given) return given;
  const asked = context.canAsk ? await context.ask('Why? (kept with the correction) ') : '';
  if (asked) return asked;
  throw usage('Cannot correct an entry without a reason', `give one: ${command} --why "entered twice"`);
}

/** The time that an event says, in its own words. */
export function whenOf(event: LedgerEvent): string {
  return event.at.slice(0, 16).replace('T', ' ');
}
