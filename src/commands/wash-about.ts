/** `wash --about 5 --since monday`: washes that were not logged, from memory. */
import type { WashEvent } from '../ledger/event.ts';
import { type UsualWash, usualWash } from '../outlook/usual-wash.ts';
import {
  type Shifts,
  shiftsIn,
  spreadEvenly,
  type WorkingHours,
  workingHours,
} from '../outlook/working-hours.ts';
import type { Line } from '../render/echo.ts';
import { count } from '../render/format.ts';
import { washWords } from '../render/wash.ts';
import { readableWithDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { washBody } from './wash-body.ts';
import { refuseOptions, tellSeveral } from './wash-several.ts';
import { washWarnings } from './wash-warnings.ts';
import { readWhen } from './when.ts';
import { type Bench, type Body, writeEvents } from './write.ts';

/** What nobody knows of washes that were not logged, or what asks for another way of logging. */
const NOT_BESIDE = ['at', 'again', 'mesh', 'timed', 'carry', 'drag', 'trapped', 'case'];
/** Who washed more has something to count by. */
const MOST = 200;

interface Guess {
  bodies: Body[];
  usual: UsualWash | undefined;
  hours: WorkingHours;
  /** Which days the hours are of. */
  of: Shifts['of'];
  span: { fromMs: number; toMs: number };
  /** Washes in that time that are in the ledger. */
  there: number;
}

export async function runAbout(args: string[], options: Options, context: Context): Promise<number> {
  refuseOptions(options, NOT_BESIDE, '--about');
  const many = countOf(options);
  let guess: Guess | undefined;
  const build = async (bench: Bench): Promise<Body[]> => {
    guess = await guessed(many, args, options, bench);
    return guess.bodies;
  };
  const logged = await writeEvents(context, options, build, { before: true });
  const { usual, hours, span, there } = guess!;
  tellSeveral(context, logged, {
    above: aboutLines(guess!, washWords(logged.event as WashEvent, logged.shop)),
    words: () => '',
    warnings: [
      ...(there > 0
        ? [
            `${count(there, 'wash', 'washes')} of that time ${there === 1 ? 'is' : 'are'} in the ledger already; these come on top`,
          ]
        : []),
      ...washWarnings(logged.event as WashEvent, logged, false),
    ],
    data: {
      estimated: {
        since: rfc3339(span.fromMs),
        until: rfc3339(span.toMs),
        mean_of_washes: usual?.basis ?? null,
        hours_of_washes: hours.basis,
      },
    },
  });
  return 0;
}

function countOf({ about, since }: Options): number {
  const example = 'bathbook wash --about 5 --since monday';
  if (about === undefined) throw usage('Cannot use --since and --until without --about', `like: ${example}`);
  if (since === undefined) throw usage('Cannot use --about without --since', `say since when: ${example}`);
  const many = Number(about);
  if (Number.isInteger(many) && many >= 1 && many <= MOST) return many;
  throw usage(`Cannot use --about ${about}`, `give a whole number from 1 to ${MOST}, like: ${example}`);
}

async function guessed(many: number, args: string[], options: Options, bench: Bench): Promise<Guess> {
  const { settled, shop, clockMs } = bench;
  const span = await spanOf(options, bench);
  const namesLoad = args.length > 0 || options.volume !== undefined || options.area !== undefined;
  const usual = namesLoad ? undefined : usualWash(settled.entries, shop);
  if (!namesLoad && !usual) {
    throw usage(
      'Cannot tell what a usual load is, the ledger has no wash yet',
      'name it: bathbook wash 6 model --about 5 --since monday',
    );
  }
  const typed = washBody(args, options, shop, usual && { size: () => ({}) });
  const body: Body = { ...usual?.wash, ...typed, estimated: true };
  if (options.in !== undefined && options.minutes === undefined) delete body.minutes;
  const hours = workingHours(settled.entries, clockMs, localDays);
  const times = spreadEvenly(many, span, hours, localDays);
  const isThere = ({ atMs }: { atMs: number }) => atMs >= span.fromMs && atMs <= span.toMs;
  return {
    bodies: times.map((ms) => ({ ...body, at: rfc3339(ms) })),
    usual,
    hours,
    of: shiftsIn(span, hours, localDays).of,
    span,
    there: settled.entries.filter((entry) => entry.event.what === 'wash' && isThere(entry)).length,
  };
}

async function spanOf({ since, until }: Options, { clockMs }: Bench): Promise<Guess['span']> {
  const fromMs = await readWhen(since as string, clockMs, 'starts');
  const toMs = until === undefined ? clockMs : await readWhen(until as string, clockMs);
  if (toMs > clockMs) {
    throw usage(
      `Cannot log up to ${readableWithDay(toMs)}, that is after now (${readableWithDay(clockMs)})`,
      'leave --until out, or give a time that has been',
    );
  }
  if (fromMs < toMs) return { fromMs, toMs };
  throw usage(
    `Cannot log between ${readableWithDay(fromMs)} and ${readableWithDay(toMs)}, the first must come before the second`,
    'give the earlier time to --since',
  );
}

function aboutLines({ usual, hours, of, span }: Guess, load: string): Line[] {
  const clock = (minutes: number) =>
    `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(Math.floor(minutes % 60)).padStart(2, '0')}`;
  const times =
    of === 'the whole time'
      ? 'spread evenly'
      : `spread over ${clock(hours.fromMin)} to ${clock(hours.toMin)} of ${of}`;
  return [
    ['between', `${readableWithDay(span.fromMs)} and ${readableWithDay(span.toMs)}, ${times}`],
    ['each', load + (usual ? `; the mean of ${count(usual.basis, 'recent wash', 'recent washes')}` : '')],
    ['estimated', 'from memory, so their resin is less sure and the bands are wider'],
  ];
}
