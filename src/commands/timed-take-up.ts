/** Takes up a guided wash that a closed terminal left unfinished. */
import { rmSync } from 'node:fs';
import type { WashEvent } from '../ledger/event.ts';
import { minutes } from '../render/format.ts';
import { printable } from '../render/printable.ts';
import { soakedWords } from '../render/timed.ts';
import { washWords } from '../render/wash.ts';
import { courseAt, isUp, soakedMinutes } from '../timer/course.ts';
import { readable } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { type Found, unfinished } from './timed-kept.ts';
import { Session } from './timed-session.ts';
import { sayPlainly } from './timed-voice.ts';
import { type Body, writeEvent } from './write.ts';

/** @returns undefined where a new wash is to begin */
export async function takeUp(
  context: Context,
  options: Options,
  { ledger, isNew }: { ledger: string; isNew: boolean },
): Promise<Session | 'dropped' | undefined> {
  const { found, running, unreadable } = unfinished(ledger, process.env);
  for (const path of unreadable)
    context.note(
      `Note: A timed wash was kept in ${path} and cannot be read; delete it to be rid of this note`,
    );
  for (const { kept } of running) tellRunning(context, kept);
  let dropped = false;
  for (const one of found) {
    if (one.kept.run.marks.length === 0) {
      // Nothing was in a bath yet.
      rmSync(one.path, { force: true });
      continue;
    }
    await describe(context, options, one);
    const wish = await wished(context, isNew);
    if (wish === 'leave') return undefined;
    if (wish !== 'drop') return taken(context, options, one, wish === 'log');
    rmSync(one.path, { force: true });
    dropped = true;
  }
  return dropped && !isNew ? 'dropped' : undefined;
}

/** Two loads may be washed at once; one that is timed twice would be logged twice. */
function tellRunning(context: Context, { run: { startedMs }, aheadMs, pid }: Found['kept']): void {
  const ago = minutes(Math.max(0, Math.round((Date.now() + aheadMs - startedMs) / 60_000)));
  context.note(
    `Note: A timed wash of this ledger runs already, on another terminal (process ${pid}, begun ${ago} ago)`,
  );
}

type Wish = 'go' | 'log' | 'drop' | 'leave';

async function wished(context: Context, isNew: boolean): Promise<Wish> {
  if (!context.canAsk) {
    if (isNew) context.note('It is left for later; to take it up, without a load: bathbook wash --timed');
    return isNew ? 'leave' : 'go';
  }
  const rest = isNew ? ', s starts the new wash and leaves this one' : '';
  for (;;) {
    sayPlainly(`Enter goes on with it, l logs what happened, d drops it${rest}`);
    const answer = await context.ask('> ', 'g');
    const [first = ''] = answer.toLowerCase();
    if (first === 'g' || first === 'y') return 'go';
    if (first === 'l') return 'log';
    if (first === 'd' || first === 'n') return 'drop';
    if (first === 's' && isNew) return 'leave';
  }
}

/** Reads the ledger as the wash would be logged, which sets the shop's zone too, and tells how far it had come. */
async function describe(context: Context, options: Options, { kept, path }: Found): Promise<void> {
  const body = kept.body as Body;
  const now = Date.now();
  try {
    const { shop, event } = await writeEvent(
      context,
      { ...options, dryRun: true },
      () => ({ ...body, what: 'wash' }),
      {
        short: true,
      },
    );
    const course = courseAt(kept.plan, kept.run, Math.max(kept.keptMs, now + kept.aheadMs));
    const started = readable(kept.run.startedMs - kept.aheadMs);
    const soaked = soakedMinutes(course);
    const sofar = soaked.length === 0 ? 'no bath yet' : `${soakedWords(kept.plan, soaked)} so far`;
    const still = course.phase === 'soak' && !course.paused ? ', the last going on' : '';
    sayPlainly(
      `A timed wash is unfinished: ${printable(washWords(event as WashEvent, shop))}. Started ${started}; ${sofar}${still}${isUp(course) ? ', its time is up' : ''}`,
    );
  } catch (error) {
    context.note(
      `A timed wash is kept in ${path} and cannot be logged as it is; to be rid of it, delete the file`,
    );
    throw error;
  }
}

async function taken(context: Context, options: Options, found: Found, toLog: boolean): Promise<Session> {
  const session = new Session(context, options, found, toLog);
  const { plan, run } = session.washed;
  const course = courseAt(plan, run, session.nowMs());
  if (toLog || course.phase !== 'soak' || course.paused) return session;
  const nowMs = session.nowMs();
  const outMs = await session.outOf(course);
  // "Just now" is said by who may still have to take them out.
  if (outMs < nowMs) session.keep({ ...run, marks: [...run.marks, { key: 'next', atMs: outMs }] });
  return session;
}
