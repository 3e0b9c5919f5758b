/**
 * Several ledgers in one call. Each is looked at on its own, in the zone of its own shop; one that cannot be read is told and never hides
 * the others.
 */
import { resolve } from 'node:path';
import type { Problem } from '../ledger/problem.ts';
import { Context } from './context.ts';
import type { Options } from './definition.ts';
import { ended } from './ended.ts';
import { suitEngine } from './engine.ts';
import { Fault, usage } from './fault.ts';
import type { Found } from './find-ledger.ts';

/** What became of one ledger. */
export interface Looked<T> {
  /** As it was typed. */
  typed: string;
  path: string;
  /** Absent when it could not be read or used. */
  found?: T;
  /** Why not; empty for a fault of the program, which stderr has. */
  problems: readonly Problem[];
  /** The exit code that this failure alone would have had; 0 when there is none. */
  failure: number;
}

/**
 * The ledgers that were typed as arguments, each once.
 *
 * @throws Fault, usage, beside `--ledger`, which names one
 */
export function ledgersTyped(args: readonly string[], { ledger }: Options): string[] {
  if (ledger !== undefined)
    throw usage(
      'Cannot use --ledger beside ledgers as arguments',
      'give them all as arguments, or one with --ledger',
    );
  const byPath = new Map(args.map((typed) => [resolve(typed), typed]));
  return [...byPath.values()];
}

/** A context for one ledger; what it notes begins with the ledger where there are others. */
class ContextOf extends Context {
  readonly #typed: string;

  constructor(options: Options, typed: string) {
    super(options);
    this.#typed = typed;
  }

  override ledger(): Found {
    return { path: resolve(this.#typed), why: '--ledger' };
  }

  override note(text: string): void {
    super.note(`${this.#typed}: ${text}`);
  }
}

/**
 * Looks at each ledger in turn. What `look` gives back holds times as text, made while the zone is the shop's; afterwards the zone is that of
 * the computer again.
 */
export async function lookAtEach<T>(
  ledgers: readonly string[],
  options: Options,
  look: (context: Context) => Promise<T>,
): Promise<Looked<T>[]> {
  suitEngine(ledgers.map((typed) => resolve(typed)));
  const zone = process.env.TZ;
  const looked: Looked<T>[] = [];
  for (const typed of ledgers) {
    looked.push(await lookAt(typed, options, look));
    backTo(zone);
  }
  return looked;
}

async function lookAt<T>(
  typed: string,
  options: Options,
  look: (context: Context) => Promise<T>,
): Promise<Looked<T>> {
  const path = resolve(typed);
  try {
    return { typed, path, found: await look(new ContextOf(options, typed)), problems: [], failure: 0 };
  } catch (error) {
    const failure = ended(error, process.argv.slice(2), undefined);
    return { typed, path, problems: error instanceof Fault ? error.problems : [], failure };
  }
}

/** A shop without a zone is shown in that of the computer, not in that of the ledger before it. */
function backTo(zone: string | undefined): void {
  if (zone === undefined) delete process.env.TZ;
  else process.env.TZ = zone;
}
