import type { Shop } from '../bath/shop.ts';
import type { LedgerEvent } from '../ledger/event.ts';
import { eventText } from '../render/entries.ts';
import type { Context } from './context.ts';
import { entryNamed, idNamed, reasonFor, refuseVoided, whenOf } from './correct.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { LAST } from './last-word.ts';
import { isRecord, reportBack } from './report-back.ts';
import { writeEvents } from './write.ts';

/** `void`: entries count no longer; their lines stay. */
export async function run(ids: string[], options: Options, context: Context): Promise<number> {
  const why = await reasonFor(context, options, `bathbook void ${ids.join(' ')}`);
  await voidEntries(context, options, { of: ids, why, command: 'void' });
  return EXIT.done;
}

interface Given {
  /** Entries by their ids; the last that counts where there are none. */
  of: readonly string[];
  why: string;
  command: 'void' | 'undo';
}

/** Logs a void for each, all or none, and tells what they changed. */
export async function voidEntries(context: Context, options: Options, given: Given): Promise<void> {
  const { why, command } = given;
  let voided: LedgerEvent[] = [];
  const logged = await writeEvents(
    context,
    options,
    (bench) => {
      const ids = (given.of.length > 0 ? given.of : [LAST]).map((id) => idNamed(id, bench));
      refuseTwice(ids, command);
      voided = ids.map((of) => {
        const { event } = entryNamed(of, bench);
        refuseVoided(of, command, bench);
        return bench.settled.entries.find((entry) => entry.event.id === of)?.event ?? event;
      });
      return ids.map((of) => ({ what: 'void', of, why }));
    },
    { before: true },
  );
  const [one] = voided;
  const words = voided.map((event) => voidedWords(event, logged.shop));
  reportBack(context, logged, {
    command,
    ...(voided.length === 1
      ? { understood: words[0]! }
      : { understood: '', above: words.map((text) => ['', text]) }),
    undone: voided.length === 1 ? undoneWords(one!) : 'then they count again',
    ofRecords: voided.every(isRecord),
    data: command === 'undo' ? { how: 'void' } : {},
  });
}

function voidedWords(event: LedgerEvent, shop: Shop): string {
  return event.what === 'void'
    ? `${event.of} counts again`
    : `${event.id} no longer counts: ${event.what} of ${whenOf(event)}, ${eventText(event, shop)}`;
}

function undoneWords(event: LedgerEvent): string {
  return event.what === 'void' ? `then ${event.of} is void as before` : `then ${event.id} counts again`;
}

function refuseTwice(ids: readonly string[], command: string): void {
  const twice = ids.find((id, place) => ids.indexOf(id) !== place);
  if (twice === undefined) return;
  throw usage(`Cannot ${command} "${twice}" twice`, 'name each entry once');
}
