/** What is odd about a wash that is logged all the same. */
import { loadOf, soakMinutes } from '../bath/load.ts';
import { brimOf, type Shop } from '../bath/shop.ts';
import { type Bath, bathVolume } from '../bath/state.ts';
import type { WashEvent } from '../ledger/event.ts';
import { minutes, volume } from '../render/format.ts';
import type { Logged } from './write.ts';

/** A soak in all beyond this marks parts as washed too long. Common practice and papers, data/SOURCES.md. */
const LONG_SOAK_MIN = 15;
/** Thin parts and masks soften in a long soak; common practice, no source. */
const LONG_THIN_SOAK_MIN = 10;

/** @param besides - whether to look for the same load a moment before */
export function washWarnings(wash: WashEvent, logged: Logged, besides = true): string[] {
  const { shop, step } = logged;
  const soak = soakMinutes(wash, shop).reduce((sum, value) => sum + value, 0);
  const thin = Object.keys(wash.parts ?? {}).filter((name) => shop.parts.get(name)!.thin);
  return [
    ...(besides ? sameAgain(logged) : []),
    ...unusualRoute(wash, shop),
    ...unwashed(wash, shop),
    ...overflowing(wash, step!.before, shop),
    ...(soak > LONG_SOAK_MIN
      ? [
          `${minutes(soak)} of soak in all is long; beyond ${LONG_SOAK_MIN} min parts may lose strength or whiten`,
        ]
      : []),
    ...(thin.length > 0 && soak > LONG_THIN_SOAK_MIN
      ? [
          `${thin.join(', ')}: thin parts soften in a soak of ${minutes(soak)}; keep them under ${LONG_THIN_SOAK_MIN} min`,
        ]
      : []),
  ];
}

/** Two people, or one in a hurry, log one load twice. */
const MOMENT_MS = 5 * 60_000;

function sameAgain({ event, status }: Logged): string[] {
  const load = ({ id: _, at: __, by: ___, note: ____, logged: _____, ...rest }: Record<string, unknown>) =>
    // The keys stand in another order in what was just typed.
    JSON.stringify(Object.entries(rest).sort(([one], [other]) => (one < other ? -1 : 1)));
  const twin = status.replayed.recent.find(
    ({ entry }) =>
      entry.event.id !== event.id &&
      Math.abs(entry.atMs - Date.parse(event.at)) < MOMENT_MS &&
      load({ ...entry.event }) === load({ ...event }),
  );
  return twin
    ? [`The same load was logged as ${twin.entry.event.id} a moment ago; if it is one load: bathbook undo`]
    : [];
}

function unwashed(wash: WashEvent, shop: Shop): string[] {
  const given = wash.carry_g ?? wash.carry_ml;
  return [
    ...(soakMinutes(wash, shop).includes(0) ? ['A soak of 0 min dissolves nothing'] : []),
    ...(given !== undefined && wash.trapped_g !== undefined
      ? ['A measured carry-over stands for all that came in; the trapped resin is not added to it']
      : []),
  ];
}

function unusualRoute({ baths }: WashEvent, shop: Shop): string[] {
  if (!baths || !shop.tubPlace.has('dirty') || !shop.tubPlace.has('clean')) return [];
  if (baths.at(-1) === 'dirty' && baths.includes('clean')) return ['The dirty bath is the last of this wash'];
  return baths[0] === 'clean' ? ['The load went into the clean bath without the dirty one before it'] : [];
}

/** Baths whose brim the parts would reach, level before the wash. */
function overflowing(wash: WashEvent, before: readonly Bath[], shop: Shop): string[] {
  const load = loadOf(wash, shop);
  return load.baths.flatMap((place) => {
    const tub = shop.tubs[place]!;
    const brimMl = brimOf(tub);
    const raised = bathVolume(before[place]!, shop.resins) + load.volumeMl;
    if (!(raised > brimMl)) return [];
    return [
      `${volume(load.volumeMl)} of parts in the ${tub.name} bath would overflow its ${volume(brimMl)} by ${volume(raised - brimMl)}`,
    ];
  });
}
