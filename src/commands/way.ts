import type { Reached } from '../checkpoint/checkpoint.ts';
import { mayHold } from '../checkpoint/ids.ts';
import type { LedgerFile } from '../ledger/read.ts';
import type { Settled } from '../ledger/settle.ts';
import { keptOf, type Short, type Stages, settledWith, shorten, toKeep } from './stages.ts';

/** How a writing command reads its ledger: whole, or the short way where one is asked for and found. */
export class Way {
  private readonly path: string;
  private readonly asked: boolean;
  private bytes: Uint8Array = new Uint8Array();
  private short: Short | undefined;

  constructor(path: string, asked: boolean) {
    this.path = path;
    this.asked = asked;
  }

  /** The short way to read these bytes; undefined where there is none. */
  async read(bytes: Uint8Array): Promise<LedgerFile | undefined> {
    this.bytes = bytes;
    this.short = this.asked ? await shorten(keptOf(this.path), bytes) : undefined;
    return this.short?.file;
  }

  get isShort(): boolean {
    return this.short !== undefined;
  }

  /** A fresh copy of what the events that were left out came to; undefined where none were. */
  reached(): Reached | undefined {
    return this.short?.checkpoint.reached();
  }

  /** Whether an event that was left out may have this id. */
  mayHold(id: string): boolean {
    return this.short !== undefined && mayHold(this.short.checkpoint.ids, id);
  }

  /** The short way will not do: the ledger is read whole from here on. */
  giveUp(): void {
    this.short = undefined;
  }

  /** With the entries that were left out; undefined where the ledger has to be read whole. */
  settled(own: Settled, clockMs: number): Settled | undefined {
    if (!this.short) return own;
    const { checkpoint } = this.short;
    return settledWith(checkpoint.reached(), checkpoint, own, clockMs);
  }

  /** Where the replay begins and halts, and how to keep where it came to. */
  stages(file: LedgerFile, settled: Settled): { stages: Stages; keep(): void } {
    const { short, path, bytes } = this;
    const reached = this.reached();
    const keeping = toKeep({
      path,
      bytes,
      file,
      settled,
      ...(short && reached ? { short: { checkpoint: short.checkpoint, entries: reached.entries } } : {}),
    });
    return {
      stages: { ...(reached ? { reached } : {}), ...(keeping ? { halt: keeping.halt } : {}) },
      keep: () => keeping?.write(),
    };
  }
}
