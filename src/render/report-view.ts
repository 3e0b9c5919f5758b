/** What the formats of the report share: what they are given, and the sections that most of them lay out. */
import type { Report } from '../records/report.ts';
import type { Charts } from './html/charts.ts';
import type { Paint } from './paint.ts';
import type { Table } from './table.ts';

/** How a format is to be written, and the wall clock of the shop. */
export interface ReportView {
  /** Columns, where lines are broken. */
  width: number;
  paint: Paint;
  ledger: string;
  version: string;
  /** Why this period: as given, since the last report, or the last 24 hours. */
  why: PeriodWhy;
  /** For the formats that draw; null for the others, and before anything was logged. */
  charts: Charts | null;
  /** The clock of the report; the period may end before it. */
  clockMs: number;
  /** RFC 3339. */
  time(ms: number): string;
  /** Fri 2026-11-20 17:30. */
  when(ms: number): string;
  /** Fri 17:30 where the weekday tells which, else with the date. */
  moment(ms: number): string;
  /** Fri 2026-11-20. */
  day(ms: number): string;
  /** November 2026. */
  month(ms: number): string;
}

export type PeriodWhy = 'given' | 'since-last-report' | 'last-24-h' | 'last-24-h-unkept';

/** One format: a report in, its text out. */
export type ReportFormat = (report: Report, view: ReportView) => string | Promise<string>;

/** A part of the page under a title of its own. Texts are as in the ledger: each format guards its own reader. */
export interface Section {
  title: string;
  blocks: Block[];
}

export type Block =
  | { kind: 'table'; table: Table }
  /** A label and what there is to say. */
  | { kind: 'facts'; facts: Fact[] }
  | { kind: 'list'; items: string[] };

/** With an empty label it goes on with the one before. */
export type Fact = readonly [label: string, text: string];
