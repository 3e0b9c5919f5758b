/** How a writing command reads its ledger: whole, or the short way where one will do and is found. */
import { mayHold } from '../checkpoint/ids.ts';
import type { OpenFile } from '../ledger/append-file.ts';
import type { Entry, Written } from '../ledger/event.ts';
import type { LedgerFile } from '../ledger/read.ts';
import type { Settled } from '../ledger/settle.ts';
import type { Movements } from '../records/movements.ts';
import { suitEngine } from './engine.ts';
import { type ClockOf, joined, type Short, type Stages, settledWith, shorten, toKeep } from './stages.ts';

export class Way {
  private readonly path: string;
  private readonly willDo: boolean;
  private readonly clockOf: ClockOf;
  private ledger: OpenFile | undefined;
  private short: Short | undefined;

  constructor(path: string, willDo: boolean, clockOf: ClockOf) {
    this.path = path;
    this.willDo = willDo;
    this.clockOf = clockOf;
  }

  /** The ledger read the short way; undefined where there is none. */
  async read(ledger: OpenFile): Promise<LedgerFile | undefined> {
    this.ledger = ledger;
    this.short = this.willDo ? await shorten(this.path, ledger, this.clockOf) : undefined;
    return this.short?.file;
  }

  get isShort(): boolean {
    return this.short !== undefined;
  }

  /** The short way will not do: the ledger is read whole from here on. */
  giveUp(): void {
    this.short = undefined;
    suitEngine([this.path]);
  }

  /** Whether an event that was left out may have this id. */
  mayHold(id: string): boolean {
    return this.short !== undefined && mayHold(this.short.checkpoint.ids, id);
  }

  /** With the entries that were left out; undefined where the ledger has to be read whole. */
  settled(own: Settled, clockMs: number): Settled | undefined {
    return this.short ? settledWith(this.short, own, clockMs) : own;
  }

  /** The entries that are about liquid, stock and waste, with those that were left out. */
  recorded(own: Settled): readonly Entry[] {
    return this.short ? [...this.short.checkpoint.records().entries, ...own.entries] : own.entries;
  }

  /** The pours and drains of a replay that began where this way begins, behind those that were left out. */
  moved(own: Pick<Movements, 'pours' | 'wastes'>): Pick<Movements, 'pours' | 'wastes'> {
    return joined(this.short?.checkpoint.records().movements, own);
  }

  /** Where a replay begins: with fresh copies each time. */
  get begun(): Pick<Stages, 'reached' | 'done'> {
    if (!this.short) return {};
    return { reached: this.short.checkpoint.reached(), done: this.short.lately.length };
  }

  /** Where a replay of these events begins and halts, and how to keep where it came to. */
  stages(
    file: LedgerFile,
    events: Written[],
    own: Settled,
    clockMs: number,
  ): { stages: Stages; keep(): void } {
    const { short, path } = this;
    const read = short ? { short } : { bytes: () => this.ledger!.bytes };
    const keeping = toKeep({ path, file: { ...file, events }, own, clockMs, ...read });
    return {
      stages: { ...this.begun, ...(keeping ? { halt: keeping.halt } : {}) },
      keep: () => keeping?.write(),
    };
  }
}
