import { type InspectEvent, type InspectResult, RESULTS, type Written } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import { settle } from '../ledger/settle.ts';
import { causesOf } from '../records/causes.ts';
import { failureLevel } from '../records/failure-level.ts';
import { type Look, missingTrials, trialsOf } from '../records/inspections.ts';
import { labelled } from '../render/echo.ts';
import {
  causeDocument,
  causeLines,
  levelLines,
  lookDocument,
  looksTable,
  notesText,
  washDocument,
  washLines,
} from '../render/inspect.ts';
import { printable } from '../render/printable.ts';
import { partsText } from '../render/report-words.ts';
import { aligned, tabSeparated } from '../render/table.ts';
import { washWords } from '../render/wash.ts';
import { wrap } from '../render/wrap.ts';
import { catalogue } from '../substance/catalogue.ts';
import { readable, readableWithDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { looksOf } from './inspect-looks.ts';
import { otherWashesOf, partsOption, type Washed, washMeant } from './inspect-wash.ts';
import { numberIn } from './number-option.ts';
import { reportBack } from './report-back.ts';
import { dateOnly } from './stock-day.ts';
import { refuseOptions } from './stock-words.ts';
import { tellUncounted } from './tell.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** `inspect`: the look of the parts of a wash; without a result, all looks beside the baths of their washes. */
export async function run([result, word]: string[], options: Options, context: Context): Promise<number> {
  return result === undefined ? show(options, context) : log(resultOf(result), word, options, context);
}

function resultOf(word: string): InspectResult {
  const found = RESULTS.find((one) => one === word.toLowerCase());
  if (found) return found;
  throw usage(
    `Cannot log the look "${word}"`,
    `${didYouMean(word, RESULTS) ?? ''} It is one of ${RESULTS.join(', ')}, like: bathbook inspect sticky`.trim(),
  );
}

async function show(options: Options, context: Context): Promise<number> {
  refuseOptions(options, ['wash', 'case', 'parts'], 'inspect', RESULTS.slice(0, 2));
  const last = numberIn(options, { flag: 'last', least: 1, most: 100_000, whole: true, example: '20' });
  const { shop, settled, clockMs } = await context.open();
  const looks = looksOf(shop, settled.entries, clockMs);
  const trials = trialsOf(looks);
  const missing = missingTrials(trials);
  const tub = shop.tubs[shop.usualRoute.at(-1)!]!;
  const [, change, never] = tub.limits.resin;
  // Before any result the level may be anywhere about the limit that is never to be passed.
  const level = missing ? null : failureLevel(trials, never);
  const shown = last === undefined ? looks : looks.slice(-last);
  if (context.json) {
    context.printJson('inspect', clockMs, {
      looks: shown.map((one) => lookDocument(one, rfc3339)),
      bath: tub.name,
      trials: { failed: trials.filter(({ failed }) => failed).length, all: trials.length },
      missing,
      half_fail_at_wt_pct: level,
    });
  } else if (looks.length === 0) {
    const none = 'No look was logged yet; log one: bathbook inspect ok, or bathbook inspect sticky';
    context.print(context.onTerminal ? wrap(none, context.width) : none);
  } else {
    // Programs get a column for each.
    const width = context.onTerminal ? context.width : Number.POSITIVE_INFINITY;
    const table = looksTable(shown, { when: readable, day: dateOnly, width });
    const lines = levelLines(level, { trials, missing, bath: tub.name, change });
    context.print(
      [
        printable([shop.name, readableWithDay(clockMs)].filter(Boolean).join(', ')),
        context.onTerminal ? await aligned(table, context.paint, context.width) : tabSeparated(table),
        labelled(lines, context),
        context.paint.faint(wrap(notesText(tub.name), context.width)),
      ].join('\n\n'),
    );
  }
  tellUncounted(context, settled);
  return EXIT.done;
}

async function log(
  result: InspectResult,
  word: string | undefined,
  options: Options,
  context: Context,
): Promise<number> {
  if (options.last !== undefined)
    throw usage('Cannot use --last with a result', 'it goes with the list: bathbook inspect --last 20');
  let bench: Bench | undefined;
  let washed: Washed | null = null;
  const warnings: string[] = [];
  const logged = await writeEvent(context, options, (given): Body => {
    bench = given;
    washed = washMeant(word, options, given);
    if (washed && typeof options.case === 'string')
      warnings.push(...otherWashesOf(options.case, washed, given));
    return {
      what: 'inspect',
      ...(washed ? { wash: washed.event.id } : {}),
      result,
      ...partsOption(options, washed, given),
      ...(typeof options.case === 'string' ? { cases: [options.case] } : {}),
    };
  });
  const { wash } = await lookAfter(bench!, logged);
  const minutesSinceWash = wash ? (Date.parse(logged.event.at) - wash.atMs) / 60_000 : 0;
  const causes = wash ? causesOf(result, wash, { minutesSinceWash }) : [];
  reportBack(context, logged, {
    understood: understood(logged, washed),
    above: wash ? [...washLines(wash), ...causeLines(causes, wash, minutesSinceWash)] : [],
    warnings,
    data: {
      wash: wash && washDocument(wash, rfc3339),
      causes: wash ? causes.map((one) => causeDocument(one, wash, minutesSinceWash)) : [],
    },
  });
  return EXIT.done;
}

/** The look that was logged, as it counts. */
async function lookAfter(bench: Bench, { written, shop, event }: Logged): Promise<Look> {
  const { file, clockMs, atMs } = bench;
  const added = written.map(
    (one, nth): Written => ({ ...one, atMs, line: 0, place: file.events.length + nth }),
  );
  const { entries } = await settle([...file.events, ...added], clockMs, file.header, catalogue);
  return looksOf(shop, entries, clockMs, event.id)[0]!;
}

function understood({ event, shop }: Logged, washed: Washed | null): string {
  const { result, parts, cases } = event as InspectEvent;
  const of = washed
    ? `wash ${washed.event.id} of ${readable(washed.atMs)} (${washWords(washed.event, shop)})`
    : 'no wash named';
  const many = parts ? `, ${partsText(Object.entries(parts))}` : '';
  const named = cases ? `, case ${cases.join(', ')}` : '';
  return `${result}${many}${named}: ${of}`;
}
