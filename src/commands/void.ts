import { eventText } from '../render/entries.ts';
import type { Context } from './context.ts';
import { entryNamed, idNamed, reasonFor, refuseVoided, whenOf } from './correct.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { LAST } from './last-word.ts';
import { reportBack } from './report-back.ts';
import { writeEvent } from './write.ts';

/** `void`: an entry counts no longer; its line stays. */
export async function run([id = '']: string[], options: Options, context: Context): Promise<number> {
  const why = await reasonFor(context, options, `bathbook void ${id}`);
  await voidEntry(context, options, { of: id, why, command: 'void' });
  return EXIT.done;
}

interface Given {
  /** The entry; the last that counts when absent. */
  of: string | undefined;
  why: string;
  command: 'void' | 'undo';
}

/** Logs a void and tells what it changed. */
export async function voidEntry(context: Context, options: Options, given: Given): Promise<void> {
  const { why, command } = given;
  let understood = '';
  let undone = '';
  const logged = await writeEvent(
    context,
    options,
    (bench) => {
      const of = idNamed(given.of ?? LAST, bench);
      const { event } = entryNamed(of, bench);
      const counted = bench.settled.entries.find((entry) => entry.event.id === of)?.event ?? event;
      undone = event.what === 'void' ? `then ${event.of} is void as before` : `then ${of} counts again`;
      understood =
        event.what === 'void'
          ? `${event.of} counts again`
          : `${of} no longer counts: ${event.what} of ${whenOf(counted)}, ${eventText(counted, bench.shop)}`;
      refuseVoided(of, command, bench);
      return { what: 'void', of, why };
    },
    { before: true },
  );
  const data = command === 'undo' ? { how: 'void' } : {};
  reportBack(context, logged, { command, understood, undone, data });
}
