/**
 * The resin of each bath day by day: as it was since the bath was last changed, and as it will be if nothing is changed.
 */
import { stand } from '../bath/air.ts';
import { type Bath, copyBath, ipaFraction, isEmpty, resinFraction, resinMass } from '../bath/state.ts';
import { bandOf } from '../belief/band.ts';
import type { Belief } from '../belief/belief.ts';
import { believe } from '../belief/believe.ts';
import { atMeanScatter } from '../belief/lump.ts';
import type { Entry } from '../ledger/event.ts';
import { bandsOf } from './estimate.ts';
import { type Outlook, scatterOf } from './outlook.ts';
import type { Days } from './pace.ts';
import type { Quantity } from './quantity.ts';
import type { Status } from './status.ts';
import { type DayAhead, daysAhead, goingFrom, standDay, washMany } from './until-days.ts';

/** The baths at one moment: the end of a day, a change, or the clock. */
export interface Moment {
  atMs: number;
  /** In the order of `shop.tubs`; null where a bath held no solvent, or other liquid than now. */
  resinWtPct: (Quantity | null)[];
}

const MS_PER_DAY = 86_400_000;
const MS_PER_HOUR = 3_600_000;
/** Nobody looks back further than a year. */
const MOST_BACK_MS = 366 * MS_PER_DAY;
/** Days ahead where no limit is in sight, and the fewest. */
const WITHOUT_LIMIT_DAYS = 84;
const FEWEST_DAYS = 7;
const MOST_DAYS = 400;

/**
 * Each bath from its last change on, at the end of every day; the clock is left to {@link trailAhead}. Each moment is what the
 * entries up to it say, with their corrections: what `baths --as-of` tells of it, where nothing was logged after the event.
 *
 * @param entries - those that the status was made from
 */
export function trailBehind(status: Status, entries: readonly Entry[], days: Days): Moment[] {
  const { shop, clockMs, replayed } = status;
  const moments = momentsOf(status, days);
  if (moments.length === 0) return [];
  const refused = new Set(replayed.refused.map(({ entry }) => entry));
  const counted = entries.filter((entry) => !refused.has(entry));
  const nextMs = new Map(counted.map((entry, at) => [entry, counted[at + 1]?.atMs ?? clockMs]));
  const trail: Moment[] = [];
  let last = { atMs: Number.NaN, baths: [] as readonly Bath[] };
  believe(shop, entries, clockMs, {
    watchRecords: true,
    watch: ({ entry, baths, wash, move }, belief) => {
      const until = nextMs.get(entry);
      if (until === undefined) return;
      const moved = wash !== undefined || move !== undefined || entry.event.what === 'reading';
      if (moved) last = { atMs: entry.atMs, baths: baths.map(copyBath) };
      while (moments[trail.length]! < until)
        trail.push(momentAt(moments[trail.length]!, last, status, belief));
    },
  });
  return trail;
}

/** When each bath was changed, and the ends of the days since the first of these, before the clock. */
function momentsOf({ replayed, clockMs }: Status, days: Days): number[] {
  const changes = replayed.baths.map(({ changedMs }) => changedMs).filter((ms) => ms < clockMs);
  const firstMs = Math.max(Math.min(...changes), clockMs - MOST_BACK_MS);
  const ends: number[] = [];
  for (let endMs = days.next(days.startOf(firstMs)); endMs < clockMs; endMs = days.next(endMs))
    ends.push(endMs);
  const all = [...changes.filter((ms) => ms >= firstMs), ...ends];
  return [...new Set(all)].sort((one, other) => one - other);
}

/** The baths at a moment after the last event that moved anything. */
function momentAt(
  atMs: number,
  last: { atMs: number; baths: readonly Bath[] },
  { shop, replayed }: Status,
  { ensemble }: Belief,
): Moment {
  const seen = ensemble.at(atMs);
  const { air } = seen.worlds[0]!.factors;
  const resinWtPct = last.baths.map((held, place) => {
    // A comparison with a bath that was never filled is false.
    if (!(replayed.baths[place]!.changedMs <= atMs)) return null;
    const bath = copyBath(held);
    stand(bath, shop.tubs[place]!, shop.resins, (atMs - last.atMs) / MS_PER_HOUR, air[place]!);
    return bandsOf(shop, bath, place, seen).resinWtPct;
  });
  return { atMs, resinWtPct };
}

/** The same with the water in the solvent, which loads carry along and the air brings. */
export interface MomentAhead extends Moment {
  waterWtPct: (Quantity | null)[];
}

/** One bath on one day of a way ahead. */
interface Held {
  resinWtPct: number;
  waterWtPct: number;
  resinG: number;
}

/**
 * The clock, then the end of every day to the late end of the date, loads like the recent ones going through and nothing changed
 * or topped up. Past the limit the baths go on: the band at a limit is between early and late.
 *
 * Besides the factors, the resin answers to the scatter of the washes behind, and to that of the loads to come in what they bring:
 *
 *     sd of ln(wt%) = (1 − w) sqrt( s² + (B σ)² )/m
 *
 * w, m: resin as a fraction, and g; s: sd of it now from the washes behind, g; B: brought since the clock, g; σ: of ln(days).
 */
export function trailAhead(status: Status, outlook: Outlook, days: Days): MomentAhead[] {
  const { shop, clockMs, estimates, replayed, factors, belief } = status;
  const { ensemble } = belief;
  const lateDays = outlook.days?.p95 ?? outlook.days?.p50 ?? WITHOUT_LIMIT_DAYS;
  const span = Math.min(MOST_DAYS, Math.max(FEWEST_DAYS, lateDays));
  const list = daysAhead(clockMs, clockMs + span * MS_PER_DAY, { pace: outlook.pace, days });
  const go = (from: Parameters<typeof goingFrom>[1], load: Outlook['load']) =>
    goOn(goingFrom(shop, from), load, list);
  const best = go({ baths: replayed.baths, factors }, outlook.load);
  const worlds = ensemble.worlds.map((world) => go(world, atMeanScatter(outlook.load)));
  const scatter = scatterAhead(status, outlook, worlds[0]!, list);
  return [
    {
      atMs: clockMs,
      resinWtPct: estimates.map(({ resinWtPct }) => resinWtPct),
      waterWtPct: estimates.map(({ waterWtPct }) => waterWtPct),
    },
    ...best.map((baths, day): MomentAhead => {
      const band = (of: keyof Held, scatterSd: (place: number) => number) =>
        baths.map((held, place) => {
          if (held === null) return null;
          const values = worlds.map((one) => (one[day] ?? one.at(-1))?.[place]?.[of] ?? held[of]);
          return bandOf(ensemble, { best: held[of], values, scatterSd: scatterSd(place) });
        });
      return {
        atMs: list[day]!.endMs,
        resinWtPct: band('resinWtPct', (place) => scatter(day, place)),
        waterWtPct: band('waterWtPct', () => 0),
      };
    }),
  ];
}

/** Every bath at the end of each day; as far as the loads can go. */
function goOn(
  going: ReturnType<typeof goingFrom>,
  load: Outlook['load'],
  list: readonly DayAhead[],
): (Held | null)[][] {
  const days: (Held | null)[][] = [];
  for (const day of list) {
    standDay(going, day);
    if (day.loads > 0 && washMany(going, load, day.loads)) break;
    days.push(
      going.baths.map((bath) =>
        isEmpty(bath)
          ? null
          : {
              resinWtPct: 100 * resinFraction(bath),
              waterWtPct: 100 * (1 - ipaFraction(bath)),
              resinG: resinMass(bath),
            },
      ),
    );
  }
  return days;
}

/** Standard deviation of ln(wt%) of a bath on a day, from the scatter of washes behind and ahead. */
function scatterAhead(
  { belief }: Status,
  { pace }: Outlook,
  middle: readonly (Held | null)[][],
  list: readonly DayAhead[],
): (day: number, place: number) => number {
  const { scatter, worlds } = belief.ensemble;
  const loads = list.map(() => 0);
  list.forEach((day, at) => {
    loads[at] = (loads[at - 1] ?? 0) + day.loads;
  });
  return (day, place) => {
    const held = middle[day]?.[place];
    if (!held || !(held.resinG > 0)) return 0;
    const behind = scatter[place]![place]!;
    const brought = Math.max(0, held.resinG - resinMass(worlds[0]!.baths[place]!));
    const relative = scatterOf({ loads: loads[day]!, days: day + 1 }, pace);
    const grams = Math.sqrt(behind + (brought * relative) ** 2);
    return ((1 - held.resinWtPct / 100) * grams) / held.resinG;
  };
}
