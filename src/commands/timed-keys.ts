/** The keyboard of a guided wash: single keys on a terminal, else lines. */
import type { Key } from '../timer/press.ts';
import { onInterrupt } from './interrupt.ts';

/** `gone`: nothing more can be typed. */
export type Pressed = Key | 'interrupt' | 'stop' | 'gone' | 'help' | 'suspend';

const KEYS: Readonly<Record<string, Pressed>> = {
  '\r': 'on',
  '\n': 'on',
  ' ': 'on',
  n: 'next',
  p: 'pause',
  '+': 'more',
  '=': 'more',
  '-': 'less',
  b: 'back',
  q: 'stop',
  '?': 'help',
  h: 'help',
  '\u0003': 'interrupt',
  '\u0004': 'gone',
  '\u001a': 'suspend',
};

/** As `none` nothing is read: the wash goes by the clock. */
export type Typing = 'keys' | 'lines' | 'none';

export class Keyboard {
  private readonly typing: Typing;
  private readonly waiting: Pressed[] = [];
  private wake: (() => void) | undefined;
  private line = '';
  private back: () => void = () => {};
  private open = false;
  private begun = false;

  constructor(typing: Typing) {
    this.typing = typing;
  }

  /** Listens, from now on or again. */
  start(): void {
    this.open = true;
    this.back = onInterrupt(() => this.put('interrupt'));
    if (this.typing === 'none') return;
    if (this.typing === 'keys') {
      process.stdin.setRawMode(true);
      process.on('SIGCONT', this.continued);
    }
    if (!this.begun) process.stdin.setEncoding('utf8');
    this.begun = true;
    process.stdin.on('data', this.read).on('end', this.ended).on('error', this.ended).resume();
  }

  get isOpen(): boolean {
    return this.open;
  }

  /** Leaves the keyboard to others, and Ctrl-C its usual meaning. */
  stop(): void {
    if (!this.open) return;
    this.open = false;
    this.back();
    if (this.typing === 'none') return;
    process.stdin.off('data', this.read).off('end', this.ended).off('error', this.ended).pause();
    if (this.typing === 'keys') {
      process.off('SIGCONT', this.continued);
      process.stdin.setRawMode(false);
    }
  }

  /** Whatever is pressed next; undefined when nothing is within that time. */
  async next(withinMs: number): Promise<Pressed | undefined> {
    if (this.waiting.length === 0) {
      await new Promise<void>((done) => {
        const timer = setTimeout(done, withinMs);
        this.wake = () => {
          clearTimeout(timer);
          done();
        };
      });
      this.wake = undefined;
    }
    return this.waiting.shift();
  }

  private put(pressed: Pressed): void {
    this.waiting.push(pressed);
    this.wake?.();
  }

  private readonly ended = () => this.put('gone');

  /** A shell that brings the program back has set the terminal to its own liking. */
  private readonly continued = () => {
    if (this.open) process.stdin.setRawMode(true);
  };

  private readonly read = (data: string) => {
    if (this.typing === 'lines') this.readLines(data);
    // Arrows and the like come as one piece that begins with an escape.
    else if (!data.startsWith('\u001b'))
      for (const key of data) if (KEYS[key.toLowerCase()]) this.put(KEYS[key.toLowerCase()]!);
  };

  private readLines(data: string): void {
    const lines = (this.line + data).split('\n');
    this.line = lines.pop()!;
    for (const line of lines) {
      const [first = '\n'] = line.trim().toLowerCase();
      this.put(KEYS[first] ?? 'help');
    }
  }
}
