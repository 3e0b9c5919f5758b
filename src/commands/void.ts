import { writeFlow } from '../ledger/line.ts';
import type { Context } from './context.ts';
import { entryNamed, idNamed, reasonFor, refuseVoided } from './correct.ts';
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
  const logged = await writeEvent(
    context,
    options,
    (bench) => {
      const of = idNamed(given.of ?? LAST, bench);
      const { event } = entryNamed(of, bench);
      understood =
        event.what === 'void' ? `${event.of} counts again` : `no longer counts: ${writeFlow({ ...event })}`;
      refuseVoided(of, command, bench);
      return { what: 'void', of, why };
    },
    { before: true },
  );
  const data = command === 'undo' ? { how: 'void' } : {};
  reportBack(context, logged, { command, understood, data });
}
