/**
 * From the events of a ledger to the baths now: each entry in turn, the air between them, tallies checked at the end.
 */
import type { Entry, LedgerEvent, MovingEvent, ReadingEvent } from '../ledger/event.ts';
import { type AirFactors, stand } from './air.ts';
import { type Load, loadOf } from './load.ts';
import { carryOut, type MoveOutcome, type MoveRefusal, type Moving } from './moves.ts';
import type { Factors, Shop } from './shop.ts';
import { type Bath, copyInto, emptyBath, isEmpty } from './state.ts';
import { closeTally, copyTally, emptyTally, imbalance, type Tally } from './tally.ts';
import { type WashOutcome, type WashRefusal, washLoad } from './wash.ts';

/** One event that moved liquid or parts, right after it. `before` and `baths` are live: copy what you keep. */
export interface Step {
  entry: Entry;
  before: readonly Bath[];
  baths: readonly Bath[];
  wash?: WashOutcome;
  load?: Load;
  move?: MoveOutcome;
}

/** An event that cannot have happened as written; it was left out of the replay. */
export interface Refused {
  entry: Entry;
  refusal: WashRefusal | MoveRefusal;
}

export interface Replay {
  /** In the order of `shop.tubs`, at the clock. */
  baths: Bath[];
  tally: Tally;
  /** The last washes that count, oldest first, at most {@link RECENT_WASHES}. */
  recent: { entry: Entry; load: Load; outcome: WashOutcome }[];
  /** The solvent most recently poured from stock. */
  solvent: string | undefined;
  refused: Refused[];
}

/** A replay on its way: all that goes on from one entry to the next. Plain data, and changed as the replay goes on. */
export interface Underway extends Pick<Replay, 'baths' | 'tally' | 'recent' | 'solvent' | 'refused'> {
  /** Until when the baths have stood; not a number before the first event. */
  lastMs: number;
}

/** A place in a replay. */
export interface Halt<Reached> {
  /** Right before the entry at this place. Behind the last one the replay ends there, before the baths stand up to the clock. */
  at: number;
  /** What it has come to is live: to be copied at once, unless the replay ends there. */
  seen(reached: Reached): void;
}

/** Every factor of the model, for one replay. `air` follows the order of `shop.tubs`. */
export interface AllFactors extends Factors {
  air: AirFactors[];
}

/** What runs beside a replay and learns from readings; see the room `belief`. */
export interface Along {
  /**
   * After each event that moved something.
   *
   * @param solvent - the one last poured before it
   * @param baths - live: what is changed in them is changed in the replay
   * @returns true when it changed them
   */
  happened(step: Step, solvent: string | undefined, baths: Bath[]): boolean;
  /** At a reading of a bath that holds liquid, with the baths as they stand then; changes them. */
  read(entry: Entry, event: ReadingEvent, baths: Bath[]): void;
  /** At the clock, after all events. */
  settled(clockMs: number): void;
}

/** How many washes make "recent". */
const RECENT_WASHES = 20;
/** The tallies must close within this, relative. */
const BALANCE = 1e-9;
const MS_PER_HOUR = 3_600_000;

/** The factors at their prior medians, as the header gives them. */
export function priorMedians(shop: Shop): AllFactors {
  return {
    ...shop.factors,
    air: shop.tubs.map(({ evaporation, moisture }) => ({ evaporation, moisture })),
  };
}

function isMoving(event: LedgerEvent): event is MovingEvent {
  switch (event.what) {
    case 'fill':
    case 'wash':
    case 'top-up':
    case 'drain':
    case 'rotate':
    case 'refill':
      return true;
    default:
      return false;
  }
}

/**
 * Replays entries up to the clock.
 *
 * @param entries - in order, corrections applied, none after the clock; names exist in the shop
 * @param clockMs - evaporation runs from the last event to it
 * @param options - factors other than the prior medians, which `along` may change as it learns; a watcher called after each
 *   event that moved something, after each reading where something learns from it, and with `watchRecords` at each other one,
 *   with the baths as they stood then; `from`, where a replay of the entries before these came to; `halt`, where to have
 *   a look at how far it has come
 * @throws Error when the mass balance does not close, which is a fault of the program
 */
export function replay(
  shop: Shop,
  entries: readonly Entry[],
  clockMs: number,
  options: {
    factors?: AllFactors;
    watch?: (step: Step) => void;
    watchRecords?: boolean;
    along?: Along;
    from?: Underway;
    halt?: Halt<Underway>;
  } = {},
): Replay {
  const factors = options.factors ?? priorMedians(shop);
  const { halt, from } = options;
  const result: Replay = from ?? nothingYet(shop);
  const { baths, tally, solvent } = result;
  const moving: Moving = { shop, baths, tally, solvent };
  const rested = roomToKeep(moving);
  const kept = roomToKeep(moving);
  let lastMs = from?.lastMs ?? Number.NaN;
  for (let place = 0; place < entries.length; place += 1) {
    if (place === halt?.at) halt.seen({ ...result, solvent: moving.solvent, lastMs });
    const entry = entries[place]!;
    const { event } = entry;
    const moves = isMoving(event);
    const { along } = options;
    const reads = along && event.what === 'reading';
    if (!moves && !reads && !options.watchRecords) continue;
    keep(moving, rested);
    standAll(moving, factors, entry.atMs - lastMs);
    if (!moves) {
      keep(moving, kept);
      const learned = reads && look(entry, event, moving, along, result);
      options.watch?.({ entry, before: kept.baths, baths: moving.baths });
      if (learned) lastMs = entry.atMs;
      else putBack(moving, rested);
      continue;
    }
    const { solvent } = moving;
    const step = happen(entry, event, moving, kept, factors, result);
    if (step) {
      lastMs = entry.atMs;
      if (along?.happened(step, solvent, moving.baths)) closeTally(moving.baths, moving.tally);
      options.watch?.(step);
    } else {
      // What did not happen cuts no interval: the air goes on from the event before.
      putBack(moving, rested);
    }
  }
  if (halt && halt.at >= entries.length) {
    halt.seen({ ...result, solvent: moving.solvent, lastMs });
    return result;
  }
  standAll(moving, factors, clockMs - lastMs);
  options.along?.settled(clockMs);
  result.solvent = moving.solvent;
  const gap = imbalance(moving.baths, moving.tally);
  if (!(gap <= BALANCE)) throw new Error(`The mass balance does not close: ${gap} relative`);
  return result;
}

/** Before the first event. */
function nothingYet(shop: Shop): Replay {
  return {
    baths: shop.tubs.map(emptyBath),
    tally: emptyTally(),
    recent: [],
    solvent: undefined,
    refused: [],
  };
}

/** A reading; false when there was nothing to read, and then it is refused. */
function look(entry: Entry, event: ReadingEvent, moving: Moving, along: Along, result: Replay): boolean {
  const place = moving.shop.tubPlace.get(event.bath)!;
  const bath = moving.baths[place]!;
  if (isEmpty(bath)) {
    result.refused.push({ entry, refusal: { bath: place, why: bath.dry ? 'dry' : 'empty' } });
    return false;
  }
  along.read(entry, event, moving.baths);
  closeTally(moving.baths, moving.tally);
  return true;
}

/** Lets every bath stand for `ms`; not a number before the first event. */
function standAll(moving: Moving, factors: AllFactors, ms: number): void {
  if (!(ms > 0)) return;
  for (let place = 0; place < moving.baths.length; place += 1) {
    const bath = moving.baths[place]!;
    const lost = stand(
      bath,
      moving.shop.tubs[place]!,
      moving.shop.resins,
      ms / MS_PER_HOUR,
      factors.air[place]!,
    );
    moving.tally.air.ipa += lost.ipaG;
    moving.tally.air.water += lost.waterG;
  }
}

/** One event; undefined when it cannot be, in which case baths and tallies may be half-changed and the caller restores. */
function happen(
  entry: Entry,
  event: MovingEvent,
  moving: Moving,
  kept: Kept,
  factors: AllFactors,
  result: Replay,
): Step | undefined {
  keep(moving, kept);
  const step: Step = { entry, before: kept.baths, baths: moving.baths };
  const outcome =
    event.what === 'wash' ? wash(event, step, moving, factors) : carryOut(event, entry.atMs, moving);
  if ('why' in outcome) {
    result.refused.push({ entry, refusal: outcome });
    return undefined;
  }
  if ('carryG' in outcome) remember(result, entry, step, outcome);
  else step.move = outcome;
  return step;
}

function wash(
  event: Extract<MovingEvent, { what: 'wash' }>,
  step: Step,
  moving: Moving,
  factors: AllFactors,
): WashOutcome | WashRefusal {
  step.load = loadOf(event, moving.shop);
  return washLoad(moving.baths, step.load, moving.shop, factors, moving.tally);
}

function remember(result: Replay, entry: Entry, step: Step, outcome: WashOutcome): void {
  step.wash = outcome;
  result.recent.push({ entry, load: step.load!, outcome });
  if (result.recent.length > RECENT_WASHES) result.recent.shift();
}

/** Room for the state before an event, used again for each. */
interface Kept {
  baths: Bath[];
  tally: Tally;
  solvent: string | undefined;
}

function roomToKeep({ baths }: Moving): Kept {
  return { baths: baths.map(emptyBath), tally: emptyTally(), solvent: undefined };
}

function keep(moving: Moving, kept: Kept): void {
  for (let place = 0; place < kept.baths.length; place += 1)
    copyInto(kept.baths[place]!, moving.baths[place]!);
  copyTally(kept.tally, moving.tally);
  kept.solvent = moving.solvent;
}

function putBack(moving: Moving, kept: Kept): void {
  for (let place = 0; place < kept.baths.length; place += 1)
    copyInto(moving.baths[place]!, kept.baths[place]!);
  copyTally(moving.tally, kept.tally);
  moving.solvent = kept.solvent;
}
