/** Asks when parts came out of a bath. */
import { printable } from '../render/printable.ts';
import { readable } from './clock.ts';
import type { Context } from './context.ts';
import { Fault } from './fault.ts';
import { sayPlainly } from './timed-voice.ts';
import { readWhen } from './when.ts';

/**
 * @param between - since when they were in, and now, by the wall clock
 * @returns when they came out, by the wall clock
 */
export async function askOut(
  context: Context,
  bath: string,
  { sinceMs, nowMs }: { sinceMs: number; nowMs: number },
): Promise<number> {
  const since = readable(sinceMs).slice(-5);
  sayPlainly(
    `In the ${printable(bath)} bath since ${since} by the clock. Still in, or out just now: Enter. Out earlier: type when, like ${readable((sinceMs + nowMs) / 2).slice(-5)}`,
  );
  for (;;) {
    const answer = await context.ask('Out: ', 'now');
    const ms = await read(context, answer, nowMs);
    if (ms === undefined) continue;
    // A time of day has no seconds.
    const MINUTE_MS = 60_000;
    if (ms > sinceMs - MINUTE_MS && ms < nowMs + MINUTE_MS) return Math.min(nowMs, Math.max(sinceMs, ms));
    sayPlainly(`That is not between ${readable(sinceMs)} and now, ${readable(nowMs)}`);
  }
}

async function read(context: Context, answer: string, nowMs: number): Promise<number | undefined> {
  if (answer === 'now') return nowMs;
  try {
    return await readWhen(answer, nowMs);
  } catch (error) {
    if (!(error instanceof Fault) || error.problems.length === 0) throw error;
    await context.tell(error.problems);
    return undefined;
  }
}
