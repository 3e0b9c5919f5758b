import { writeFlow } from '../ledger/line.ts';
import type { Context } from './context.ts';
import { entryNamed, reasonFor, refuseVoided } from './correct.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { reportBack } from './report-back.ts';
import { writeEvent } from './write.ts';

/** `void`: an entry counts no longer; its line stays. */
export async function run([id = '']: string[], options: Options, context: Context): Promise<number> {
  const why = await reasonFor(context, options, `bathbook void ${id}`);
  await voidEntry(context, options, { of: id, why });
  return EXIT.done;
}

/** Logs a void and tells what it changed. */
export async function voidEntry(
  context: Context,
  options: Options,
  { of, why }: { of: string; why: string },
): Promise<void> {
  let line = '';
  const logged = await writeEvent(
    context,
    options,
    (bench) => {
      line = writeFlow({ ...entryNamed(of, bench).event });
      refuseVoided(of, 'void', bench);
      return { what: 'void', of, why };
    },
    { before: true },
  );
  reportBack(context, logged, { understood: `no longer counts: ${line}`, data: { voided: of } });
}
