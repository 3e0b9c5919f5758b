import type { Entry, Written } from './event.ts';
import type { Header } from './header.ts';
import { washBaths } from './names.ts';
import type { Problem } from './problem.ts';
import { TEMPERATURE_COUNTS } from './reading-ranges.ts';
import type { Settled } from './settle.ts';
import { reclaimedInClean, weighedVoided } from './strict-records.ts';

/** Total soak beyond which bench practice sees harm to the parts (common practice, no source). */
const LONGEST_SOAK_MIN = 15;

/** Corrections may come a little ahead of the clock when two machines disagree about the time. */
const CLOCK_TOLERANCE_MS = 5 * 60_000;

/**
 * What a careful shop asks of its ledger beyond what the program needs: order, initials, lots, cases, containers.
 * Only events that count are looked at, except where the order of the file matters.
 */
export function strictProblems(
  header: Header,
  events: readonly Written[],
  settled: Settled,
  clockMs: number,
): Problem[] {
  const found = [
    ...outOfOrder(events),
    ...events.flatMap((written) => loggedInFuture(written, clockMs)),
    ...events.flatMap(noInitials),
    ...settled.entries.flatMap((entry) => entryProblems(entry, header)),
    ...reclaimedInClean(settled.entries),
    ...weighedVoided(settled.entries, settled.voided),
    ...unusedNames(header, settled.entries),
  ];
  return found.sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
}

function entryProblems(entry: Entry, header: Header): Problem[] {
  return [
    longSoak(entry, header),
    noLot(entry),
    noContainer(entry),
    noTemperature(entry, header),
    noCases(entry, header),
  ].filter((one) => one !== null);
}

function problem(line: number, code: string, message: string, help: string): Problem {
  return { code, message, help, line, severity: 'error' };
}

function outOfOrder(events: readonly Written[]): Problem[] {
  let latest = Number.NEGATIVE_INFINITY;
  return events.flatMap(({ event, atMs, line }) => {
    const isBackDated = atMs < latest && event.logged === undefined;
    latest = Math.max(latest, atMs);
    const message = `The ${event.what} "${event.id}" happened before an event above it and does not say when it was logged`;
    const help = 'Add logged: with the time it was typed';
    return isBackDated ? [problem(line, 'out-of-order', message, help)] : [];
  });
}

function loggedInFuture({ event, line }: Written, clockMs: number): Problem[] {
  const ahead = event.logged !== undefined && Date.parse(event.logged) > clockMs + CLOCK_TOLERANCE_MS;
  const message = `The ${event.what} "${event.id}" was logged at ${event.logged}, which is still to come`;
  return ahead ? [problem(line, 'logged-in-future', message, 'Correct the time under "logged"')] : [];
}

function noInitials({ event, line }: Written): Problem[] {
  const message = `The ${event.what} "${event.id}" does not say who logged it`;
  return event.by === undefined ? [problem(line, 'no-initials', message, 'Add initials, like by: "NB"')] : [];
}

function longSoak({ event, line }: Entry, header: Header): Problem | null {
  if (event.what !== 'wash') {
    return null;
  }
  const minutes = event.minutes ?? usualMinutes(event.baths, header);
  const total = Number(minutes.reduce((sum, one) => sum + one, 0).toFixed(6));
  if (total <= LONGEST_SOAK_MIN) {
    return null;
  }
  const message = `The wash "${event.id}" soaked ${total} minutes in all, more than ${LONGEST_SOAK_MIN}`;
  return problem(
    line,
    'long-soak',
    message,
    'Check the minutes; if they are right, look at the parts for cracks and softness',
  );
}

/** What a wash that does not say soaks in each bath: the shop's usual minutes are those of the usual way, and follow the baths by name elsewhere. */
function usualMinutes(baths: readonly string[] | undefined, header: Header): number[] {
  const usual = washBaths(header);
  const minutes = header.shop.defaults?.minutes ?? [5, 5];
  if (baths === undefined) {
    return usual.map((_, step) => minutes[step] ?? minutes.at(-1)!);
  }
  return baths.map((name) => {
    const step = name === 'clean' && minutes.length === 2 ? 1 : usual.indexOf(name);
    return minutes[step] ?? minutes.at(-1)!;
  });
}

function noLot({ event, line }: Entry): Problem | null {
  if (event.what !== 'stock' || event.received_ml === undefined || event.lot !== undefined) {
    return null;
  }
  return problem(
    line,
    'no-lot',
    `The delivery "${event.id}" of ${event.solvent} has no lot number`,
    'Add the lot from the label, like lot: "0811"',
  );
}

function noContainer({ event, line }: Entry): Problem | null {
  const isEmptying = event.what === 'drain' || event.what === 'rotate' || event.what === 'refill';
  if (!isEmptying || event.into !== undefined) {
    return null;
  }
  const message = `The ${event.what} "${event.id}" does not say which waste container took the liquid`;
  return problem(line, 'no-container', message, 'Add the container, like into: "drum 1"');
}

/** A few degrees change what these instruments show by more than their error. */
function noTemperature({ event, line }: Entry, header: Header): Problem | null {
  if (event.what !== 'reading' || event.temp_c !== undefined || header.shop.room_c !== undefined) {
    return null;
  }
  const kind = TEMPERATURE_COUNTS.find((key) => event[key] !== undefined);
  if (kind === undefined) {
    return null;
  }
  const message = `The reading "${event.id}" of ${kind} gives no temperature, and the head no room_c: 22 °C is assumed`;
  return problem(line, 'no-temperature', message, 'Add temp_c: to the reading, or room_c: to the shop');
}

function noCases({ event, line }: Entry, header: Header): Problem | null {
  if (event.what !== 'wash' || header.shop.parts_use !== 'body-contact' || event.cases?.length) {
    return null;
  }
  const message = `The wash "${event.id}" names no case, in a shop that makes parts for body contact`;
  return problem(line, 'no-cases', message, 'Add the case numbers, like cases: ["26-0117"]');
}

function unusedNames(header: Header, entries: readonly Entry[]): Problem[] {
  const used = {
    solvent: new Set<string | undefined>(),
    resin: new Set<string | undefined>([header.shop.defaults?.resin]),
    part: new Set<string | undefined>(),
  };
  for (const { event } of entries) {
    if ('solvent' in event) used.solvent.add(event.solvent);
    if (event.what === 'wash') used.resin.add(event.resin);
    for (const part of 'parts' in event ? Object.keys(event.parts ?? {}) : []) used.part.add(part);
  }
  const kinds = { solvent: header.solvents, resin: header.resins, part: header.parts };
  return Object.entries(kinds).flatMap(([kind, names]) =>
    Object.keys(names ?? {})
      .filter((name) => !used[kind as keyof typeof used].has(name))
      .map((name) => ({
        code: 'unused-name',
        message: `The ${kind} "${name}" is defined in the head and no event uses it`,
        help: `Take "${name}" out of the head, or check how the events spell it`,
        severity: 'error' as const,
      })),
  );
}
