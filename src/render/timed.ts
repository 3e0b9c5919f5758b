/** The words of a guided wash. */
import type { Course } from '../timer/course.ts';
import type { Moment } from '../timer/moments.ts';
import type { Plan, Rinse, Soak } from '../timer/plan.ts';
import type { Refusal } from '../timer/press.ts';
import { minutes } from './format.ts';
import { printable } from './printable.ts';

/** The time of day, in the shop's zone. */
export type TimeOfDay = (ms: number) => string;

/** How a wash is guided: with a line that shows the time, and without anybody to press a key. */
interface Manner {
  onScreen: boolean;
  byClock: boolean;
}

/** Said once, before the first bath. Common practice and data sheets of the solvent; README.md, Cautions. */
export const TIMED_CAUTIONS =
  'Gloves and eye protection on, air moving, nothing that can ignite near the baths. The safety data sheet and local rules decide.';

export const SCREEN_KEYS =
  'Keys: Enter goes on, n goes on at once, p pauses, + and - a minute, b back, q stops';
export const LINE_KEYS =
  'Type Enter to go on, n to go on at once, p to pause, + or - for a minute, b for back, ? for the time, q to stop; Enter after each.';

const RINSED: Record<Rinse, string> = {
  none: '',
  spray: 'Spray the parts off. ',
  brush: 'Brush the parts off. ',
  spin: 'Spin the parts off. ',
};

/** What to do, and what to press when it is done. */
export function stepWords(plan: Plan, { soak }: Course, { byClock }: Pick<Manner, 'byClock'>): string {
  const { bath, rinse, plannedMs } = plan.soaks[soak]!;
  const drip = soak === 0 ? '' : `Let the parts drip over the ${plan.soaks[soak - 1]!.bath} bath. `;
  return printable(
    `${drip}${RINSED[rinse]}Lay them in the ${bath} bath for ${asMinutes(plannedMs)}${byClock ? '' : '; Enter when they are in'}`,
  ).replace(/^Lay them/, 'Lay the parts');
}

/** Said as a soak or the drying begins. */
export function begunWords(plan: Plan, course: Course, untilMs: number, timeOfDay: TimeOfDay): string {
  const until = timeOfDay(untilMs);
  if (course.phase === 'dry')
    return `Drying in moving air, at least ${asMinutes(course.targetMs)}, until ${until}; longer in blind holes`;
  return printable(
    `In the ${plan.soaks[course.soak]!.bath} bath for ${asMinutes(course.targetMs)}, until ${until}`,
  );
}

/** Said as a soak ends. */
export function outWords({ bath }: Soak, soakedMinutes: number): string {
  return printable(`Out of the ${bath} bath after ${spoken(soakedMinutes)}`);
}

/** Undefined where there is nothing to say of it on a screen that shows the time. */
export function momentWords(
  plan: Plan,
  course: Course,
  { what, dueMs }: Moment,
  { onScreen, byClock }: Manner,
): string | undefined {
  if (course.phase === 'dry')
    return `${asMinutes(course.targetMs)} of drying are over; look for damp spots. The resin's instructions for use decide before light-curing`;
  const soak = plan.soaks[course.soak]!;
  switch (what) {
    case 'half':
      return halfWords(soak, onScreen);
    case 'minute':
      return onScreen ? undefined : printable(`One minute left in the ${soak.bath} bath`);
    case 'up':
      return printable(
        `Time is up. Take the parts out of the ${soak.bath} bath${byClock ? '' : ', then Enter'}`,
      );
    case 'over':
      return printable(`Still in the ${soak.bath} bath: ${asMinutes(dueMs - course.targetMs)} over`);
    default:
      return what satisfies never;
  }
}

function halfWords({ turn, depthMm, bath }: Soak, onScreen: boolean): string | undefined {
  if (turn === 'shallow')
    return `Halfway: the bath is shallow (${Math.round(depthMm)} mm). Turn the parts over`;
  if (turn === 'still') return 'Halfway: the bath is still. Turn the parts over and move them a little';
  return onScreen ? undefined : printable(`Half the time in the ${bath} bath is over`);
}

export function refusalWords(refusal: Refusal, course: Course): string {
  switch (refusal) {
    case 'early':
      return `${leftWords(course)} left; n goes on before the time is up`;
    case 'no-pause':
      return 'Only a soak can be paused';
    case 'no-less':
      return 'Less than a minute is left; n goes on before the time is up';
    case 'no-target':
      return 'No timer runs yet; Enter when the parts are in';
    case 'no-back':
      return course.phase === 'dry'
        ? 'The wash is logged; to take it back: bathbook undo'
        : 'This is the first step';
    default:
      return refusal satisfies never;
  }
}

/** The one line that is drawn anew each second. */
export function timerLine(plan: Plan, course: Course, width: number): string {
  const label = course.phase === 'dry' ? 'drying' : printable(plan.soaks[course.soak]!.bath);
  const state = stateWords(course);
  const room = width - label.length - state.length - 4;
  const bar = course.phase === 'before' || room < 5 ? '' : `${barOf(course, Math.min(30, room))}  `;
  return `${label}  ${bar}${state}`.slice(0, width);
}

function barOf({ elapsedMs, targetMs }: Course, width: number): string {
  const full = targetMs > 0 ? Math.min(width, Math.floor((width * elapsedMs) / targetMs)) : width;
  return '='.repeat(full) + '.'.repeat(width - full);
}

/** Where a phase stands, in a few words. */
export function stateWords(course: Course): string {
  const { phase, paused, elapsedMs, targetMs } = course;
  if (phase === 'before') return 'Enter when the parts are in';
  if (paused) return `paused, parts lifted out; ${leftWords(course)} left`;
  if (elapsedMs < targetMs) return `${leftWords(course)} left`;
  return phase === 'dry' ? 'over' : `time is up, ${clockWords(elapsedMs - targetMs)} over; Enter when out`;
}

/** What is left of a phase; a second that has begun is left until it is over. */
function leftWords({ elapsedMs, targetMs }: Course): string {
  return clockWords(Math.ceil(Math.max(0, targetMs - elapsedMs) / 1000) * 1000);
}

/** 4:05, or 1:04:05 from an hour. */
function clockWords(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const two = (value: number) => String(value).padStart(2, '0');
  const [hours, rest] = [Math.floor(seconds / 3600), seconds % 3600];
  const tail = `${Math.floor(rest / 60)}:${two(rest % 60)}`;
  return hours > 0 ? `${hours}:${tail.padStart(5, '0')}` : tail;
}

/** 5.3 min dirty, 2 min clean. */
export function soakedWords(plan: Plan, soaked: readonly number[]): string {
  return printable(soaked.map((value, place) => `${spoken(value)} ${plan.soaks[place]!.bath}`).join(', '));
}

/** The steps to come, one a line; for a dry run. */
export function planWords(plan: Plan): string {
  const steps = plan.soaks.flatMap((soak, place) => [
    ...(soak.rinse === 'none' ? [] : [RINSED[soak.rinse].replace(/\. $/, '')]),
    `${place === 0 ? 'Into' : 'Drip, then into'} the ${soak.bath} bath: ${asMinutes(soak.plannedMs)}${turnWords(soak)}`,
  ]);
  return [...steps, 'Log the wash with the minutes it took', `Dry: at least ${asMinutes(plan.dryMs)}`]
    .map((line, place) => printable(`${place + 1}. ${line}`))
    .join('\n');
}

function turnWords({ turn, depthMm }: Soak): string {
  if (turn === undefined) return '';
  const why = turn === 'still' ? 'the bath is still' : `the bath is shallow, ${Math.round(depthMm)} mm`;
  return `; turn the parts over halfway, ${why}`;
}

function asMinutes(ms: number): string {
  return spoken(ms / 60_000);
}

/** Below a minute in seconds. */
function spoken(value: number): string {
  return value < 1 ? `${Math.round(60 * value)} s` : minutes(value);
}
