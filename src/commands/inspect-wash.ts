/** Which wash a look belongs to, and how many of its parts. */
import type { WashEvent } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import { printable } from '../render/printable.ts';
import { readable } from './clock.ts';
import { refuseVoided } from './correct.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { readLoad } from './load-words.ts';
import type { Bench } from './write.ts';

/** A wash as it counts. */
export interface Washed {
  event: WashEvent;
  atMs: number;
}

/**
 * The wash that is meant: by id, by case, or the last one before the look; null for a look of no wash.
 *
 * @throws Fault, usage, when there is none such
 */
export function washMeant(word: string | undefined, options: Options, bench: Bench): Washed | null {
  const named = typeof options.wash === 'string' ? options.wash : word;
  if (typeof options.wash === 'string' && word !== undefined)
    throw usage(`Cannot take both "${word}" and --wash ${options.wash}`, 'name the wash once');
  if (typeof options.case === 'string') {
    if (named === undefined) return ofCase(options.case, bench);
    const washed = named === 'none' ? null : byName(named, bench);
    if (washed?.event.cases?.includes(options.case)) return washed;
    throw usage(
      `Cannot log case "${options.case}" with ${named === 'none' ? 'no wash' : `the wash "${washed!.event.id}"`}, it does not name that case`,
      'leave out the wash: the last one that names the case is taken',
    );
  }
  return named === 'none' ? null : byName(named ?? 'last', bench);
}

function byName(name: string, bench: Bench): Washed {
  return name === 'last' ? lastWash(bench) : washNamed(name, bench);
}

function washesBefore({ settled, atMs }: Bench): Washed[] {
  return settled.entries.filter((entry) => entry.event.what === 'wash' && entry.atMs <= atMs) as Washed[];
}

function lastWash(bench: Bench): Washed {
  const last = washesBefore(bench).at(-1);
  if (last) return last;
  throw usage(
    'Cannot log a look of the last wash, no wash was logged before it',
    'log the wash first: bathbook wash 6 model; or log a look of no wash: --wash none',
  );
}

function washNamed(id: string, bench: Bench): Washed {
  const found = washesBefore(bench).find(({ event }) => event.id === id);
  if (found) return found;
  const written = bench.file.events.find(({ event }) => event.id === id)?.event;
  if (written?.what === 'wash') {
    refuseVoided(id, 'log the look of', bench);
    throw usage(
      `Cannot log a look at ${readable(bench.atMs)}, its wash "${id}" was later, at ${written.at}`,
      'give the time at which the parts were looked at, like --at 17:30',
    );
  }
  const ids = washesBefore(bench).map(({ event }) => event.id);
  const why = written === undefined ? '' : `, that entry is a ${written.what}`;
  throw usage(
    `Cannot find a wash with the id "${id}"${why}`,
    didYouMean(id, ids) ?? 'look the ids up with: bathbook entries --what wash --last 10',
  );
}

function ofCase(name: string, bench: Bench): Washed {
  const washes = washesBefore(bench);
  const found = washes.findLast(({ event }) => event.cases?.includes(name));
  if (found) return found;
  const cases = new Set(washes.flatMap(({ event }) => event.cases ?? []));
  throw usage(
    `Cannot find a wash that names the case "${name}"`,
    didYouMean(name, cases) ?? 'look cases up with: bathbook entries --what wash --last 10',
  );
}

/** Other washes that name the case as well, which the look is not logged for. */
export function otherWashesOf(name: string, washed: Washed, bench: Bench): string[] {
  const others = washesBefore(bench).filter(
    ({ event }) => event.cases?.includes(name) && event.id !== washed.event.id,
  );
  if (others.length === 0) return [];
  const ids = others.map(({ event, atMs }) => `${event.id} of ${readable(atMs)}`).join(', ');
  return [`Case ${printable(name)} was washed before as well (${ids}); the last one is taken`];
}

/**
 * `--parts`: a count where the wash has parts of one kind, else counts with kinds.
 *
 * @throws Fault, usage, when it cannot be, or is more than was washed
 */
export function partsOption(
  { parts: text }: Options,
  washed: Washed | null,
  { shop }: Bench,
): { parts?: Record<string, number> } {
  if (typeof text !== 'string') return {};
  const held = washed?.event.parts;
  const kinds = Object.keys(held ?? {});
  const bare = /^\d+$/.test(text.trim());
  if (bare && kinds.length !== 1)
    throw usage(
      `Cannot tell which parts "--parts ${text}" are, ${kinds.length === 0 ? 'the wash names none' : `the wash had ${kinds.join(', ')}`}`,
      `name them, like --parts "${text} ${kinds[0] ?? 'model'}"`,
    );
  const load = readLoad(bare ? [text.trim(), kinds[0]!] : text.trim().split(/\s+/), shop.parts);
  if (!('parts' in load))
    throw usage(`Cannot read --parts "${text}"`, 'write counts and parts, like --parts "2 mask 1 model"');
  for (const [kind, number] of Object.entries(load.parts)) {
    const washedOf = held?.[kind] ?? 0;
    if (held && number > washedOf)
      throw usage(
        `Cannot log ${number} ${kind}, the wash had ${washedOf === 0 ? 'none' : washedOf}`,
        `give the parts of that wash, at most ${kinds.map((one) => `${held[one]} ${one}`).join(', ')}`,
      );
  }
  return { parts: load.parts };
}
