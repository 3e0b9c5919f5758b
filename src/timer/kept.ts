/** A guided wash as it is kept in a file, for when the terminal is closed. */
import type { Mark, Run } from './course.ts';
import type { Plan, Soak } from './plan.ts';

export interface KeptWash {
  /** The ledger's path. */
  ledger: string;
  /** What will be logged, but for the minutes. */
  body: Record<string, unknown>;
  by?: string;
  note?: string;
  plan: Plan;
  run: Run;
  /** The timers' clock less the wall clock, when this was kept. */
  aheadMs: number;
  /** The timers' clock, when this was kept. */
  keptMs: number;
  /** The process that keeps it. */
  pid: number;
}

const FORMAT = 'bathbook timed wash 1';
const KEYS: ReadonlySet<unknown> = new Set(['next', 'pause', 'go', 'more', 'less']);

export function keptText(kept: KeptWash): string {
  return `${JSON.stringify({ format: FORMAT, ...kept })}\n`;
}

/** Undefined where the text is not all of what this program keeps. */
export function readKeptWash(text: string): KeptWash | undefined {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return undefined;
  }
  if (!isRecord(value) || value.format !== FORMAT || typeof value.ledger !== 'string') return undefined;
  const { format: _, ...kept } = value;
  const isWhole =
    isRecord(kept.body) &&
    [kept.aheadMs, kept.keptMs, kept.pid].every(isNumber) &&
    [kept.by, kept.note].every((text_) => text_ === undefined || typeof text_ === 'string') &&
    isPlan(kept.plan) &&
    isRun(kept.run);
  return isWhole ? (kept as unknown as KeptWash) : undefined;
}

function isPlan(value: unknown): boolean {
  return isRecord(value) && isNumber(value.dryMs) && Array.isArray(value.soaks) && value.soaks.every(isSoak);
}

function isSoak(value: unknown): value is Soak {
  return (
    isRecord(value) &&
    typeof value.bath === 'string' &&
    isNumber(value.plannedMs) &&
    isNumber(value.depthMm) &&
    typeof value.rinse === 'string'
  );
}

/** More steps than the plan has would be of another plan; they end at `end` and do no harm. */
function isRun(value: unknown): boolean {
  return (
    isRecord(value) && isNumber(value.startedMs) && Array.isArray(value.marks) && value.marks.every(isMark)
  );
}

function isMark(value: unknown): value is Mark {
  return isRecord(value) && isNumber(value.atMs) && KEYS.has(value.key);
}

function isNumber(value: unknown): boolean {
  return typeof value === 'number' && Number.isFinite(value);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
