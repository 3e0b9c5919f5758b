/** What a command is given: the streams, the clock, the ledger. The only way commands reach the world. */
import type { Shop } from '../bath/shop.ts';
import type { Problem } from '../ledger/problem.ts';
import type { LedgerFile } from '../ledger/read.ts';
import type { Settled } from '../ledger/settle.ts';
import { shellWord } from '../ledger/shell-word.ts';
import { inAscii, wantsAscii } from '../render/ascii.ts';
import { document } from '../render/json.ts';
import { type Paint, painter } from '../render/paint.ts';
import { printable, shown } from '../render/printable.ts';
import { wrap } from '../render/wrap.ts';
import { ownClockMs, rfc3339, useZone } from './clock.ts';
import type { Options } from './definition.ts';
import { suitEngine } from './engine.ts';
import { EXIT, Fault } from './fault.ts';
import { type Found, findLedger } from './find-ledger.ts';
import { columns, remark, remarkColumns, remarksOnTerminal, say, terminal } from './streams.ts';
import { VERSION } from './version.ts';
import { readWhen } from './when.ts';

/** More than this nobody reads at once. */
const MOST_PROBLEMS = 20;

/** A ledger that could be read, settled at the clock. */
export interface Opened {
  path: string;
  /** As they stood in the file. */
  bytes: Uint8Array;
  file: LedgerFile;
  shop: Shop;
  settled: Settled;
  clockMs: number;
}

export class Context {
  readonly json: boolean;
  readonly quiet: boolean;
  /** True when stdout is a terminal, so that tables and questions make sense. */
  readonly onTerminal = terminal().isTTY;
  readonly paint: Paint;
  /** True where characters beyond ASCII may not be shown, as those that charts are drawn with. */
  readonly ascii = wantsAscii(process.env);
  private readonly options: Options;
  private zoned = false;

  constructor(options: Options) {
    this.options = options;
    this.json = options.json === true;
    this.quiet = options.quiet === true;
    this.paint = painter({
      choice: options.color as string | undefined,
      env: process.env,
      stream: terminal(),
    });
  }

  /** Columns to write in, 60 to 200. */
  get width(): number {
    return columns(60, 200);
  }

  /** The answer: one line or more, to stdout. Names and words in it steer no terminal, wherever they came from. */
  print(text: string): void {
    say(shown(text.endsWith('\n') || text === '' ? text : `${text}\n`));
  }

  /** An answer in a format for other programs, sign by sign; shown on a terminal it is for people. */
  printData(text: string): void {
    if (this.onTerminal) this.print(text);
    else say(text);
  }

  /** Everything that is not the answer, to stderr and without colours; `--quiet` keeps notes to itself, never problems. */
  note(text: string): void {
    if (this.quiet) return;
    const width = remarksOnTerminal() ? remarkColumns(60, 200) : Number.POSITIVE_INFINITY;
    const lines = text.split('\n').map((line) => wrap(printable(line), width));
    remark(`${lines.join('\n')}\n`);
  }

  /** Problems, to stderr. */
  async tell(problems: readonly Problem[], file?: string): Promise<void> {
    if (problems.length === 0) return;
    const { renderProblem } = await import('../render/problem.ts');
    const width = remarksOnTerminal() ? remarkColumns(60, 200) : undefined;
    for (const problem of problems) remark(`${renderProblem(problem, file ?? '', width)}\n`);
  }

  /** One JSON document, to stdout. */
  printJson(name: string, clockMs: number, data: unknown): void {
    this.print(document({ name, version: VERSION, asOf: rfc3339(clockMs), data }));
  }

  ledger(): Found {
    const found = findLedger({
      named: this.options.ledger as string | undefined,
      env: process.env,
      folder: () => process.cwd(),
    });
    suitEngine([found.path]);
    return found;
  }

  /** A command to type next, for the same ledger where one was named. */
  hint(command: string): string {
    const { ledger } = this.options;
    if (typeof ledger !== 'string') return command;
    return `${command} --ledger ${shellWord(ledger)}`;
  }

  /** Sets the zone of the shop; after it, local times are the shop's. */
  useShop(shop: Shop): void {
    if (!this.zoned) useZone(shop.zone);
    this.zoned = true;
  }

  /** The clock: `--as-of`, else now. Read after {@link useShop}, since words are in the shop's zone. */
  async clockMs(): Promise<number> {
    const asOf = this.options.asOf as string | undefined;
    return asOf === undefined ? ownClockMs() : readWhen(asOf, Date.now());
  }

  /** The clock, with local times from here on those of a shop. */
  clockIn(shop: Shop): Promise<number> {
    this.useShop(shop);
    return this.clockMs();
  }

  /** Whether a question can be put: a terminal at both ends, and no `--no-input`. */
  get canAsk(): boolean {
    return remarksOnTerminal() && process.stdin.isTTY === true && this.options.input !== false;
  }

  /**
   * Asks on the terminal.
   *
   * @returns the answer without blanks around it, or `preset` when it is empty
   * @throws Fault, interrupted, when the person leaves instead
   */
  async ask(question: string, preset = ''): Promise<string> {
    const { createInterface } = await import('node:readline/promises');
    const lines = createInterface({ input: process.stdin, output: process.stderr });
    const left = new Promise<never>((_, reject) => {
      lines.once('close', () => reject(new Fault([], EXIT.interrupted)));
    });
    try {
      return (
        (
          await Promise.race([lines.question(this.ascii ? inAscii(shown(question)) : shown(question)), left])
        ).trim() || preset
      );
    } catch (error) {
      remark('\n');
      throw error;
    } finally {
      lines.close();
    }
  }

  /** Yes or no, asked until it is one of them; a bare return is no. */
  async confirm(question: string): Promise<boolean> {
    for (;;) {
      const answer = await this.ask(`${question} [y/N] `, 'n');
      if (/^y(?:es)?$/i.test(answer)) return true;
      if (/^no?$/i.test(answer)) return false;
    }
  }

  /**
   * Reads the ledger and settles it at the clock.
   *
   * @param options.warn - false keeps warnings back: a reminder that comes every day must not repeat what `check` says
   * @throws Fault when there is none, or it holds errors; warnings are told and do not stop
   */
  async open({ warn = true } = {}): Promise<Opened> {
    const { path } = this.ledger();
    const [{ readLedgerAt }, { openShop }, { settle }, { catalogue }] = await Promise.all([
      import('../ledger/append-read.ts'),
      import('../bath/shop.ts'),
      import('../ledger/settle.ts'),
      import('../substance/catalogue.ts'),
    ]);
    const read = await readLedgerAt(path, catalogue);
    if ('code' in read) throw await unreadable(read);
    const { file, bytes } = read;
    await this.refuseErrors(path, file.problems, { more: file.moreProblems, warn });
    const shop = openShop(file.header!);
    this.useShop(shop);
    const clockMs = await this.clockMs();
    const settled = await settle(file.events, clockMs, file.header, catalogue);
    const told = settled.problems.slice(0, MOST_PROBLEMS);
    const more = settled.problems.length - told.length;
    await this.refuseErrors(path, await inPlace(file, told), { more, warn });
    return { path, bytes, file, shop, settled, clockMs };
  }

  private async refuseErrors(
    path: string,
    problems: readonly Problem[],
    { more, warn }: { more: number; warn: boolean },
  ): Promise<void> {
    const errors = problems.filter(({ severity }) => severity === 'error');
    if (errors.length > 0) throw new Fault(problems, EXIT.data, path, more);
    if (warn) await this.tell(problems, path);
  }
}

/** Problems found after reading, with their lines of the file. */
async function inPlace({ text }: LedgerFile, problems: readonly Problem[]): Promise<Problem[]> {
  if (problems.length === 0) return [];
  const { withExcerpt } = await import('../ledger/excerpt.ts');
  return problems.map((one) => withExcerpt(text, one));
}

async function unreadable(problem: Problem): Promise<Fault> {
  const { exitCodeOf } = await import('../ledger/problems.ts');
  return new Fault([problem], exitCodeOf([problem]) || EXIT.io);
}
