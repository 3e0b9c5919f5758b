/** The bench of a guided wash as it is: this computer's clock, terminal and state folder. */
import { type Course, courseAt, MINUTE_MS, type Run } from '../timer/course.ts';
import type { KeptWash } from '../timer/kept.ts';
import { readable } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { remarksOnTerminal } from './streams.ts';
import { askOut } from './timed-ask.ts';
import { TimerClock } from './timed-clock.ts';
import { type Found, WashFile } from './timed-kept.ts';
import { Keyboard, type Pressed } from './timed-keys.ts';
import type { TimerBench } from './timed-run.ts';
import { Voice } from './timed-voice.ts';

/** Parts whose soak is over by more than this may have been taken out unseen. */
const LONG_OVER_MS = 5 * MINUTE_MS;

export type Washed = Omit<KeptWash, 'aheadMs' | 'keptMs' | 'pid'>;

export class Session implements TimerBench {
  washed: Washed;
  readonly byClock: boolean;
  readonly onScreen: boolean;
  /** Taken up only to log what was done. */
  readonly toLog: boolean;
  private readonly context: Context;
  private readonly clock: TimerClock;
  private readonly keyboard: Keyboard;
  private readonly voice: Voice;
  private readonly file: WashFile;
  /** It is logged, or was dropped. */
  isOver = false;
  private warned = false;

  /** @param from - what is washed, from the time it starts; or one that was kept */
  constructor(
    context: Context,
    options: Options,
    from: ((startedMs: number) => Washed) | Found,
    toLog = false,
  ) {
    const kept = typeof from === 'function' ? undefined : from.kept;
    const dumb = process.env.TERM === 'dumb' || options.lineMode === true;
    this.context = context;
    this.toLog = toLog;
    this.byClock = options.input === false;
    this.onScreen = remarksOnTerminal() && !dumb && (this.byClock || process.stdin.isTTY === true);
    this.clock = new TimerClock(kept);
    this.clock.onGap = (ms) => this.toldGap(ms);
    this.keyboard = new Keyboard(this.byClock ? 'none' : this.onScreen ? 'keys' : 'lines');
    this.voice = new Voice({ onScreen: this.onScreen, rings: remarksOnTerminal() && !context.quiet });
    this.washed = kept ?? (from as (startedMs: number) => Washed)(this.clock.nowMs());
    const { ledger, run } = this.washed;
    this.file = new WashFile(ledger, run.startedMs, process.env, kept && (from as Found).path);
    this.keep(run);
  }

  start(): void {
    this.keyboard.start();
  }

  /** Leaves terminal and keyboard to others. */
  rest(): void {
    this.voice.clear();
    this.keyboard.stop();
  }

  nowMs(): number {
    return this.clock.nowMs();
  }

  wallOf(ms: number): number {
    return this.clock.wallOf(ms);
  }

  readonly timeOfDay = (ms: number): string => readable(this.wallOf(ms)).slice(-5);

  get width(): number {
    return this.voice.width;
  }

  key(withinMs: number): Promise<Pressed | undefined> {
    if (!this.isOver) this.file.beat(Date.now());
    return this.keyboard.next(withinMs);
  }

  say(text: string): void {
    this.voice.say(text);
  }

  draw(line: string): void {
    this.voice.draw(line);
  }

  ring(): void {
    this.voice.ring();
  }

  /** Once it is logged there is nothing to keep: how long the parts dry can be told from the clock. */
  keep(run: Run): void {
    this.washed = { ...this.washed, run };
    if (this.isOver) return;
    const keptMs = this.clock.nowMs();
    const isKept = this.file.write({ ...this.washed, aheadMs: this.clock.aheadMs, keptMs, pid: process.pid });
    if (!isKept && !this.warned)
      this.context.note(
        'Note: The timers cannot be kept in a file; leave this terminal open until the wash is logged',
      );
    this.warned ||= !isKept;
  }

  over(): void {
    this.isOver = true;
    this.file.remove();
  }

  suspend(): void {
    if (process.platform === 'win32') return;
    this.rest();
    process.kill(process.pid, 'SIGTSTP');
    this.start();
  }

  /** When the parts came out of a soak; asked where it is long over and somebody can answer. */
  async outOf(course: Course): Promise<number> {
    const isLong = !course.paused && course.elapsedMs - course.targetMs > LONG_OVER_MS;
    if (!isLong || !this.context.canAsk) return this.nowMs();
    const wasOpen = this.keyboard.isOpen;
    this.rest();
    try {
      const { bath } = this.washed.plan.soaks[course.soak]!;
      const wallMs = await askOut(this.context, bath, {
        sinceMs: this.wallOf(course.sinceMs),
        nowMs: this.wallOf(this.nowMs()),
      });
      return wallMs + this.clock.aheadMs;
    } finally {
      if (wasOpen) this.start();
    }
  }

  private toldGap(ms: number): void {
    const { phase } = courseAt(this.washed.plan, this.washed.run, 0);
    const stayed = phase === 'soak' ? '; the parts are taken to have stayed in the bath' : '';
    this.say(
      `The clock went on by ${Math.round(ms / 60_000)} min at once, as when a computer sleeps${stayed}`,
    );
  }
}
