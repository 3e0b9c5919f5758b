/** What a guided wash says: to stderr, in lines, with one line drawn anew below them on a screen. */
import { wrap } from '../render/wrap.ts';
import { columns, remark } from './streams.ts';

/** As {@link Voice.say}, where no line is drawn; with `--quiet` too, since an answer hangs on it. */
export function sayPlainly(text: string): void {
  for (const line of text.split('\n')) remark(`${wrap(line, widthOf())}\n`);
}

/** One less than there are: some terminals go to the next line with the last. */
function widthOf(): number {
  return (process.stderr.columns || columns(20, 200)) - 1;
}

export class Voice {
  readonly onScreen: boolean;
  private readonly rings: boolean;
  private drawn = '';

  constructor({ onScreen, rings }: { onScreen: boolean; rings: boolean }) {
    this.onScreen = onScreen;
    this.rings = rings;
  }

  get width(): number {
    return widthOf();
  }

  say(text: string): void {
    const line = this.drawn;
    this.clear();
    sayPlainly(text);
    if (line !== '') this.draw(line);
  }

  draw(line: string): void {
    if (!this.onScreen || line === this.drawn) return;
    remark(`\r${line}\u001b[K`);
    this.drawn = line;
  }

  clear(): void {
    if (this.drawn !== '') remark('\r\u001b[K');
    this.drawn = '';
  }

  ring(): void {
    if (this.rings) remark('\u0007');
  }
}
