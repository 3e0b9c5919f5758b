/**
 * What is known of a shop while its ledger is replayed: worlds beside the best estimate, drawn together by readings.
 */
import { type Liquid, liquidOf } from '../bath/liquid.ts';
import type { Load } from '../bath/load.ts';
import type { Move } from '../bath/moves.ts';
import type { AllFactors, Along, Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, resinMass } from '../bath/state.ts';
import type { Entry, ReadingEvent, WeighedEvent } from '../ledger/event.ts';
import { Ensemble, type EnsembleUnderway, type SingleWash } from './ensemble.ts';
import { type Axis, factorOn, setFactor } from './factors.ts';
import { type Lesson, learn } from './learn.ts';
import { Lessons, type LessonsSoFar } from './lessons.ts';
import { type Look, lookOf, type Sees, WEIGHED_SHARE } from './readings.ts';
import { rootOf } from './scatter.ts';
import { logOfLoad, sceneIn, sceneOfLoad } from './sight.ts';
import { type Learned, OUTLIER } from './update.ts';
import { type ZeroOf, Zeros } from './zeros.ts';

/** A reading, beside what was expected of it. */
export interface Compared {
  entry: Entry;
  /** Place of its bath; absent for a weighed load. */
  bath?: number;
  sees: Sees | 'carry';
  /** In the unit of the reading: g/mL, SG, °Brix, n_D, wt%, mL or g. */
  value: number;
  expected: { p05: number; p50: number; p95: number };
  /** Standard deviation of instrument and model, in the same unit. */
  sd: number;
  /** How far off, in standard deviations of the reading and the estimate together. */
  misfit: number;
  /** More than three of them: it counted for less. */
  flagged: boolean;
  /** Taken off the reading because the same instrument was that far off in fresh solvent, in the unit compared. */
  zero: number;
  /** Read in fresh solvent, and so far off that it is taken for the zero of later ones. */
  isZero: boolean;
  /** Factors whose spread it brought down by a hundredth or more. */
  taught: Axis[];
  /** Of a reading in a bath: the instrument, and the liquid as it was expected. */
  look?: Look;
  liquid?: Liquid;
}

/** A factor whose spread falls less is not said to have been taught. */
const TAUGHT = 0.99;
/** No difference on a bench balance is surer than this, g. Common practice, no source. */
const LEAST_SCALE_SD_G = 0.01;

/** Where a belief has come to. Plain data, but for the classes that hold it; live. */
export interface BeliefUnderway {
  ensemble: EnsembleUnderway;
  zeros: ZeroOf[];
  lessons: LessonsSoFar;
}

export class Belief implements Along {
  readonly ensemble: Ensemble;
  /** The readings of this replay; what those before it came to is in {@link lessons}. */
  readonly compared: Compared[] = [];
  readonly lessons: Lessons;
  private readonly factors: AllFactors;
  private readonly shop: Shop;
  private readonly weighed = new Map<string, Entry[]>();
  private readonly zeros: Zeros;

  /**
   * @param factors - those of the best estimate, at their prior medians; readings change them in place
   * @param entries - all that count; a weighed load teaches at its wash, wherever it was logged
   * @param from - where a belief came to with the entries before these, which this one carries on and changes
   */
  constructor(shop: Shop, factors: AllFactors, entries: readonly Entry[], from?: BeliefUnderway) {
    this.shop = shop;
    this.factors = factors;
    this.ensemble = new Ensemble(shop, factors, from?.ensemble);
    this.zeros = new Zeros(shop, from?.zeros);
    this.lessons = new Lessons(this.ensemble.axes, from?.lessons);
    for (const entry of entries) {
      const { event } = entry;
      if (event.what === 'weighed')
        this.weighed.set(event.wash, [...(this.weighed.get(event.wash) ?? []), entry]);
    }
  }

  /** Where it has come to; live. */
  get underway(): BeliefUnderway {
    return { ensemble: this.ensemble.underway, zeros: this.zeros.byTub, lessons: this.lessons.all };
  }

  happened(step: Step, solvent: string | undefined, baths: Bath[]): boolean {
    const { entry } = step;
    if (step.load) return this.washed(step, step.load, baths);
    const move = entry.event as Move;
    this.ensemble.move(move, { atMs: entry.atMs, before: step.before, after: step.baths, solvent });
    this.zeros.moved(move);
    return false;
  }

  read(entry: Entry, event: ReadingEvent, baths: Bath[]): void {
    const { ensemble, shop } = this;
    ensemble.standTo(entry.atMs);
    const bath = shop.tubPlace.get(event.bath)!;
    ensemble.refuteDry(bath, baths[bath]!);
    const liquid = liquidOf(ensemble.worlds[0]!.baths[bath]!, shop.resins);
    const look = lookOf(event, shop.roomC, liquid);
    const columns = rootOf(ensemble.scatter);
    const { zero, sd } = this.zeros.apply(look, bath);
    const fresh = resinMass(baths[bath]!) === 0;
    const lesson = { scene: sceneIn(ensemble, look, bath, columns), value: look.value - zero, sd, columns };
    const { learned, taught } = this.learn(lesson, baths);
    const isZero = fresh && this.zeros.note(look, bath, learned);
    const told = (compared: number) => look.shown(compared + zero);
    const { p05, p50, p95 } = learned.expected;
    this.keep({
      ...judged(learned),
      taught,
      entry,
      bath,
      sees: look.sees,
      value: look.shown(look.value),
      expected: { p05: told(p05), p50: told(p50), p95: told(p95) },
      sd: Math.abs(look.shown(look.value + sd / 2) - look.shown(look.value - sd / 2)),
      zero,
      isZero,
      look,
      liquid,
    });
  }

  settled(clockMs: number): void {
    this.ensemble.standTo(clockMs);
  }

  private washed({ entry }: Step, load: Load, baths: Bath[]): boolean {
    const weighings = this.weighed.get(entry.event.id);
    if (!weighings) {
      this.ensemble.wash(load, entry.atMs);
      return false;
    }
    const single = this.ensemble.washAlone(load, entry.atMs);
    if (single.outcomes[0]) this.learnFromScale(weighings, single, baths);
    return true;
  }

  /** A load weighed before its wash and after it; weighed twice, the mean counts. */
  private learnFromScale(weighings: readonly Entry[], single: SingleWash, baths: Bath[]): void {
    const { ensemble } = this;
    const columns = rootOf(ensemble.scatter).map((row, place) =>
      Float64Array.of(...row, single.column[place]!),
    );
    const losses = weighings.map(({ event }) => lossOf(event as WeighedEvent));
    const lossG = losses.reduce((sum, one) => sum + one, 0) / losses.length;
    const share = Math.max(WEIGHED_SHARE, LEAST_SCALE_SD_G / Math.max(lossG, LEAST_SCALE_SD_G));
    const sd = share / Math.sqrt(losses.length);
    const scene = sceneOfLoad(ensemble, single, columns.length);
    const { learned, taught } = this.learn({ scene, value: logOfLoad(lossG), sd, columns }, baths);
    const { p05, p50, p95 } = learned.expected;
    this.keep({
      ...judged(learned),
      taught,
      entry: weighings.at(-1)!,
      sees: 'carry',
      value: lossG,
      expected: { p05: Math.exp(p05), p50: Math.exp(p50), p95: Math.exp(p95) },
      sd: sd * lossG,
      zero: 0,
      isZero: false,
    });
  }

  private keep(compared: Compared): void {
    this.compared.push(compared);
    this.lessons.note(compared);
  }

  /** Takes a lesson in, and keeps the factors of the best estimate with it. */
  private learn(lesson: Lesson, baths: Bath[]): { learned: Learned; taught: Axis[] } {
    const { ensemble } = this;
    const before = ensemble.factorSds();
    const learned = learn(ensemble, lesson, baths);
    const after = ensemble.factorSds();
    for (const axis of ensemble.axes)
      setFactor(this.factors, axis, factorOn(ensemble.worlds[0]!.factors, axis));
    return { learned, taught: ensemble.axes.filter((_, place) => after[place]! < TAUGHT * before[place]!) };
  }
}

function judged({ misfit }: Learned): Pick<Compared, 'misfit' | 'flagged'> {
  return { misfit, flagged: misfit > OUTLIER };
}

function lossOf({ wet_g: wetG, clean_g: cleanG }: WeighedEvent): number {
  return wetG - cleanG;
}
