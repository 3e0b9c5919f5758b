/** What is told of several washes that were logged at once. */
import type { WashEvent } from '../ledger/event.ts';
import type { Line } from '../render/echo.ts';
import { count } from '../render/format.ts';
import { casesWords, leftLine, washWords } from '../render/wash.ts';
import { readableWithDay } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { reportBack } from './report-back.ts';
import type { Logged } from './write.ts';

/** More than this nobody reads at once. */
const MOST_SHOWN = 20;

/** What is told besides. */
interface Besides {
  above?: Line[];
  /** What is told of each beside its time; all of it unless the load was told before. */
  words?: (wash: WashEvent) => string;
  warnings: string[];
  data: Record<string, unknown>;
}

/** A line for each wash, then what they did to the baths together. */
export function tellSeveral(context: Context, logged: Logged, besides: Besides): void {
  const { above = [], warnings, data } = besides;
  const words = besides.words ?? ((wash) => `  ${wordsOf(wash, logged)}`);
  const washes = logged.written.map(({ event }) => event as WashEvent);
  const shown = washes.slice(0, MOST_SHOWN);
  const more = washes.length - shown.length;
  reportBack(context, logged, {
    heading: `${count(washes.length, 'wash', 'washes')}${washes[0]!.estimated ? ', estimated' : ''}`,
    understood: '',
    above: [
      ...above,
      ...shown.map((wash): Line => [wash.id, `${readableWithDay(Date.parse(wash.at))}${words(wash)}`]),
      ...(more > 0 ? [['', `and ${more} more; see: bathbook entries --last ${washes.length}`] as const] : []),
    ],
    below: leftLine(logged.status),
    warnings,
    data: { events: washes, ...data },
  });
}

function wordsOf(wash: WashEvent, { shop }: Logged): string {
  return [washWords(wash, shop), casesWords(wash)].filter(Boolean).join('; ');
}

/** @throws Fault, usage, where an option is given that goes with a single load */
export function refuseOptions(options: Options, names: readonly string[], beside: string): void {
  const given = names.find((name) => options[name] !== undefined);
  if (given === undefined) return;
  const flag = given.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  throw usage(`Cannot use --${flag} with ${beside}`, 'leave one of them out');
}
