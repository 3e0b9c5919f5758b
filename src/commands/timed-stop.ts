/** A guided wash that was stopped before its end: what becomes of it. */
import { soakedWords } from '../render/timed.ts';
import { type Course, soakedMinutes } from '../timer/course.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import type { Ended } from './timed-run.ts';
import type { Session } from './timed-session.ts';
import { sayPlainly } from './timed-voice.ts';

export type Wish = 'log' | 'drop' | 'keep';

/** Asks where somebody can answer; else it is kept, and how to go on is said. */
export async function askStopped(on: {
  session: Session;
  context: Context;
  options: Options;
  course: Course;
  how: Ended['how'];
}): Promise<Wish> {
  const { context, session, course, how } = on;
  const soaked = soakedWords(session.washed.plan, soakedMinutes(course));
  const wish = how === 'gone' || !context.canAsk ? 'keep' : await asked(context, soaked);
  if (wish === 'keep')
    sayPlainly(
      `Stopped after ${soaked}; nothing is logged yet${course.phase === 'soak' && !course.paused ? ', and the time in the bath counts on' : ''}. To go on, or to log it:\n  ${context.hint('bathbook wash --timed')}`,
    );
  return wish;
}

async function asked(context: Context, soaked: string): Promise<Wish> {
  for (;;) {
    const answer = await answerOf(context, `Log ${soaked}? y, n, or Enter for later: `);
    if (/^y(?:es)?$/i.test(answer)) return 'log';
    if (/^no?$/i.test(answer)) return 'drop';
    if (answer === '') return 'keep';
  }
}

/** Leaving instead of answering keeps it: nothing is lost by pressing Ctrl-C twice. */
async function answerOf(context: Context, question: string): Promise<string> {
  try {
    return await context.ask(question);
  } catch {
    return '';
  }
}
