import type { WashEvent, WeighedEvent } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import { weighedWords } from '../render/reading.ts';
import { washWords } from '../render/wash.ts';
import { readable } from './clock.ts';
import { learnedFrom } from './compared.ts';
import type { Context } from './context.ts';
import { refuseVoided } from './correct.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { reportBack } from './report-back.ts';
import { quantity, round } from './values.ts';
import { type Bench, type Body, writeEvent } from './write.ts';

/** A wash as it counts. */
interface Washed {
  event: WashEvent;
  atMs: number;
}

/** `weighed`: log a load weighed before its wash, and again clean and dry. */
export async function run([id]: string[], options: Options, context: Context): Promise<number> {
  let washed: Washed | undefined;
  const warnings: string[] = [];
  const build = (bench: Bench): Body => {
    const weights = weightsOf(options);
    washed = id === undefined ? lastWash(bench) : washNamed(id, bench);
    warnings.push(...weighedBefore(washed, bench));
    return { what: 'weighed', wash: washed.event.id, ...weights };
  };
  const logged = await writeEvent(context, options, build, { before: true });
  const event = logged.event as WeighedEvent;
  const learned = learnedFrom(logged);
  const { event: wash, atMs } = washed!;
  reportBack(context, logged, {
    understood: `wash ${wash.id} of ${readable(atMs)} (${washWords(wash, logged.shop)}): ${weighedWords(event)}`,
    above: learned.lines,
    warnings: [...warnings, ...learned.warnings],
    data: { wash, came_off_g: round(event.wet_g - event.clean_g), compared: learned.documents },
  });
  return 0;
}

function weightsOf(options: Options): { wet_g: number; clean_g: number } {
  const wetG = weightOf(options, 'wet');
  const cleanG = weightOf(options, 'clean');
  if (cleanG <= wetG) return { wet_g: wetG, clean_g: cleanG };
  throw usage(
    `Cannot use --clean ${cleanG} g, the washed load weighs more than the wet one (${wetG} g)`,
    heavier(wetG, cleanG),
  );
}

function weightOf(options: Options, option: 'wet' | 'clean'): number {
  const text = options[option];
  if (typeof text !== 'string') {
    throw usage(
      `Cannot log a weighed load without --${option}`,
      'both weights are needed, like: bathbook weighed --wet 412.3 --clean 409.1',
    );
  }
  const grams = round(quantity(text, 'mass', `--${option}`));
  if (grams > 0 && grams <= MOST_G) return grams;
  throw usage(
    `Cannot use --${option} "${text}", allowed is above 0, up to ${MOST_G} g`,
    'check the value and its unit',
  );
}

/** As in the schema of the ledger. */
const MOST_G = 1_000_000;

/** One of the two in kilograms, or exchanged, or damp. */
function heavier(wetG: number, cleanG: number): string {
  if (wetG < cleanG / 100 && wetG * 1000 >= cleanG)
    return `${wetG} kg is ${round(wetG * 1000)} g: write --wet "${wetG} kg"`;
  return cleanG > wetG * 1.05
    ? '--wet is before the first bath and --clean washed and dry; were they exchanged?'
    : 'let the parts dry until the weight stands still, and weigh again';
}

/** Not one from memory, which nobody can have weighed. */
function lastWash({ settled, atMs }: Bench): Washed {
  const last = settled.entries.findLast(
    ({ event, atMs: washedMs }) => event.what === 'wash' && !event.estimated && washedMs <= atMs,
  );
  if (last) return last as Washed;
  throw usage(
    'Cannot log a weighed load, no wash was logged before it',
    'log the wash first: bathbook wash 6 model',
  );
}

/** @throws Fault, usage, when it is no wash, counts no longer, or comes later */
function washNamed(id: string, bench: Bench): Washed {
  const { file, settled, atMs } = bench;
  const written = file.events.find(({ event }) => event.id === id)?.event;
  if (written?.what !== 'wash') {
    const washes = settled.entries.flatMap(({ event }) => (event.what === 'wash' ? [event.id] : []));
    const why = written === undefined ? '' : `, that entry is a ${written.what}`;
    throw usage(
      `Cannot find a wash with the id "${id}"${why}`,
      didYouMean(id, washes) ?? 'look the ids up with: bathbook entries --what wash --last 10',
    );
  }
  refuseVoided(id, 'weigh the load of', bench);
  const entry = settled.entries.find(({ event }) => event.id === id) as Washed | undefined;
  if (entry && entry.atMs <= atMs) return entry;
  const washedAt = entry ? readable(entry.atMs) : written.at;
  throw usage(
    `Cannot log the weighed load at ${readable(atMs)}, its wash "${id}" was at ${washedAt}`,
    'give the time at which the clean parts were weighed, after the wash',
  );
}

function weighedBefore({ event: wash }: Washed, { settled }: Bench): string[] {
  const before = settled.entries.find(({ event }) => event.what === 'weighed' && event.wash === wash.id);
  return before
    ? [
        `The load of ${wash.id} was weighed already, as ${before.event.id}; if that was wrong: bathbook undo ${before.event.id}`,
      ]
    : [];
}
