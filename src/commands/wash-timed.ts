/** `wash --timed`: leads through a wash step by step, and logs the minutes that it took. */
import type { WashEvent } from '../ledger/event.ts';
import { LINE_KEYS, planWords, SCREEN_KEYS, TIMED_CAUTIONS } from '../render/timed.ts';
import { dryingMinutes } from '../render/wash.ts';
import { courseAt, soakedMinutes } from '../timer/course.ts';
import { planOf } from '../timer/plan.ts';
import { readable, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { ledgerKey } from './timed-kept.ts';
import { type Ended, Timers } from './timed-run.ts';
import { Session, type Washed } from './timed-session.ts';
import { askStopped } from './timed-stop.ts';
import { takeUp } from './timed-take-up.ts';
import { sayPlainly } from './timed-voice.ts';
import { washWarnings } from './wash-warnings.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** Options that name a load in the place of parts. */
const LOADS = ['volume', 'area', 'mesh', 'again'];

/** What `wash` does without timers. */
export interface Plainly {
  build(bench: Bench): Body | Promise<Body>;
  tell(context: Context, logged: Logged): void;
}

export async function runTimed(
  args: readonly string[],
  options: Options,
  context: Context,
  plainly: Plainly,
): Promise<number> {
  if (options.dryRun === true) return showPlan(options, context, plainly);
  refuseTimes(options);
  const ledger = ledgerKey(context.ledger().path);
  const isNew = args.length > 0 || LOADS.some((name) => options[name] !== undefined);
  const taken = await takeUp(context, options, { ledger, isNew });
  if (taken === 'dropped') return EXIT.done;
  if (!taken && !isNew)
    throw usage(
      'Cannot run the timers without a load, and no timed wash is unfinished',
      'name the parts: bathbook wash 6 model 2 mask --timed',
    );
  const session = taken ?? (await begin(options, context, plainly, ledger));
  const { washed } = session;
  const timers = new Timers(washed.plan, washed.run, session);
  try {
    session.start();
    const ended = taken?.toLog ? { run: washed.run, how: 'stop' as const } : await timers.until('dry');
    session.rest();
    if (ended.how !== 'done')
      return await stopped(ended, { session, context, options, plainly, asked: !taken?.toLog });
    await logOrKeep(session, ended.run, { context, options, plainly });
    session.start();
    return await dry(timers, session, context);
  } finally {
    session.rest();
  }
}

async function showPlan(options: Options, context: Context, plainly: Plainly): Promise<number> {
  const checked = await writeEvent(context, options, plainly.build, {
    before: options.at !== undefined,
    short: true,
  });
  plainly.tell(context, checked);
  const steps = planWords(planOfLogged(checked));
  if (context.json) context.note(steps);
  else if (!context.quiet) context.print(`\n${steps}`);
  return EXIT.done;
}

function planOfLogged({ event, shop, step }: Logged) {
  const wash = event as WashEvent;
  return planOf(wash, shop, { baths: step!.before, dryMin: dryingMinutes(wash, shop) });
}

function refuseTimes(options: Options): void {
  for (const [name, flag] of [
    ['at', '--at'],
    ['asOf', '--as-of'],
  ] as const) {
    if (options[name] !== undefined)
      throw usage(
        `Cannot use --timed with ${flag}, the timers run now`,
        'leave one of them out; to log a wash that is over: bathbook wash 6 model --minutes 5,5 --at "17:30"',
      );
  }
}

/** Checks the load before anything is wet: the very same way as it will be logged. */
async function begin(
  options: Options,
  context: Context,
  { build }: Plainly,
  ledger: string,
): Promise<Session> {
  const checked = await writeEvent(context, { ...options, dryRun: true }, build, { short: true });
  const wash = checked.event as WashEvent;
  const {
    id: _,
    at: __,
    by: ___,
    note: ____,
    logged: _____,
    ...body
  } = wash as unknown as Record<string, unknown>;
  for (const warning of washWarnings(wash, checked)) context.note(`Note: ${warning}`);
  const session = new Session(
    context,
    options,
    (startedMs): Washed => ({
      ledger,
      body,
      ...(typeof options.by === 'string' ? { by: options.by } : {}),
      ...(typeof options.note === 'string' ? { note: options.note } : {}),
      plan: planOfLogged(checked),
      run: { startedMs, marks: [] },
    }),
  );
  context.note(TIMED_CAUTIONS);
  if (!session.byClock) context.note(session.onScreen ? SCREEN_KEYS : LINE_KEYS);
  return session;
}

interface At {
  context: Context;
  options: Options;
  plainly: Plainly;
}

/** Logs what was done so far, at the moment the parts came out of the last bath that they were in. */
async function log(session: Session, run: Ended['run'], { context, options, plainly }: At): Promise<void> {
  const { body, plan, by, note } = session.washed;
  const course = courseAt(plan, run, session.nowMs());
  const minutes = soakedMinutes(course);
  const done = plan.soaks.slice(0, minutes.length).map(({ bath }) => bath);
  const dragMl = body.drag_ml as number[] | undefined;
  const isPart = done.length < plan.soaks.length;
  const logged = await writeEvent(
    context,
    {
      ...options,
      ...whenOut(session, course.outMs ?? session.nowMs()),
      ...(by === undefined ? {} : { by }),
      ...(note === undefined ? {} : { note }),
    },
    () => ({
      ...body,
      what: 'wash',
      minutes,
      ...(isPart ? { baths: done } : {}),
      ...(isPart && dragMl ? { drag_ml: dragMl.slice(0, done.length) } : {}),
    }),
    { before: false, short: true },
  );
  session.over();
  plainly.tell(context, logged);
}

/** What could not be logged is still kept, and can be logged when what was in the way is gone. */
async function logOrKeep(session: Session, run: Ended['run'], at: At): Promise<void> {
  try {
    await log(session, run, at);
  } catch (error) {
    if (!session.isOver)
      sayPlainly(
        `The wash is kept. To log it once this is mended:\n  ${at.context.hint('bathbook wash --timed')}`,
      );
    throw error;
  }
}

/** Nothing where it is now: an entry of this moment needs no time of its own. */
function whenOut(session: Session, outMs: number): { at?: string } {
  const NOW_MS = 60_000;
  return session.nowMs() - outMs > NOW_MS ? { at: rfc3339(session.wallOf(outMs)) } : {};
}

async function stopped({ run, how }: Ended, at: At & { session: Session; asked: boolean }): Promise<number> {
  const { session, context, options } = at;
  const course = courseAt(session.washed.plan, run, session.nowMs());
  const soaked = soakedMinutes(course);
  if (soaked.length === 0) {
    session.over();
    if (how === 'gone' && run.marks.length === 0)
      throw usage(
        'Cannot run the timers, nothing can be typed',
        'type on a terminal; or add --no-input, and the steps follow each other by the clock',
      );
    context.note('Stopped before the first bath; there is nothing to log');
    return EXIT.interrupted;
  }
  const wish = at.asked ? await askStopped({ session, context, options, course, how }) : 'log';
  if (wish === 'drop') {
    session.over();
    context.note('Nothing was logged');
  } else if (wish === 'log') {
    const outMs = course.phase === 'soak' ? await session.outOf(course) : session.nowMs();
    const out =
      course.phase === 'soak'
        ? { ...run, marks: [...run.marks, { key: 'next' as const, atMs: outMs }] }
        : run;
    session.keep(out);
    await logOrKeep(session, out, at);
  } else session.keep(run);
  return at.asked ? EXIT.interrupted : EXIT.done;
}

async function dry(timers: Timers, session: Session, context: Context): Promise<number> {
  const { how, run } = await timers.until('end');
  session.rest();
  if (how === 'done') return EXIT.done;
  const { phase, targetMs, sinceMs } = courseAt(session.washed.plan, run, session.nowMs());
  if (phase === 'dry')
    context.note(
      `The wash is logged. Let the parts dry until ${readable(session.wallOf(sinceMs + targetMs)).slice(-5)}`,
    );
  return how === 'interrupt' ? EXIT.interrupted : EXIT.done;
}
