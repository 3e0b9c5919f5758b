import type { LedgerEvent } from '../ledger/event.ts';
import { writeFlow } from '../ledger/line.ts';
import { readChange } from './amend-values.ts';
import { rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { asksForReason, entryNamed, idNamed, reasonFor, refuseVoided, whenOf } from './correct.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { isRecord, reportBack } from './report-back.ts';
import { type Bench, writeEvent } from './write.ts';

/** `amend`: corrects values of an entry; its line stays as it was typed. */
export async function run(
  [named = '', ...changes]: string[],
  options: Options,
  context: Context,
): Promise<number> {
  let understood = '';
  let ofRecords = false;
  const build = (why: string) => async (bench: Bench) => {
    const id = idNamed(named, bench, ({ what }) => what !== 'amend' && what !== 'void');
    const now = asItCounts(id, bench);
    refuseVoided(id, 'amend', bench);
    const set: Record<string, unknown> = {};
    for (const change of changes) Object.assign(set, await readChange(change, now, bench));
    refuseFuture(set, bench);
    ofRecords = isRecord(now);
    understood = `${now.what} of ${whenOf(now)}: ${changesText(now, set)}`;
    return { what: 'amend' as const, of: id, set, why };
  };
  // Nobody is asked for the reason of a change that cannot be made.
  if (asksForReason(context, options))
    await writeEvent(context, { ...options, dryRun: true }, build('not said yet'));
  const why = await reasonFor(context, options, `bathbook amend ${named} ${changes.join(' ')}`);
  const logged = await writeEvent(context, options, build(why), { before: true });
  reportBack(context, logged, { understood, ofRecords });
  return EXIT.done;
}

/** An entry moved past the clock would silently count no more. @throws Fault, usage */
function refuseFuture({ at }: Record<string, unknown>, { clockMs }: Bench): void {
  if (typeof at !== 'string' || !(Date.parse(at) > clockMs)) return;
  throw usage(
    `Cannot move the entry to ${at}, that is after now (${rfc3339(clockMs)})`,
    'Give a time that has been',
  );
}

/** The entry with the amends it has had so far. */
function asItCounts(id: string, bench: Bench): LedgerEvent {
  const written = entryNamed(id, bench);
  return bench.settled.entries.find(({ event }) => event.id === id)?.event ?? written.event;
}

function changesText(event: LedgerEvent, set: Record<string, unknown>): string {
  const was = event as unknown as Record<string, unknown>;
  return Object.entries(set)
    .map(
      ([key, value]) =>
        `${key} ${was[key] === undefined ? 'not given' : valueText(key, was[key])} → ${valueText(key, value)}`,
    )
    .join('; ');
}

/** A value as the ledger writes it. */
function valueText(key: string, value: unknown): string {
  return writeFlow({ [key]: value }).slice(key.length + 3, -1);
}
