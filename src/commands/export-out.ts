/** Where an export goes: to stdout, or to a file that is there whole or not at all. */
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { refuseLedger } from './out-is-ledger.ts';
import { writeWhole } from './write-whole.ts';

export interface Exported {
  clockMs: number;
  /** Made only when it is written. */
  text(): string | Promise<string>;
  /** Of the JSON document, made only when it is asked for. */
  data(): Record<string, unknown>;
  /** What a person should know of it. */
  note?: string;
}

/** Writes an export, or with `--json` prints its document. */
export async function putOut(exported: Exported, options: Options, context: Context): Promise<number> {
  if (context.json) {
    context.printJson('export', exported.clockMs, exported.data());
    return EXIT.done;
  }
  if (typeof options.out === 'string') refuseLedger(options.out, [context.ledger().path]);
  const text = await exported.text();
  if (typeof options.out === 'string') {
    writeWhole(options.out, text);
    context.note(`Written to ${options.out}`);
  } else context.printData(text);
  if (exported.note) context.note(exported.note);
  return EXIT.done;
}
