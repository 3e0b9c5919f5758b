/** A bar on the terminal for work that takes a while; nothing where stderr is no terminal. */

const BAR = 30;

export class Progress {
  private done = 0;
  private readonly of: number;
  private readonly label: string;
  private readonly shown: boolean;
  private last = '';

  constructor(label: string, of: number, shown: boolean) {
    this.label = label;
    this.of = of;
    this.shown = shown;
  }

  step(): void {
    this.done += 1;
    if (!this.shown) return;
    const share = Math.min(1, this.done / this.of);
    const full = Math.round(BAR * share);
    const text = `${this.label}  ${'='.repeat(full)}${'.'.repeat(BAR - full)} ${String(Math.floor(100 * share)).padStart(3)} %`;
    if (text !== this.last) process.stderr.write(`\r${text}`);
    this.last = text;
  }

  /** Takes the bar away. */
  clear(): void {
    if (this.last !== '') process.stderr.write(`\r${' '.repeat(this.last.length)}\r`);
    this.last = '';
  }
}
