import type { WasteEvent } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import { wasteReported } from '../records/report-waste.ts';
import { type Container, wasteOf } from '../records/waste.ts';
import { isPast, WASTE_RULES } from '../records/waste-rules.ts';
import { labelled } from '../render/echo.ts';
import { capital, trim, volume } from '../render/format.ts';
import { printable } from '../render/printable.ts';
import { aligned, tabSeparated } from '../render/table.ts';
import {
  CAUTION,
  containerDocument,
  containersTable,
  containerText,
  GENERATORS,
  LOCAL,
  thresholdDocument,
  thresholdsTable,
  WHOSE,
  wasteLines,
} from '../render/waste.ts';
import { wrap } from '../render/wrap.ts';
import { aheadOf } from './ahead.ts';
import { readableWithDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { reportBack } from './report-back.ts';
import { monthStarts, readableMonth } from './report-clock.ts';
import { keptAfter } from './stock-after.ts';
import { dateOnly } from './stock-day.ts';
import { refuseOptions } from './stock-words.ts';
import { tellRefused, tellUncounted } from './tell.ts';
import { writeLabel } from './waste-label.ts';
import { containerNamed, openedBody, takenBody } from './waste-words.ts';
import { type Bench, type Body, writeEvent } from './write.ts';

const ACTIONS = ['opened', 'emptied', 'collected'] as const;
type Action = (typeof ACTIONS)[number];

/** `waste`: containers, month and thresholds; with an action, logs it; `label` prints the text of a label. */
export async function run([action, ...words]: string[], options: Options, context: Context): Promise<number> {
  const word = action?.toLowerCase();
  if (word !== undefined && word !== 'label' && !ACTIONS.some((one) => one === word)) {
    throw usage(
      `Cannot tell what happened to the waste by "${action}"`,
      `${didYouMean(word, [...ACTIONS, 'label']) ?? 'Say what happened.'} Write it like: bathbook waste opened can-2 10 L, waste emptied can-1, waste collected can-1, or waste label can-1`,
    );
  }
  if (word !== undefined && word !== 'label') return log(word as Action, words, options, context);
  refuseOptions(options, [], 'waste', ACTIONS);
  const opened = await context.open();
  const { status, movements } = aheadOf(opened);
  await tellRefused(context, opened, status.replayed.refused);
  const waste = wasteOf(opened.settled.entries, movements, opened.clockMs, monthStarts());
  if (word === 'label') {
    if (options.all === true)
      throw usage('Cannot use --all with a label', 'a label is of one container: bathbook waste label can-1');
    writeLabel(words, waste.containers, opened, context);
  } else await show(waste, opened, options, context);
  tellUncounted(context, opened.settled);
  return EXIT.done;
}

async function show(
  { containers, trayG, months }: ReturnType<typeof wasteOf>,
  { shop, clockMs }: Opened,
  options: Options,
  context: Context,
): Promise<void> {
  const monthStartMs = monthStarts()(clockMs);
  const reported = wasteReported(
    { months, containers, trayG },
    {
      period: { fromMs: options.all === true ? Number.NEGATIVE_INFINITY : monthStartMs, toMs: clockMs },
      monthStartMs,
      rules: WASTE_RULES,
      isPast,
    },
  );
  if (context.json) {
    context.printJson('waste', clockMs, wasteDocument({ reported, containers, trayG, clockMs }));
    return;
  }
  const title = printable([shop.name, readableWithDay(clockMs)].filter(Boolean).join(', '));
  if (!reported) {
    context.print(
      `${title}\n\nNo waste this month and no container in use; open one: bathbook waste opened can-1 10 L`,
    );
    return;
  }
  const shown = [...reported.containers, ...containers.filter(({ container }) => container === null)];
  const thresholds = thresholdsTable(reported.thresholds);
  const month = readableMonth(monthStartMs).replace(/ \d+$/, '');
  context.print(
    [
      title,
      ...(shown.length > 0 ? [await containersText(shown, context)] : []),
      labelled(wasteLines(reported, { trayG, containers: shown, month }), context),
      context.onTerminal ? await aligned(thresholds, context.paint, context.width) : tabSeparated(thresholds),
      wrap(
        `${WHOSE}; no legal advice. ${GENERATORS}. PAST: more than the limit. ${capital(LOCAL)}.`,
        context.width,
      ),
      wrap(`Caution: ${CAUTION}.`, context.width),
    ].join('\n\n'),
  );
}

/** Narrower than this the table does not fit. */
const TABLE_WIDTH = 76;

async function containersText(containers: readonly Container[], context: Context): Promise<string> {
  const table = containersTable(containers, dateOnly);
  if (!context.onTerminal) return tabSeparated(table);
  return context.width < TABLE_WIDTH
    ? labelled(
        containers.map((one, place) => [place === 0 ? 'containers' : '', printable(containerText(one))]),
        context,
      )
    : aligned(table, context.paint, context.width);
}

function wasteDocument(on: {
  reported: ReturnType<typeof wasteReported>;
  containers: readonly Container[];
  trayG: number;
  clockMs: number;
}): Record<string, unknown> {
  const { reported, containers, trayG, clockMs } = on;
  const month = reported?.month ?? { monthStartMs: monthStarts()(clockMs), kg: 0, trayKg: 0, litres: 0 };
  return {
    containers: containers.map((one) => containerDocument(one, rfc3339)),
    tray_g: trayG,
    site_kg: reported?.siteKg ?? 0,
    month: {
      start: rfc3339(month.monthStartMs),
      kg: month.kg,
      tray_kg: month.trayKg,
      litres: month.litres,
    },
    thresholds: reported?.thresholds.map(thresholdDocument) ?? [],
    cautions: [CAUTION, LOCAL],
  };
}

async function log(
  action: Action,
  words: readonly string[],
  options: Options,
  context: Context,
): Promise<number> {
  if (options.all === true)
    throw usage(`Cannot use --all with "waste ${action}"`, 'it goes with the list: bathbook waste --all');
  let bench: Bench | undefined;
  const warnings: string[] = [];
  const logged = await writeEvent(context, options, (given): Body => {
    bench = given;
    const made = action === 'opened' ? openedBody(words, given) : takenBody(action, words, given);
    warnings.push(...made.warnings);
    return made.body;
  });
  const event = logged.event as WasteEvent;
  const { waste } = await keptAfter(bench!, logged);
  const container = containerNamed(event.container, waste.containers)!;
  reportBack(context, logged, {
    understood: understood(event),
    above: [
      ['container', printable(containerText(container))],
      ...(action === 'opened' ? [] : [['', HANDLING] as const]),
    ],
    warnings,
    data: { container: containerDocument(container, rfc3339) },
  });
  return EXIT.done;
}

/** The caution of the list in fewer words, at hand when a container is. */
const HANDLING =
  'ignitable: away from sparks, flames and sun, closed and labelled, never down the drain, never left to evaporate; gloves by the safety data sheets';

function understood({ container, action, capacity_l: litres, ml }: WasteEvent): string {
  const size = litres === undefined ? '' : `, takes ${trim(litres, 2)} L`;
  const amount = ml === undefined ? '' : `, ${volume(ml)} of it`;
  const words = { opened: 'put in use', emptied: 'emptied', collected: 'collected' };
  return `waste container ${container} ${words[action]}${size}${amount}`;
}
