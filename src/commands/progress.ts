/** A bar on the terminal for work that takes a while; nothing where stderr is no terminal. */
import { remark } from './streams.ts';

const LONGEST_BAR = 30;
/** Blanks, and the per cent beside the bar. */
const BESIDE = 9;

export class Progress {
  private done = 0;
  private readonly of: number;
  private readonly label: string;
  private readonly shown: boolean;
  private readonly bar: number;
  private last = '';

  /** @param on.of - steps in all */
  constructor(on: { label: string; of: number; width: number; shown: boolean }) {
    this.label = on.label;
    this.of = on.of;
    this.shown = on.shown;
    this.bar = Math.min(LONGEST_BAR, on.width - on.label.length - BESIDE);
  }

  step(): void {
    this.done += 1;
    if (!this.shown) return;
    const share = Math.min(1, this.done / this.of);
    const full = Math.round(this.bar * share);
    const text = `${this.label}  ${'='.repeat(full)}${'.'.repeat(this.bar - full)} ${String(Math.floor(100 * share)).padStart(3)} %`;
    if (text !== this.last) remark(`\r${text}`);
    this.last = text;
  }

  /** Takes the bar away. */
  clear(): void {
    // To the end of the line: the terminal may have echoed a ^C behind the bar.
    if (this.last !== '') remark('\r\u001b[K');
    this.last = '';
  }
}
