/** The worker threads that run a comparison, as many as the machine has processors. */
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Worker } from 'node:worker_threads';
import { type Basis, joinPart, type Part } from '../compare/part.ts';
import type { Plant } from '../compare/plant.ts';
import type { Piece } from './compare-worker.ts';

/** Draws in a piece of work: a moment's, and even, since every second draw mirrors the one before. */
const DRAWS_A_PIECE = 4;
/** More workers than this have nothing to do. */
const MOST_WORKERS = 16;

export class Pool {
  /** The person has left: what is not done yet stays undone. */
  stopped = false;
  private readonly basis: Basis;
  private readonly told: () => void;
  private readonly workers: Worker[];
  private waiting: { piece: Piece; done: (part: Part) => void }[] = [];
  private readonly running = new Map<number, (part: Part) => void>();
  private readonly idle: Worker[];
  private ids = 0;
  private ended: ((error?: Error) => void)[] = [];

  /** @param told - called after each piece of work */
  constructor(basis: Basis, told: () => void) {
    this.basis = basis;
    this.told = told;
    // A small ledger turned optimised code off, and the flag is the process's.
    setFlagsFromString('--opt');
    const many = Math.min(MOST_WORKERS, availableParallelism());
    this.workers = Array.from({ length: many }, () => this.hire());
    this.idle = [...this.workers];
  }

  /** Pieces that a number of plants come to. */
  static pieces(plants: number, draws: number): number {
    return plants * Math.ceil(draws / DRAWS_A_PIECE);
  }

  /**
   * Runs plants through all draws, some draws of every plant before the next draws of any.
   *
   * @returns a part for each plant, all with the same draws; fewer draws than asked for, or none at all, when stopped
   */
  async run(plants: readonly Plant[]): Promise<Part[] | null> {
    const draws = this.basis.draws.length;
    const rounds: (Part | undefined)[][] = [];
    const pieces: Promise<void>[] = [];
    for (let from = 0; from < draws; from += DRAWS_A_PIECE) {
      const round: (Part | undefined)[] = plants.map(() => undefined);
      rounds.push(round);
      plants.forEach((plant, place) => {
        const to = Math.min(draws, from + DRAWS_A_PIECE);
        const kept = (part: Part) => {
          round[place] = part;
        };
        pieces.push(this.give({ plant, from, to }).then(kept));
      });
    }
    const left = new Promise<void>((resolve, reject) => {
      this.ended.push((error) => (error ? reject(error) : resolve()));
    });
    await (this.stopped ? undefined : Promise.race([Promise.all(pieces), left]));
    return joined(rounds);
  }

  /** Ends at once; what is running is left. */
  stop(error?: Error): void {
    this.stopped = true;
    this.waiting = [];
    for (const end of this.ended) end(error);
    this.close();
  }

  close(): void {
    for (const worker of this.workers) void worker.terminate();
  }

  private hire(): Worker {
    const worker = new Worker(join(__dirname, 'compare-worker.js'), { workerData: this.basis });
    worker.on('message', ({ id, part }: { id: number; part: Part }) => {
      const done = this.running.get(id)!;
      this.running.delete(id);
      this.idle.push(worker);
      this.hand();
      done(part);
      if (!this.stopped) this.told();
    });
    worker.on('error', (error) => this.stop(error instanceof Error ? error : new Error(String(error))));
    return worker;
  }

  private give(work: Omit<Piece, 'id'>): Promise<Part> {
    return new Promise((done) => {
      this.ids += 1;
      this.waiting.push({ piece: { ...work, id: this.ids }, done });
      this.hand();
    });
  }

  private hand(): void {
    while (this.idle.length > 0 && this.waiting.length > 0) {
      const { piece, done } = this.waiting.shift()!;
      this.running.set(piece.id, done);
      this.idle.pop()!.postMessage(piece);
    }
  }
}

/** The rounds that every plant has gone through, in their order, so that the sums are the same whoever was first. */
function joined(rounds: readonly (Part | undefined)[][]): Part[] | null {
  const whole = rounds.filter((round): round is Part[] => round.every((part) => part !== undefined));
  const [first, ...rest] = whole;
  if (!first) return null;
  for (const round of rest)
    round.forEach((part, place) => {
      joinPart(first[place]!, part);
    });
  return first;
}
