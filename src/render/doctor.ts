/** The state of an installation and its ledger, for a person and for a report of a fault: nothing that was written into the ledger. */
import { count } from './format.ts';

export interface DoctorLedger {
  path: string;
  why: string;
  bytes: number | null;
  newline: 'lf' | 'crlf' | null;
  ends: 'whole' | 'no-newline' | 'torn' | null;
  baths: number | null;
  /** By kind, the most first. */
  events: Record<string, number> | null;
  first: string | null;
  last: string | null;
  counting: number;
  voided: number;
  later: number;
  /** Lines that only the slower reader of hand-written ones understands. */
  by_hand: number;
  sound: boolean;
  problems: { code: string; severity: string; line: number | null }[];
  more_problems: number;
  permissions: {
    mode: string;
    others_may_write: boolean;
    anybody_may_replace: boolean;
    own: boolean;
    may_write: boolean;
    is_link: boolean;
  } | null;
}

export interface DoctorLock {
  process: number | null;
  since: string | null;
  stale: boolean;
}

export interface DoctorCache {
  folder: string | null;
  code: { files: number; bytes: number; current: number } | null;
  checkpoints: { files: number; bytes: number } | null;
  checkpoint: 'none' | 'fits' | 'to be made anew';
}

export interface Doctor {
  program: { version: string; build: string; model: string; node: string; platform: string; arch: string };
  ledger: DoctorLedger;
  lock: DoctorLock | null;
  cache: DoctorCache;
  disk: { ledger_free_bytes: number | null; cache_free_bytes: number | null };
  clock: {
    now: string;
    shop_zone: string | null;
    computer_zone: string;
    /** How long before the last entry of the ledger; null where it is not. */
    behind_s: number | null;
  };
  terminal: {
    stdin: boolean;
    stdout: boolean;
    stderr: boolean;
    columns: number;
    colour: boolean;
    ascii: boolean;
    locale: string;
    term: string;
  };
  environment: Record<string, string>;
  findings: Finding[];
}

/** What somebody should look at; only a fault makes the exit code other than 0. */
export interface Finding {
  severity: 'fault' | 'notice';
  text: string;
  help: string;
}

type Line = readonly [label: string, text: string];

/** The lines under one another. */
export function doctorLines(doctor: Doctor): Line[] {
  return [
    ...programLines(doctor),
    ...ledgerLines(doctor.ledger),
    ['lock', lockText(doctor.lock)],
    ...cacheLines(doctor),
    ...clockLines(doctor.clock),
    ['terminal', terminalText(doctor.terminal)],
    ...environmentLines(doctor.environment),
    ...findingLines(doctor.findings),
  ];
}

function programLines({ program }: Doctor): Line[] {
  const { version, build, model, node, platform, arch } = program;
  return [
    ['program', `bathbook ${version}, build ${build}, ${model}`],
    ['runs on', `Node ${node}, ${platform} ${arch}`],
  ];
}

const WHY: Readonly<Record<string, string>> = {
  '--ledger': 'named with --ledger',
  BATHBOOK_LEDGER: 'named by BATHBOOK_LEDGER',
  here: 'found in this folder',
  'a folder above': 'found in a folder above this one',
  'your data folder': 'in your data folder, as none is here or above',
};

const ENDS = { whole: '', 'no-newline': ', last line without its end', torn: ', last line cut short' };

function ledgerLines(ledger: DoctorLedger): Line[] {
  const { path, why, bytes, newline, ends, permissions } = ledger;
  const head: Line[] = [
    ['ledger', path],
    ['why', WHY[why] ?? why],
  ];
  if (bytes === null) return [...head, ['problems', problemsText(ledger)]];
  const crlf = newline === 'crlf' ? ', lines end as on Windows' : '';
  const link = permissions?.is_link ? ', through a link' : '';
  const mode = permissions ? `, permissions ${permissions.mode}` : '';
  return [
    ...head,
    ['file', `${size(bytes)}${mode}${link}${crlf}${ENDS[ends ?? 'whole']}`],
    ...eventLines(ledger),
    ['problems', problemsText(ledger)],
  ];
}

function eventLines({ events, first, last, counting, voided, later, by_hand, baths }: DoctorLedger): Line[] {
  const kinds = Object.entries(events ?? {});
  const all = kinds.reduce((sum, [, number]) => sum + number, 0);
  if (all === 0) return [['events', `none yet, ${count(baths ?? 0, 'bath')}`]];
  const rest = [
    `${counting} count`,
    ...(voided > 0 ? [`${voided} voided`] : []),
    ...(later > 0 ? [`${later} after this time`] : []),
    ...(by_hand > 0 ? [`${by_hand} in a form of their own, read more slowly`] : []),
  ];
  return [
    [
      'events',
      `${all} for ${count(baths ?? 0, 'bath')}, from ${first?.slice(0, 10)} to ${last?.slice(0, 10)}`,
    ],
    ['of them', rest.join(', ')],
    ['kinds', kinds.map(([kind, number]) => `${kind} ${number}`).join(', ')],
  ];
}

function problemsText({ problems, more_problems }: DoctorLedger): string {
  if (problems.length === 0) return 'none';
  const places = problems.map(({ code, severity, line }) =>
    [code, line === null ? '' : `line ${line}`, severity === 'error' ? '' : severity]
      .filter(Boolean)
      .join(', '),
  );
  return `${places.join('; ')}${more_problems > 0 ? `; and ${more_problems} more` : ''}`;
}

function lockText(lock: DoctorLock | null): string {
  if (!lock) return 'free';
  const who = lock.process === null ? 'by a program that left no name' : `by process ${lock.process}`;
  const since = lock.since === null ? '' : ` since ${lock.since}`;
  return lock.stale
    ? `left ${who}${since}, which is gone; the next entry takes it over`
    : `held ${who}${since}`;
}

function cacheLines({ cache, disk }: Doctor): Line[] {
  const { folder, code, checkpoints, checkpoint } = cache;
  const free = freeLine(disk);
  if (folder === null) return [['cache', 'off, neither HOME nor XDG_CACHE_HOME names a folder'], ...free];
  const kept = [
    code
      ? `code ${size(code.bytes)} in ${count(code.files, 'file')}, ${code.current} of this build`
      : 'no code',
    checkpoints
      ? `checkpoints ${size(checkpoints.bytes)} in ${count(checkpoints.files, 'file')}`
      : 'no checkpoints',
  ];
  const own = {
    none: 'none of this ledger, as none is needed yet',
    fits: 'fits this ledger',
    'to be made anew': 'of this ledger, to be made anew',
  }[checkpoint];
  return [['cache', folder], ['kept', kept.join('; ')], ['checkpoint', own], ...free];
}

function freeLine({ ledger_free_bytes, cache_free_bytes }: Doctor['disk']): Line[] {
  const told = [
    ...(ledger_free_bytes === null ? [] : [`${size(ledger_free_bytes)} free for the ledger`]),
    ...(cache_free_bytes === null ? [] : [`${size(cache_free_bytes)} for the cache`]),
  ];
  return told.length === 0 ? [] : [['disk', told.join(', ')]];
}

function clockLines({ now, shop_zone, computer_zone }: Doctor['clock']): Line[] {
  const zone = shop_zone === null ? 'the ledger names no zone' : `shop ${shop_zone}`;
  return [
    ['clock', now],
    ['zone', `${zone}, computer ${computer_zone}`],
  ];
}

function terminalText({
  stdin,
  stdout,
  stderr,
  columns,
  colour,
  ascii,
  locale,
  term,
}: Doctor['terminal']): string {
  const ends = [
    [stdin, 'in'],
    [stdout, 'out'],
    [stderr, 'err'],
  ] as const;
  const on = ends.filter(([is]) => is).map(([, name]) => name);
  const where = on.length === 0 ? 'none' : on.length === 3 ? 'yes' : `only ${on.join(' and ')}`;
  return `${where}, ${columns} columns, ${colour ? 'colour' : 'no colour'}, ${ascii ? 'ASCII only' : 'UTF-8'}, locale ${locale || 'not set'}, TERM ${term || 'not set'}`;
}

function environmentLines(environment: Record<string, string>): Line[] {
  const set = Object.entries(environment).map(([name, value]) => `${name}=${value}`);
  return [['set', set.length === 0 ? 'no BATHBOOK_ variable' : set.join(', ')]];
}

function findingLines(findings: readonly Finding[]): Line[] {
  if (findings.length === 0) return [['verdict', 'nothing wrong that can be seen from here']];
  return findings.flatMap(({ severity, text, help }): Line[] => [
    [severity, text],
    ['help', help],
  ]);
}

/** 512 B, 48 kB, 1.3 MB, 12 GB. */
function size(bytes: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'];
  let value = bytes;
  let unit = 0;
  while (value >= 999.5 && unit < units.length - 1) {
    value /= 1000;
    unit += 1;
  }
  return `${value.toFixed(unit === 0 || value >= 9.95 ? 0 : 1)} ${units[unit]}`;
}
