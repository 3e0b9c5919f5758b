/** Thirty nights of the sample shop: its ledger as it stood each evening, and what the program made of it. */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { load } from 'js-yaml';

/** An event of the sample shop, by another YAML parser than the program's. */
export interface ShopEvent {
  id: string;
  what: string;
  atMs: number;
  /** When it was in the file. */
  knownMs: number;
  line: string;
  bath?: string;
  parts?: Record<string, number>;
  by?: string;
  of?: string;
  ml?: number;
  to?: string;
  from?: string;
  action?: string;
  received_ml?: number;
}

export interface Night {
  /** 2026-10-22. */
  date: string;
  clockMs: number;
  due: { code: number | null; out: string; err: string };
  report: { code: number | null; out: string; err: string };
  data: NightData;
}

interface Matter {
  key: string;
  what: string;
  bath: string | null;
  item: string | null;
  severity: 'soon' | 'change' | 'stop';
  days: number | null;
  text: string;
}

interface NightData {
  period: { from: string; to: string; why: string };
  due: Matter[];
  outlook: { days_left: { p50: number } };
  washes: { loads: number; parts: number; by: { by: string; loads: number }[] };
  changes: { what: string; poured_ml: number; waste_ml: number }[];
  readings: unknown[];
  stock: { solvent: string; on_hand_ml: number }[];
  waste: { litres: number; month: string };
  corrections: { event: { id: string } }[];
  late: { event: { id: string }; counted: boolean }[];
  odd: Record<string, unknown>;
}

const SAMPLE = readFileSync('data/demo.yaml', 'utf8');

/** The events of the sample shop, in the order of the file. */
export function shopEvents(): ShopEvent[] {
  const { events } = load(SAMPLE.replaceAll(/(at|logged): (\d{4}-[^,}]+)/g, '$1: "$2"')) as {
    events: (ShopEvent & { at: string; logged?: string })[];
  };
  const lines = SAMPLE.split('\n').filter((line) => line.startsWith('  - {'));
  return events.map((event, place) => ({
    ...event,
    atMs: Date.parse(event.at),
    knownMs: Date.parse(event.logged ?? event.at),
    line: lines[place]!,
  }));
}

/** 18:30 of each evening in Winnipeg, whose clocks went back on 1 November 2026, the first Sunday of that month. */
function evenings(firstDate: string, count: number): { date: string; clockMs: number }[] {
  return Array.from({ length: count }, (_, nth) => {
    const date = new Date(Date.parse(`${firstDate}T00:00:00Z`) + nth * 86_400_000).toISOString().slice(0, 10);
    return { date, clockMs: Date.parse(`${date}T18:30:00${date < '2026-11-01' ? '-05:00' : '-06:00'}`) };
  });
}

/** Runs `due` and `report` on each evening, on a ledger that holds the lines typed by then. */
export function nightsOf(main: string, folder: string, firstDate: string, count: number): Night[] {
  const ledger = join(folder, 'bathbook.yaml');
  const head = SAMPLE.slice(0, SAMPLE.indexOf('  - {'));
  const events = shopEvents();
  return evenings(firstDate, count).map(({ date, clockMs }) => {
    const lines = events.filter(({ knownMs }) => knownMs <= clockMs).map(({ line }) => `${line}\n`);
    writeFileSync(ledger, head + lines.join(''));
    const run = (...args: string[]) => {
      const env = { XDG_STATE_HOME: join(folder, 'state') };
      const words = [main, ...args, '--as-of', `${date} 18:30`, '--ledger', ledger];
      const ran = spawnSync(process.execPath, words, { cwd: folder, env, encoding: 'utf8' });
      return { code: ran.status, out: ran.stdout, err: ran.stderr };
    };
    const due = run('due');
    const report = run('report');
    const { data } = JSON.parse(run('report', '--json').out);
    return { date, clockMs, due, report, data };
  });
}

/** The month as one text to read from first day to last. */
export function transcriptOf(nights: readonly Night[], folder: string): string {
  const pages = nights.map(({ date, due, report }) => {
    const weekday = new Date(`${date}T00:00:00Z`).toUTCString().slice(0, 3);
    const shown = ({ code, out, err }: Night['due']) => `${out}${err}${code === 0 ? '' : `(exit ${code})\n`}`;
    return [
      `=== ${weekday} ${date} 18:30`,
      `$ bathbook due\n${shown(due)}`,
      `$ bathbook report\n${shown(report)}`,
    ].join('\n');
  });
  return pages.join('\n').replaceAll(folder, '~');
}
