/** A long ledger read and replayed part by part, so that memory does not grow with it: what its first events come to. */
import { createHash } from 'node:crypto';
import { deserialize, serialize } from 'node:v8';
import type { Step } from '../bath/replay.ts';
import { openShop, type Shop } from '../bath/shop.ts';
import { type BelievedUnderway, believe } from '../belief/believe.ts';
import { type Checkpoint, lately, type Reached, type Records, recorded } from '../checkpoint/checkpoint.ts';
import { type Cut, cutOf } from '../checkpoint/cut.ts';
import { BUILD } from '../checkpoint/file.ts';
import { hashesOf, holdTwice, type Ids, idsOf } from '../checkpoint/ids.ts';
import type { Spans } from '../ledger/append-span.ts';
import type { Entry } from '../ledger/event.ts';
import { type LedgerFile, readLedger } from '../ledger/read.ts';
import { type Settled, settle } from '../ledger/settle.ts';
import { findEvents } from '../ledger/split.ts';
import { Since } from '../outlook/since.ts';
import { movementsOf } from '../records/movements.ts';
import { catalogue } from '../substance/catalogue.ts';
import { type ClockOf, joined, startOf } from './stages.ts';

/** Bytes read at a time, about four thousand events: few enough to be dropped before the engine takes them for lasting. */
const PART_BYTES = 600_000;
/** Events that stay behind the cut of a part: whoever corrects an older one makes the ledger be read whole. */
const BEHIND = 1000;
const LINE_FEED = 10;

/** Undefined where the ledger has to be read whole: something in it is odd, or reaches further back than a part. */
export async function goThrough(ledger: Spans, clockOf: ClockOf): Promise<Checkpoint | undefined> {
  const first = partAt(ledger, 0, PART_BYTES);
  const { header, text } = await readLedger(first, catalogue);
  const split = findEvents(text);
  if (!header || !split) return undefined;
  const headBytes = startOf(first, split.line + 1);
  const on = { ledger, headBytes, shop: openShop(header), clockMs: await clockOf(header) };
  const going = new Going(on);
  while (ledger.size - going.at > PART_BYTES) {
    const part = await nextPart(going.at, on);
    if (part === undefined) return undefined;
    if (part === null) break;
    if (!going.take(part)) return undefined;
  }
  return going.checkpoint();
}

interface On {
  ledger: Spans;
  headBytes: number;
  shop: Shop;
  clockMs: number;
}

/** Lines of the ledger, read and settled by themselves. */
interface Part {
  file: LedgerFile;
  own: Settled;
  cut: Cut;
  /** The bytes before the cut. */
  bytes: Buffer;
}

/** Null where the rest of the ledger has no cut; undefined where it has to be read whole. */
async function nextPart(at: number, { ledger, headBytes, clockMs }: On): Promise<Part | null | undefined> {
  const head = ledger.span(0, headBytes);
  for (let length = PART_BYTES; length < ledger.size - at; length *= 2) {
    const lines = partAt(ledger, at, length);
    const file = await readLedger(Buffer.concat([head, lines]), catalogue);
    if (file.problems.length > 0) return undefined;
    const own = await settle(file.events, clockMs, file.header, catalogue);
    if (own.problems.length > 0) return undefined;
    const cut = cutOf(file.events, own, { clockMs, behind: BEHIND });
    if (!cut) continue;
    const headLines = findEvents(file.text)!.line;
    const bytes = lines.subarray(0, startOf(lines, file.events[cut.events]!.line - headLines));
    return { file, own, cut, bytes };
  }
  return null;
}

/** Whole lines, so many bytes of them or a few less. */
function partAt(ledger: Spans, from: number, length: number): Buffer {
  const bytes = ledger.span(from, from + length);
  return bytes.subarray(0, bytes.lastIndexOf(LINE_FEED) + 1);
}

/** How far it has come. */
class Going {
  at: number;
  private readonly on: On;
  private readonly since: Since;
  private readonly digest = createHash('sha256');
  private believed: BelievedUnderway | undefined;
  private latestMs = Number.NEGATIVE_INFINITY;
  private ids: Ids[] = [];
  private late: Entry[] = [];
  private records: Records = { entries: [], movements: { pours: [], wastes: [] } };

  constructor(on: On) {
    this.on = on;
    this.at = on.headBytes;
    this.since = new Since(on.shop);
    this.digest.update(on.ledger.span(0, on.headBytes));
  }

  /** Replays the events before the cut of a part; false where they do not stand behind all others, or cannot have happened. */
  take({ file, own, cut, bytes }: Part): boolean {
    if (!own.entries.every(({ atMs }) => atMs >= this.latestMs)) return false;
    const before = own.entries.filter(({ place }) => place < cut.events);
    const moved = this.replayed(before);
    const asked = apart(recorded(before));
    this.ids.push(hashesOf(file.events.slice(0, cut.events).map(({ event }) => event.id)));
    this.late = lately([...this.late, ...asked]);
    this.records = {
      entries: recorded([...this.records.entries, ...asked]),
      movements: joined(this.records.movements, moved),
    };
    this.latestMs = cut.latestMs;
    this.at += bytes.length;
    this.digest.update(bytes);
    return this.believed!.replay.refused.length === 0;
  }

  private replayed(entries: readonly Entry[]): Records['movements'] {
    const movements = movementsOf();
    const watch = (step: Step): void => {
      this.since.watch(step);
      movements.watch(step);
    };
    believe(this.on.shop, entries, this.on.clockMs, {
      watch,
      ...(this.believed ? { from: this.believed } : {}),
      halt: {
        at: entries.length,
        seen: (believed) => {
          this.believed = believed;
        },
      },
    });
    return movements;
  }

  /** Undefined where nothing was taken, or an id stands there twice. */
  checkpoint(): Checkpoint | undefined {
    if (!this.believed) return undefined;
    const ids = idsOf(this.ids);
    if (holdTwice(ids)) return undefined;
    const reached = serialize({ believed: this.believed, since: this.since.met } satisfies Reached);
    const { late, records, at, latestMs } = this;
    const { ledger, headBytes } = this.on;
    const sha256 = this.digest.digest('hex');
    return {
      mark: { build: BUILD, bytes: at, headBytes, latestMs },
      ids,
      reached: () => deserialize(reached) as Reached,
      lately: () => late,
      records: () => records,
      begun: () => begunOf(ledger, at, sha256),
    };
  }
}

/** The same entries, without the text that they were read from: the engine keeps all of a text for a few letters of it. */
function apart(entries: readonly Entry[]): Entry[] {
  return JSON.parse(JSON.stringify(entries)) as Entry[];
}

/** The first bytes of a ledger once more, held against what they were. */
function* begunOf(ledger: Spans, bytes: number, sha256: string): Iterable<Uint8Array> {
  const digest = createHash('sha256');
  for (let at = 0; at < bytes; at += PART_BYTES) {
    const piece = ledger.span(at, Math.min(bytes, at + PART_BYTES));
    digest.update(piece);
    yield piece;
  }
  if (digest.digest('hex') !== sha256) throw new Error('The ledger was changed meanwhile');
}
