/** A command that cannot go on: what to tell, and how to exit. Thrown by commands, caught in `main.ts`. */
import type { Problem } from '../ledger/problem.ts';

export const EXIT = {
  done: 0,
  usage: 64,
  data: 65,
  noFile: 66,
  bug: 70,
  cannotCreate: 73,
  io: 74,
  locked: 75,
  configuration: 78,
  interrupted: 130,
} as const;

export class Fault extends Error {
  /** The lines of the ledger that were not written. */
  unlogged?: string;

  constructor(
    readonly problems: readonly Problem[],
    readonly exit: number,
    /** The file the problems are in; absent for what was typed. */
    readonly file?: string,
    /** How many problems there are beyond those told. */
    readonly more = 0,
  ) {
    super(problems[0]?.message ?? 'Something is wrong');
  }
}

/** What was typed cannot be used. */
export function usage(message: string, help?: string): Fault {
  return new Fault([{ code: 'usage', message, ...(help ? { help } : {}), severity: 'error' }], EXIT.usage);
}
