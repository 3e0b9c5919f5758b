/**
 * Ways to run the same shop: what it does now, and one thing changed at a time.
 */
import { openShop } from '../bath/shop.ts';
import type { Agitation, Midrinse, Prerinse, WashEvent } from '../ledger/event.ts';
import type { BathHeader, Header } from '../ledger/header.ts';
import { type Plant, plantOf, type Rule } from './plant.ts';

/** How a shop washes and when it changes its baths. */
export interface Practice {
  header: Header;
  /** Names of the baths in order. */
  route: string[];
  /** For each of them, the tub of the ledger whose air it has. */
  places: number[];
  /** Loads like the recent ones, every key that a habit may change written out. */
  washes: WashEvent[];
  solvent: string;
  rule: Rule;
  changeAt: number;
}

/** What kind of thing a habit changes. */
export type Subject = 'now' | 'limit' | 'baths' | 'size' | 'draining' | 'rinsing' | 'soaking' | 'lids';

export interface Habit {
  name: string;
  subject: Subject;
  practice: Practice;
}

const LIMIT_SHARES = [0.5, 0.75, 1.25, 1.5];
const DRAINED_MIN = [30, 720];
const SIZES = [0.5, 2];
/** Topped up once so much below the mark; common practice, no source. */
const TOP_UP_BELOW = 0.95;

/**
 * The shop's own habit first, then those that differ from it in one thing. Left out is what changes nothing, and a limit at which
 * a bath would be used up to where the ledger says never.
 */
export function habitsOf(now: Practice): Habit[] {
  const habit = (subject: Subject, name: string, practice: Practice): Habit => ({ subject, name, practice });
  const all = [habit('now', changeName(now), now)];
  for (const share of LIMIT_SHARES.filter((one) => isAllowed(now, one))) {
    const practice = atShare(now, share);
    all.push(habit('limit', changeName(practice), practice));
  }
  if (now.route.length > 1) {
    const practice: Practice = { ...now, rule: 'refill' };
    all.push(habit('baths', changeName(practice), practice));
  }
  for (const many of [1, 2, 3]) {
    if (many !== now.route.length) all.push(habit('baths', bathsName(many), inBaths(now, many)));
  }
  for (const size of SIZES) all.push(habit('size', sizeName(size), sized(now, size)));
  for (const minutes of DRAINED_MIN) {
    if (now.washes.some((wash) => wash.drained_min! < minutes && !isGiven(wash)))
      all.push(habit('draining', drainName(minutes), drained(now, minutes)));
  }
  for (const rinse of ['brush', 'spin'] as const) {
    if (now.washes.some((wash) => wash.prerinse !== rinse && !isGiven(wash)))
      all.push(habit('rinsing', `${rinse} before the first bath`, prerinsed(now, rinse)));
  }
  if (now.route.length > 1 && now.washes.some(({ midrinse }) => midrinse === 'none'))
    all.push(habit('rinsing', 'brush between the baths', midrinsed(now, 'brush')));
  if (now.washes.some(({ agitation }) => agitation === 'still' || agitation === 'hand'))
    all.push(habit('soaking', 'stir the baths', stirred(now, 'stirred')));
  if (now.route.some((name) => breathes(now, name)))
    all.push(habit('lids', 'lids open half as long', lidded(now, 0.5)));
  const plain = JSON.stringify(layOut(now));
  return all.filter(
    ({ subject, practice }) => subject === 'now' || JSON.stringify(layOut(practice)) !== plain,
  );
}

/** Whether a bath changed at a share of its limits stays below what the ledger calls never. The ledger's own limits are allowed. */
export function isAllowed({ header, route }: Practice, share: number): boolean {
  const shop = openShop(header);
  return (
    share <= 1 ||
    route.every((name) => {
      const [, change, never] = shop.tubs[shop.tubPlace.get(name)!]!.limits.resin;
      return share * change < never;
    })
  );
}

/** The same shop with the change limits at another share. */
export function atShare(practice: Practice, changeAt: number): Practice {
  return { ...practice, changeAt };
}

/** A practice as flat numbers. */
export function layOut({ header, route, places, washes, solvent, rule, changeAt }: Practice): Plant {
  const shop = openShop(header);
  const poured = shop.solvents.get(solvent)!;
  const laid = plantOf(shop, { route, washes, places, solvent: poured });
  return { ...laid, rule, changeAt, everyWashes: Number.POSITIVE_INFINITY, topUpBelow: TOP_UP_BELOW };
}

/** The solvent that is poured, where it brings more water than a limit allows: both in wt%. That limit is left out. */
export function weakSolventOf({
  header,
  route,
  solvent,
}: Practice): { waterWtPct: number; limitWtPct: number } | null {
  const shop = openShop(header);
  const waterWtPct = 100 * (1 - shop.solvents.get(solvent)!.ipaFraction);
  const limits = route.map((name) => shop.tubs[shop.tubPlace.get(name)!]!.limits.water[1]);
  const limitWtPct = Math.min(...limits);
  return waterWtPct < limitWtPct ? null : { waterWtPct, limitWtPct };
}

/** Resin at which each bath is changed, wt%, in the order of the route. */
export function changeLimits({ header, route, changeAt }: Practice): number[] {
  const shop = openShop(header);
  return route.map((name) => changeAt * shop.tubs[shop.tubPlace.get(name)!]!.limits.resin[1]);
}

/** The change of a practice in words, with its limits. */
export function changeName(practice: Practice): string {
  const verb = practice.route.length === 1 ? 'change' : practice.rule === 'rotate' ? 'rotate' : 'refill all';
  const limits = changeLimits(practice).map((percent) => Number(percent.toFixed(2)));
  return `${verb} at ${limits.join(' / ')} wt%`;
}

function bathsName(many: number): string {
  return many === 1 ? 'one bath' : many === 2 ? 'two baths in turn' : 'three baths in turn';
}

function sizeName(size: number): string {
  return size < 1 ? 'baths of half the size' : 'baths of twice the size';
}

function drainName(minutes: number): string {
  return minutes < 120 ? `drain ${minutes} min` : `drain ${minutes / 60} h`;
}

/** A carry-over that was weighed or given does not follow from draining and rinsing. */
function isGiven(wash: WashEvent): boolean {
  return wash.carry_g !== undefined || wash.carry_ml !== undefined;
}

/**
 * The same loads in another number of baths, the soak shared out so that its sum stays. Added baths are like the last one; the
 * drag-out that was given for the last bath is that of all but the first.
 */
function inBaths(now: Practice, many: number): Practice {
  const route = routeOf(now.route, many);
  const names = Object.keys(now.header.baths);
  const places = route.map((name) => (names.includes(name) ? names.indexOf(name) : now.places.at(-1)!));
  const added = now.header.baths[now.route.at(-1)!]!;
  const baths = Object.fromEntries(route.map((name) => [name, now.header.baths[name] ?? added]));
  const washes = now.washes.map((wash) => {
    const minutes = wash.minutes!.reduce((sum, one) => sum + one, 0) / many;
    const given = wash.drag_ml;
    return {
      ...wash,
      baths: route,
      minutes: route.map(() => minutes),
      ...(given && { drag_ml: route.map((_, at) => (at === 0 && many > 1 ? given[0]! : given.at(-1)!)) }),
    };
  });
  return { ...now, header: { ...now.header, baths }, route, places, washes };
}

/** Names of so many baths: the first and the last of the shop, and where it has but one, a dirty one before or a clean one after it. */
function routeOf(now: readonly string[], many: number): string[] {
  const own = now.at(-1)!;
  if (many === 1) return [own];
  const [first, last] = now.length > 1 ? [now[0]!, own] : own === 'dirty' ? [own, 'clean'] : ['dirty', own];
  const middle = [first, last].includes('middle') ? 'between' : 'middle';
  return many === 2 ? [first, last] : [first, middle, last];
}

/** Baths of the same depth with another surface. */
function sized(now: Practice, size: number): Practice {
  return withBaths(now, (bath) => ({
    ...bath,
    mark_ml: bath.mark_ml * size,
    length_mm: bath.length_mm * Math.sqrt(size),
    width_mm: bath.width_mm * Math.sqrt(size),
    ...(bath.tub_ml !== undefined && { tub_ml: bath.tub_ml * size }),
  }));
}

function lidded(now: Practice, share: number): Practice {
  return withBaths(now, (bath) => ({ ...bath, lid_open_h: (bath.lid_open_h ?? 1) * share }));
}

/** Whether a bath loses or takes up anything while its lid is open. */
function breathes({ header }: Practice, name: string): boolean {
  const { lid_open_h = 1, evaporation = 1, moisture = 1 } = header.baths[name]!;
  return lid_open_h > 0 && (evaporation > 0 || moisture > 0);
}

function drained(now: Practice, minutes: number): Practice {
  return withWashes(now, (wash) => ({ ...wash, drained_min: Math.max(minutes, wash.drained_min!) }));
}

function prerinsed(now: Practice, prerinse: Prerinse): Practice {
  return withWashes(now, (wash) => ({ ...wash, prerinse }));
}

function midrinsed(now: Practice, midrinse: Midrinse): Practice {
  return withWashes(now, (wash) => ({ ...wash, midrinse }));
}

function stirred(now: Practice, agitation: Agitation): Practice {
  return withWashes(now, (wash) => ({
    ...wash,
    agitation: wash.agitation === 'ultrasonic' ? wash.agitation : agitation,
  }));
}

function withBaths(now: Practice, change: (bath: BathHeader) => BathHeader): Practice {
  const baths = Object.fromEntries(
    Object.entries(now.header.baths).map(([name, bath]) => [
      name,
      now.route.includes(name) ? change(bath) : bath,
    ]),
  );
  return { ...now, header: { ...now.header, baths } };
}

function withWashes(now: Practice, change: (wash: WashEvent) => WashEvent): Practice {
  return { ...now, washes: now.washes.map(change) };
}
