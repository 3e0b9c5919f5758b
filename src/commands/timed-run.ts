/** Runs the timers of a guided wash: waits, says what there is to say, takes keys. What it does to the world comes in. */
import {
  begunWords,
  momentWords,
  outWords,
  refusalWords,
  stateWords,
  stepWords,
  type TimeOfDay,
  timerLine,
} from '../render/timed.ts';
import { type Course, courseAt, isUp, type Run, soakedMinutes } from '../timer/course.ts';
import { momentsSince, untilNextMoment } from '../timer/moments.ts';
import type { Plan } from '../timer/plan.ts';
import { type Key, press, type Refusal } from '../timer/press.ts';
import type { Pressed } from './timed-keys.ts';

/** Where a wash is run. */
export interface TimerBench {
  nowMs(): number;
  timeOfDay: TimeOfDay;
  key(withinMs: number): Promise<Pressed | undefined>;
  say(text: string): void;
  draw(line: string): void;
  ring(): void;
  keep(run: Run): void;
  suspend(): void;
  /** When the parts came out of this soak; asked where that may have been a while ago. */
  outOf(course: Course): Promise<number>;
  readonly width: number;
  readonly onScreen: boolean;
  /** Nobody is asked for anything: each step follows when the time of the one before is up. */
  readonly byClock: boolean;
}

/** How the timers came to stand. */
export interface Ended {
  run: Run;
  how: 'done' | 'interrupt' | 'stop' | 'gone';
}

const LEAST_WAIT_MS = 20;
/** Keys that come sooner after one another are one that is held down. */
const HELD_MS = 500;

export class Timers {
  private readonly plan: Plan;
  private readonly bench: TimerBench;
  private run: Run;
  private told = { step: '', ms: -1 };
  private refusedMs = Number.NEGATIVE_INFINITY;

  constructor(plan: Plan, run: Run, bench: TimerBench) {
    this.plan = plan;
    this.run = run;
    this.bench = bench;
  }

  /** Runs until the parts are out of the last bath, or until they have dried. */
  async until(phase: 'dry' | 'end'): Promise<Ended> {
    for (;;) {
      const course = this.onwardByClock();
      if (course.phase === phase || course.phase === 'end') return this.ended('done');
      this.tell(course);
      this.bench.draw(timerLine(this.plan, course, this.bench.width));
      const pressed = await this.bench.key(waitMs(this.plan, course));
      if (pressed === 'interrupt' || pressed === 'stop' || pressed === 'gone') return this.ended(pressed);
      if (pressed === 'suspend') this.bench.suspend();
      else if (pressed === 'help') this.bench.say(stateWords(this.course()));
      else if (pressed !== undefined) await this.pressed(pressed);
    }
  }

  private course(): Course {
    return courseAt(this.plan, this.run, this.bench.nowMs());
  }

  private ended(how: Ended['how']): Ended {
    return { run: this.run, how };
  }

  /** Takes the steps that need nobody, at the moment they were due. */
  private onwardByClock(): Course {
    for (;;) {
      const nowMs = this.bench.nowMs();
      const course = courseAt(this.plan, this.run, nowMs);
      const alone = this.bench.byClock || course.phase === 'dry';
      const due = course.phase === 'before' || isUp(course);
      if (!alone || !due || course.phase === 'end') return course;
      this.tell(course);
      this.step(nowMs - (course.elapsedMs - course.targetMs), course);
    }
  }

  /** From one phase to the next. */
  private step(atMs: number, { phase, soak }: Course): void {
    this.mark({ ...this.run, marks: [...this.run.marks, { key: 'next', atMs }] });
    if (phase !== 'soak' || this.bench.byClock) return;
    const took = soakedMinutes(courseAt(this.plan, this.run, atMs))[soak]!;
    this.bench.say(outWords(this.plan.soaks[soak]!, took));
  }

  private mark(run: Run): void {
    this.run = run;
    this.bench.keep(run);
  }

  private tell(course: Course): void {
    const { marks } = this.run;
    const step = `${course.phase} ${course.soak} ${marks.filter(({ key }) => key === 'next').length}`;
    if (step !== this.told.step) {
      this.told = { step, ms: course.elapsedMs < 1000 ? -1 : toldAt(course) };
      this.begin(course);
    }
    for (const moment of momentsSince(this.plan, course, this.told.ms)) {
      const words = momentWords(this.plan, course, moment, this.bench);
      if (words !== undefined) this.bench.say(words);
      if (words !== undefined && moment.what !== 'minute') this.bench.ring();
    }
    this.told.ms = Math.max(this.told.ms, course.elapsedMs);
  }

  private begin(course: Course): void {
    if (course.phase === 'before') {
      this.bench.say(stepWords(this.plan, course, this.bench));
      return;
    }
    const leftMs = course.targetMs - course.elapsedMs;
    if (leftMs > 0)
      this.bench.say(begunWords(this.plan, course, this.bench.nowMs() + leftMs, this.bench.timeOfDay));
  }

  private async pressed(key: Key): Promise<void> {
    const nowMs = this.bench.nowMs();
    const course = courseAt(this.plan, this.run, nowMs);
    const pressed = press(this.plan, this.run, key, nowMs);
    if (typeof pressed === 'string') return this.refuse(pressed, course, nowMs);
    const last = pressed.marks.length > this.run.marks.length ? pressed.marks.at(-1) : undefined;
    if (last?.key === 'next')
      return this.step(course.phase === 'soak' ? await this.bench.outOf(course) : nowMs, course);
    this.mark(pressed);
    this.answer(key);
  }

  /** A key that is held down is answered once. */
  private refuse(why: Refusal, course: Course, nowMs: number): void {
    if (nowMs - this.refusedMs > HELD_MS) this.bench.say(refusalWords(why, course));
    this.refusedMs = nowMs;
  }

  /** Said where no line on the screen shows it. */
  private answer(key: Key): void {
    const course = this.course();
    if (course.paused)
      this.bench.say(
        'Paused: the parts are lifted out, and the time does not count. Enter when they are back in',
      );
    else if (key !== 'back' && !this.bench.onScreen) this.bench.say(stateWords(course));
  }
}

/** Of a soak that is taken up again only that its time is up is told anew. */
function toldAt(course: Course): number {
  return isUp(course) ? course.targetMs - 1 : course.elapsedMs;
}

/** To the next whole second on the screen, or the next moment. */
function waitMs(plan: Plan, course: Course): number {
  const toSecond = 1000 - (course.elapsedMs % 1000);
  const toEnd = Math.max(0, course.targetMs - course.elapsedMs) || 1000;
  return Math.max(LEAST_WAIT_MS, Math.min(toSecond, toEnd, untilNextMoment(plan, course)));
}
