/**
 * The baths in the days to come, loads like the recent ones going through them at the shop's pace.
 */
import { stand } from '../bath/air.ts';
import type { Load } from '../bath/load.ts';
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath, copyInto, ipaFraction, isEmpty, resinFraction } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { washLoad } from '../bath/wash.ts';
import type { Days, Pace } from './pace.ts';

/** The limit that is met first. */
export interface FirstLimit {
  bath: string;
  what: 'resin' | 'water' | 'level';
}

/** How long one set of baths lasts. */
export interface Lasts {
  /** Days from the clock to the limit; not a whole number. Negative: so long ago. */
  days: number;
  loads: number;
  /** Null when no limit was met within the horizon. */
  limit: FirstLimit | null;
}

/** Nobody plans further than a year. */
const HORIZON_DAYS = 365;
const MS_PER_DAY = 86_400_000;
const MS_PER_HOUR = 3_600_000;

/** Days taken together far from the limit, then nearer to it, then one by one. */
const STRIDES = [7, 2, 1];
/** Several days are taken together only while they bring a bath no more than this share of its limit nearer to it. */
const LARGEST_GAIN = 0.2;

/** When, for whom and how the days go on. */
interface Onward {
  clockMs: number;
  pace: Pace;
  days: Days;
}

interface From {
  baths: readonly Bath[];
  factors: AllFactors;
}

/**
 * Goes on until a bath meets its change limit: the baths stand for the day, then its loads go through. Nothing is topped up.
 * Loads of a day need not be a whole number: what is asked is when, on average. Far from the limit several days are taken
 * together; the day on which it is met stands alone, and within it the limit is met where a straight line meets it.
 *
 * @param from - the baths and factors of the best estimate or of one world, at the clock; left as they are
 */
export function goAhead(shop: Shop, from: From, load: Load, on: Onward): Lasts {
  const way = new Way(shop, from, load, on);
  let before = nearest(way.baths, shop);
  while (way.days < HORIZON_DAYS) {
    const step = way.go((many) => {
      const { share } = nearest(way.baths, shop);
      return many === 1 || (share < 1 && share - before.share <= LARGEST_GAIN);
    });
    const { days, loads } = step;
    if (step.dry !== undefined) {
      return { days, loads, limit: { bath: shop.tubs[step.dry]!.name, what: 'level' } };
    }
    const after = nearest(way.baths, shop);
    if (after.share >= 1 && after.share > before.share) {
      const part = (1 - before.share) / (after.share - before.share);
      return {
        days: days + part * (way.days - days),
        loads: loads + part * (way.loads - loads),
        limit: { bath: after.bath, what: after.what },
      };
    }
    before = after;
  }
  return { days: way.days, loads: way.loads, limit: null };
}

/** When a bath meets its change limit, and what brings it there. */
export interface Met {
  what: FirstLimit['what'];
  /** From the clock; not a whole number. 0 when past it. */
  days: number;
  loads: number;
}

/**
 * When each bath meets its own change limit, going on past the first of them as if nothing were changed.
 *
 * @param within - days to look ahead for more than the first
 * @returns in the order of `shop.tubs`; null where it meets none in that time, or is empty
 */
export function limitsAhead(
  shop: Shop,
  from: From,
  load: Load,
  on: Onward & { within: number },
): (Met | null)[] {
  const way = new Way(shop, from, load, on);
  const shares = () => way.baths.map((bath, place) => shareOf(bath, shop, place));
  let before = shares();
  const met = before.map(({ share, what }): Met | null => (share >= 1 ? { what, days: 0, loads: 0 } : null));
  const none = () => met.every((one) => one === null);
  while (met.includes(null) && way.days < (none() ? HORIZON_DAYS : on.within)) {
    const step = way.go((many) => {
      const crosses = ({ share }: Share, place: number) =>
        met[place] === null && (share >= 1 || share - before[place]!.share > LARGEST_GAIN);
      return many === 1 || !shares().some(crosses);
    });
    if (step.dry !== undefined) {
      met[step.dry] ??= { what: 'level', days: step.days, loads: step.loads };
      return met;
    }
    const after = shares();
    after.forEach(({ share, what }, place) => {
      if (met[place] !== null || share < 1) return;
      const part = (1 - before[place]!.share) / (share - before[place]!.share);
      met[place] = {
        what,
        days: step.days + part * (way.days - step.days),
        loads: step.loads + part * (way.loads - step.loads),
      };
    });
    before = after;
  }
  return met;
}

/** Where a step began, and the place of a bath that could not take its loads. */
interface Step {
  days: number;
  loads: number;
  dry?: number;
}

/** Baths on their way through the days to come. */
class Way {
  readonly baths: Bath[];
  /** Gone through so far. */
  days = 0;
  loads = 0;
  private startMs: number;
  private stride = 0;
  private readonly kept: Bath[];

  constructor(
    private readonly shop: Shop,
    private readonly from: From,
    private readonly load: Load,
    private readonly on: Onward,
  ) {
    this.baths = from.baths.map(copyBath);
    this.kept = from.baths.map(copyBath);
    this.startMs = on.clockMs;
  }

  /** As many days as `fits` lets pass; one day always does. */
  go(fits: (many: number) => boolean): Step {
    const began = { days: this.days, loads: this.loads };
    const startMs = this.startMs;
    for (const [place, bath] of this.baths.entries()) copyInto(this.kept[place]!, bath);
    for (;;) {
      const many = STRIDES[this.stride]!;
      const dry = this.pass(many);
      if (many === 1 || (dry === undefined && fits(many)))
        return dry === undefined ? began : { ...began, dry };
      for (const [place, bath] of this.baths.entries()) copyInto(bath, this.kept[place]!);
      this.days = began.days;
      this.loads = began.loads;
      this.startMs = startMs;
      this.stride += 1;
    }
  }

  /** @returns the place of the bath that could not take the loads; undefined when all went well */
  private pass(many: number): number | undefined {
    const { shop, from, load, baths } = this;
    const { days, pace } = this.on;
    let endMs = this.startMs;
    let loads = 0;
    for (let day = 0; day < many; day += 1) {
      loads += endMs === this.on.clockMs ? pace.today : pace.loads[days.weekday(endMs)]!;
      endMs = days.next(days.startOf(endMs));
    }
    standAll(baths, shop, from.factors, (endMs - this.startMs) / MS_PER_HOUR);
    this.days += (endMs - this.startMs) / MS_PER_DAY;
    this.loads += loads;
    this.startMs = endMs;
    if (loads === 0) return undefined;
    const outcome = washLoad(baths, manyOf(load, loads), shop, from.factors, emptyTally());
    return 'why' in outcome ? outcome.bath : undefined;
  }
}

function standAll(baths: readonly Bath[], shop: Shop, factors: AllFactors, hours: number): void {
  baths.forEach((bath, place) => {
    stand(bath, shop.tubs[place]!, shop.resins, hours, factors.air[place]!);
  });
}

/** So many equal loads taken together; fewer than one as a smaller load. */
export function manyOf(load: Load, many: number): Load {
  const made: Load = {
    ...load,
    filmG: load.filmG * many,
    trappedG: load.trappedG * many,
    dragMl: load.dragMl * many,
    times: Math.max(1, many),
  };
  if (load.givenDragMl) made.givenDragMl = load.givenDragMl.map((ml) => ml * many);
  return made;
}

/** The bath that is nearest to its change limit, and what brings it there: 1 is at the limit. */
export function nearest(
  baths: readonly Bath[],
  shop: Shop,
): { share: number; bath: string; what: 'resin' | 'water' } {
  let worst = { share: 0, bath: shop.tubs[0]!.name, what: 'resin' as 'resin' | 'water' };
  for (let place = 0; place < baths.length; place += 1) {
    const own = shareOf(baths[place]!, shop, place);
    if (own.share > worst.share) worst = { ...own, bath: shop.tubs[place]!.name };
  }
  return worst;
}

interface Share {
  share: number;
  what: 'resin' | 'water';
}

/** How near a bath is to its own change limit; an empty one is not near. */
function shareOf(bath: Bath, shop: Shop, place: number): Share {
  if (isEmpty(bath)) return { share: 0, what: 'resin' };
  const { limits } = shop.tubs[place]!;
  const resin = (100 * resinFraction(bath)) / limits.resin[1];
  const water = (100 * (1 - ipaFraction(bath))) / limits.water[1];
  return water > resin ? { share: water, what: 'water' } : { share: resin, what: 'resin' };
}
