/**
 * Where a ledger can be cut in two, so that what comes before says all there is to say of its own events.
 */
import type { Correction, Written } from '../ledger/event.ts';
import type { Settled } from '../ledger/settle.ts';

export interface Cut {
  /** How many events stand before it. */
  events: number;
  /** The latest time of any of them. */
  latestMs: number;
}

/**
 * The last place to cut at, so that of the events before it
 *
 *   - none lies after any event behind it, as they are written and as amends leave them;
 *   - none names an event behind it, and no event behind it names one of them;
 *   - each counts at the clock, or corrects by then, or was voided by then.
 *
 * @param events - in the order of the file
 * @param settled - of these events, at the clock
 * @param on.behind - events that must stay behind the cut
 * @returns null when there is no such place
 */
export function cutOf(
  events: readonly Written[],
  settled: Settled,
  { clockMs, behind }: { clockMs: number; behind: number },
): Cut | null {
  const times = timesOf(events, settled, clockMs);
  const reach = reachOf(events);
  const latest = new Float64Array(events.length + 1);
  const furthest = new Float64Array(events.length + 1);
  latest[0] = Number.NEGATIVE_INFINITY;
  for (let place = 0; place < events.length; place += 1) {
    latest[place + 1] = Math.max(latest[place]!, times.last[place]!);
    furthest[place + 1] = Math.max(furthest[place]!, reach.last[place]!);
  }
  let earliest = Number.POSITIVE_INFINITY;
  let nearest = Number.POSITIVE_INFINITY;
  for (let cut = events.length; cut > 0; cut -= 1) {
    const isApart =
      latest[cut]! < Number.POSITIVE_INFINITY &&
      latest[cut]! <= earliest &&
      furthest[cut]! < cut &&
      nearest >= cut;
    if (cut <= events.length - behind && isApart) return { events: cut, latestMs: latest[cut]! };
    earliest = Math.min(earliest, times.first[cut - 1]!);
    nearest = Math.min(nearest, reach.first[cut - 1]!);
  }
  return null;
}

/** By place in the file: when an event was, as written and as it counts; never, where it does not count yet. */
function timesOf(events: readonly Written[], { entries, voided }: Settled, clockMs: number): Span {
  const first = Float64Array.from(events, ({ atMs }) => atMs);
  const last = Float64Array.from(events, (written) =>
    (isCorrection(written) && written.atMs <= clockMs) || voided.has(written.event.id)
      ? written.atMs
      : Number.POSITIVE_INFINITY,
  );
  for (const { place, atMs } of entries) {
    first[place] = Math.min(first[place]!, atMs);
    last[place] = Math.max(events[place]!.atMs, atMs);
  }
  return { first, last };
}

interface Span {
  first: Float64Array;
  last: Float64Array;
}

/** By place in the file: the first and the last place that an event has to do with, its own among them. */
function reachOf(events: readonly Written[]): Span {
  const first = Float64Array.from(events, (_, place) => place);
  const last = first.slice();
  const naming = events.flatMap(({ event }, place) => {
    const named = 'of' in event ? event.of : 'wash' in event ? event.wash : undefined;
    return named === undefined ? [] : [{ named, place }];
  });
  if (naming.length === 0) return { first, last };
  const places = new Map(events.map(({ event }, place) => [event.id, place]));
  for (const { named, place } of naming) {
    const other = places.get(named) ?? place;
    first[place] = Math.min(place, other);
    last[place] = Math.max(place, other);
  }
  return { first, last };
}

function isCorrection(written: Written): written is Written<Correction> {
  return written.event.what === 'void' || written.event.what === 'amend';
}
