/** What a ledger knows by name, as it is offered: ids with what they are of, cases, lots, containers, people. */
import type { Names, Seen } from './complete-ledger.ts';

export interface Offer {
  value: string;
  about?: string;
}

/** Without a letter typed, more would be read by nobody. */
const MOST_IDS = 20;
/** Events of a few weeks: enough for the cases, lots and people of now. */
const MOST_LOOKED_INTO = 60;

/** The latest, or those that begin with what is typed; not those that are voided. */
export function ids(names: Names, typed: string, what?: string): Offer[] {
  const voided = new Set(names.events(['what: void']).map(({ of }) => of));
  const most = typed === '' ? MOST_IDS + voided.size : undefined;
  return names
    .events([typed === '' && what ? `what: ${what}` : typed], most)
    .filter((one) => (what === undefined || one.what === what) && !voided.has(one.id))
    .map((event) => ({ value: event.id as string, about: summary(event) }));
}

/** `wash 2026-11-17 11:20, 6 model, 2 mask`. */
function summary({ what, at, parts, bath, of }: Seen): string {
  const time = typeof at === 'string' ? at.slice(0, 16).replace('T', ' ') : '';
  const load =
    typeof parts === 'object' && parts !== null
      ? Object.entries(parts).map(([part, count]) => `${count} ${part}`)
      : [];
  const more = [...load, bath, of].filter((one) => typeof one === 'string');
  return [`${what} ${time}`, ...more].join(', ');
}

export function containers(names: Names): Offer[] {
  const events = names.events(['into: ', 'container: ']);
  return plain(events.flatMap(({ into, container }) => [into, container].filter(isText)));
}

export function cases(names: Names): Offer[] {
  const events = names.events(['cases: '], MOST_LOOKED_INTO);
  return plain(events.flatMap(({ cases: list }) => (Array.isArray(list) ? list.filter(isText) : [])));
}

/** Lots of resin stand in washes, those of solvent in deliveries. */
export function lots(names: Names, what = 'wash'): Offer[] {
  const events = names.events(['lot: '], MOST_LOOKED_INTO).filter((event) => event.what === what);
  return plain(events.map(({ lot }) => lot).filter(isText));
}

export function people(names: Names): Offer[] {
  return plain(
    names
      .events(['by: '], MOST_LOOKED_INTO)
      .map(({ by }) => by)
      .filter(isText),
  );
}

function isText(value: unknown): value is string {
  return typeof value === 'string';
}

export function plain(values: readonly string[]): Offer[] {
  return [...new Set(values)].map((value) => ({ value }));
}
