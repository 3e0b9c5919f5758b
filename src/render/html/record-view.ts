/** What the page of wash records is made of, besides the washes. */
import type { Refused } from '../../bath/replay.ts';
import type { Shop } from '../../bath/shop.ts';
import type { Amended, TakenBack } from '../../exchange/wash-history.ts';
import type { WashRecord } from '../../exchange/wash-records.ts';

/** A wash with the corrections that shaped it. */
export interface Recorded {
  record: WashRecord;
  amended: readonly Amended[];
}

export interface RecordView {
  shop: Shop;
  /** What was asked for, in words: case 26-0117; empty for all. */
  asked: readonly string[];
  clockMs: number;
  /** Mon 2026-10-12 10:26 -05:00, in the shop's zone. */
  when(ms: number): string;
  /** RFC 3339. */
  time(ms: number): string;
  versions: { program: string; model: string };
  /** The digest is null where the file changed while it was read. */
  ledger: { path: string; sha256: string | null };
  takenBack: readonly TakenBack[];
  /** Washes that were asked for and cannot have happened as written. */
  refused: readonly Refused[];
  /** Of the whole ledger. */
  refusedInAll: number;
}
