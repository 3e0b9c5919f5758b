import { existsSync, statfsSync } from 'node:fs';
import { dirname } from 'node:path';
import { BUILD } from '../checkpoint/file.ts';
import { exitCodeOf } from '../ledger/problems.ts';
import { wantsAscii } from '../render/ascii.ts';
import { type Doctor, doctorLines } from '../render/doctor.ts';
import { MODEL_VERSION } from '../render/json.ts';
import { wantsColour } from '../render/paint.ts';
import { printable } from '../render/printable.ts';
import { told } from '../render/tables.ts';
import { rfc3339, useZone } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { lookAtCache } from './doctor-cache.ts';
import { findingsOf } from './doctor-findings.ts';
import { type LookedAt, lookAtLedger } from './doctor-ledger.ts';
import { EXIT, Fault } from './fault.ts';
import { columns, remarksOnTerminal, terminal } from './streams.ts';
import { VERSION } from './version.ts';

/** `doctor`: describes the installation and the ledger, for a report of a fault. It reads and never writes. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const computerZone = new Intl.DateTimeFormat().resolvedOptions().timeZone;
  let unknownZone = false;
  let clockMs = Date.now();
  const found = context.ledger();
  const looked = await lookAtLedger(found, async (zone) => {
    unknownZone = !zoneSet(zone);
    clockMs = await context.clockMs();
    return clockMs;
  });
  const cache = lookAtCache(found.path);
  const doctor = withFindings(
    {
      program: programFacts(),
      ledger: { ...looked.ledger, path: withoutHome(found.path) },
      lock: looked.lock,
      cache: { ...cache, folder: cache.folder && withoutHome(cache.folder) },
      disk: {
        ledger_free_bytes: freeBytes(found.path),
        cache_free_bytes: cache.folder === null ? null : freeBytes(cache.folder),
      },
      clock: clockFacts(looked, clockMs, computerZone),
      terminal: terminalFacts(options),
      environment: environmentFacts(),
    },
    unknownZone,
  );
  if (context.json) context.printJson('doctor', clockMs, doctor);
  else context.print(printableLines(doctor, context));
  return exitOf(looked, unknownZone);
}

/** False where this computer does not know the zone; the clock is then that of the computer. */
function zoneSet(zone: string | undefined): boolean {
  const before = process.env.TZ;
  try {
    useZone(zone);
    return true;
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
    return false;
  }
}

function withFindings(doctor: Omit<Doctor, 'findings'>, unknownZone: boolean): Doctor {
  const zone = {
    severity: 'fault',
    text: 'This computer does not know the time zone of the shop',
    help: 'give shop.timezone a name of the zone database, like America/Halifax',
  } as const;
  return { ...doctor, findings: [...(unknownZone ? [zone] : []), ...findingsOf(doctor)] };
}

function printableLines(doctor: Doctor, { paint, width, onTerminal }: Context): string {
  const lines = doctorLines(doctor).map(([label, text]) => [label, printable(text)] as const);
  return told(lines, { paint, width, onTerminal });
}

function programFacts(): Doctor['program'] {
  const { versions, platform, arch } = process;
  return { version: VERSION, build: BUILD, model: MODEL_VERSION, node: versions.node, platform, arch };
}

function clockFacts({ zone, lastMs }: LookedAt, clockMs: number, computerZone: string): Doctor['clock'] {
  const behind = lastMs !== null && clockMs < lastMs ? Math.round((lastMs - clockMs) / 1000) : null;
  return {
    now: rfc3339(clockMs),
    shop_zone: zone ?? null,
    computer_zone: computerZone,
    behind_s: behind,
  };
}

function terminalFacts(options: Options): Doctor['terminal'] {
  const { env } = process;
  return {
    stdin: process.stdin.isTTY === true,
    stdout: terminal().isTTY,
    stderr: remarksOnTerminal(),
    columns: columns(60, 200),
    colour: wantsColour({ choice: options.color as string | undefined, env, stream: terminal() }),
    ascii: wantsAscii(env),
    locale: env.LC_ALL || env.LC_CTYPE || env.LANG || '',
    term: env.TERM ?? '',
  };
}

/** Initials are nobody's business in a report; paths lose the home folder. */
function environmentFacts(): Record<string, string> {
  const own = Object.entries(process.env).filter(([name]) => name.startsWith('BATHBOOK_'));
  return Object.fromEntries(
    own.sort().map(([name, value = '']) => [name, name === 'BATHBOOK_BY' ? '(set)' : withoutHome(value)]),
  );
}

/** The home folder names a person. */
function withoutHome(path: string): string {
  const home = process.env.HOME;
  return home && home !== '/' && (path === home || path.startsWith(`${home}/`))
    ? `~${path.slice(home.length)}`
    : path;
}

/** Of the disk that a path is on, or would be on; null where the system does not say. */
function freeBytes(path: string): number | null {
  let there = path;
  while (!existsSync(there) && dirname(there) !== there) there = dirname(there);
  try {
    const { bavail, bsize } = statfsSync(there);
    return bavail * bsize;
  } catch {
    return null;
  }
}

/** That of the first command that would stop: no ledger, one with errors, a zone that is not known. */
function exitOf({ ledger }: LookedAt, unknownZone: boolean): number {
  if (ledger.sound) return unknownZone ? EXIT.configuration : EXIT.done;
  const problems = ledger.problems.map(({ code, severity }) => ({
    code,
    severity: severity as 'error',
    message: '',
  }));
  return exitCodeOf(problems) || EXIT.data;
}
