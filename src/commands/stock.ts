import type { StockEvent } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import { costOf, paidBefore } from '../records/cost.ts';
import { NONE_FOUND } from '../records/peroxide-test.ts';
import { stockOf } from '../records/stock.ts';
import type { Line } from '../render/echo.ts';
import { labelled } from '../render/echo.ts';
import { capital, volume } from '../render/format.ts';
import { TEST_HOW } from '../render/peroxide-words.ts';
import { printable } from '../render/printable.ts';
import {
  costDocument,
  money,
  onHandText,
  type StockItem,
  stockDocument,
  stockLines,
  stockTable,
} from '../render/stock.ts';
import { aligned, tabSeparated } from '../render/table.ts';
import { aheadOf } from './ahead.ts';
import { readable, readableWithDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { reclaimedIntoClean } from './reclaim-clean.ts';
import { reportBack } from './report-back.ts';
import { keptAfter, keptBefore } from './stock-after.ts';
import { dateOnly } from './stock-day.ts';
import { stockItems } from './stock-items.ts';
import { amountOf, priceOption, refuseOptions } from './stock-words.ts';
import { tellRefused, tellUncounted } from './tell.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

const MS_PER_DAY = 86_400_000;
const ACTIONS = ['received', 'counted'] as const;

/** `stock`: what is on hand; with `received` or `counted`, logs a delivery or a count. */
export async function run([action, ...words]: string[], options: Options, context: Context): Promise<number> {
  if (action === undefined) return show(options, context);
  if (!ACTIONS.some((one) => one === action.toLowerCase())) {
    throw usage(
      `Cannot tell what to log of the stock by "${action}"`,
      `${didYouMean(action, ACTIONS) ?? 'Say what happened.'} Write it like: bathbook stock received ipa99 10 L, or stock counted ipa99 7.5 L`,
    );
  }
  return log(action.toLowerCase() as (typeof ACTIONS)[number], words, options, context);
}

async function show(options: Options, context: Context): Promise<number> {
  refuseOptions(options, ['lot', 'price', 'supplier', 'tested'], 'stock', ACTIONS);
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const { status, movements } = aheadOf(opened);
  await tellRefused(context, opened, status.replayed.refused);
  const stock = stockOf(shop, settled.entries, movements, clockMs);
  const items = stockItems(stock, settled.entries, clockMs);
  const again = paidBefore(stock);
  const paid = { ...movements, pours: movements.pours.filter(({ solvent }) => !again.has(solvent)) };
  const costs = {
    recent: costOf(paid, stock, { fromMs: clockMs - 28 * MS_PER_DAY, toMs: clockMs }),
    all: costOf(paid, stock, { fromMs: Number.NEGATIVE_INFINITY, toMs: clockMs }),
  };
  if (context.json) {
    context.printJson('stock', clockMs, {
      stock: items.map((one) => stockDocument(one, rfc3339)),
      currency: shop.currency,
      cost: { last_28_days: costDocument(costs.recent), all: costDocument(costs.all) },
    });
  } else if (items.length === 0) {
    context.print(
      'No solvent was received, counted or poured yet; log a delivery: bathbook stock received ipa99 10 L',
    );
  } else {
    const view = {
      currency: shop.currency,
      clockMs,
      day: dateOnly,
      width: context.width,
      forPeople: context.onTerminal,
    };
    const table = stockTable(items, view);
    const title = printable([shop.name, readableWithDay(clockMs)].filter(Boolean).join(', '));
    const lines = stockLines(items, costs, view);
    const shown = context.onTerminal
      ? await aligned(table, context.paint, context.width)
      : tabSeparated(table);
    context.print([title, shown, labelled(lines, context)].filter(Boolean).join('\n\n'));
  }
  for (const note of reclaimedIntoClean(settled.entries, movements.pours)) context.note(`Note: ${note}`);
  tellUncounted(context, settled);
  return EXIT.done;
}

async function log(
  action: (typeof ACTIONS)[number],
  words: readonly string[],
  options: Options,
  context: Context,
): Promise<number> {
  if (action === 'counted')
    refuseOptions(options, ['lot', 'price', 'supplier'], 'stock counted', ['received']);
  else refuseOptions(options, ['tested'], 'stock received', ['counted']);
  let bench: Bench | undefined;
  const build = (given: Bench): Body => {
    bench = given;
    return action === 'received' ? received(words, options, given) : counted(words, given);
  };
  if (context.canAsk && options.dryRun !== true) {
    const preview = await writeEvent(context, { ...notedOptions(options), dryRun: true }, build);
    const odd = slipsOf(preview.event as StockEvent, bench!);
    for (const text of odd) context.note(`Note: ${text}`);
    if (odd.length > 0) context.note(`${capital(understood(preview.event as StockEvent, preview))}.`);
    if (odd.length > 0 && !(await context.confirm('Log it?'))) {
      context.note('Nothing was logged');
      return EXIT.done;
    }
  }
  const logged = await writeEvent(context, notedOptions(options), build);
  const event = logged.event as StockEvent;
  const kept = await keptAfter(bench!, logged);
  const items = stockItems(kept.stock, kept.entries, logged.status.clockMs);
  const item = items.find(({ solvent }) => solvent === event.solvent)!;
  reportBack(context, logged, {
    understood: understood(event, logged),
    above: [['on hand', onHandText(item)], ...countLines(event, bench!), ...testLines(item, options)],
    warnings: warningsOf(event, bench!),
    data: { stock: stockDocument(item, rfc3339) },
  });
  return EXIT.done;
}

/** What was tested is told in the note, before the words of who logged it: the ledger has no key for it. */
function notedOptions(options: Options): Options {
  if (options.tested !== true) return options;
  const more = typeof options.note === 'string' ? `; ${options.note}` : '';
  return { ...options, note: `${NONE_FOUND}${more}` };
}

/** When it is to be tested next. */
function testLines({ testByMs }: StockItem, { tested }: Options): Line[] {
  if (tested !== true) return [];
  return testByMs === null
    ? [['tested', 'none of it was reclaimed, so nothing waits for the test']]
    : [['next test', `by ${dateOnly(testByMs)} if some is left then (${TEST_HOW})`]];
}

function received(words: readonly string[], options: Options, { shop }: Bench): Body {
  const { solvent, ml } = amountOf(words, 'received', shop);
  return {
    what: 'stock',
    solvent,
    received_ml: ml,
    ...(typeof options.lot === 'string' ? { lot: options.lot } : {}),
    ...priceOption(options, ml),
    ...(typeof options.supplier === 'string' ? { supplier_note: options.supplier } : {}),
  };
}

function counted(words: readonly string[], { shop }: Bench): Body {
  const { solvent, ml } = amountOf(words, 'counted', shop);
  return { what: 'stock', solvent, counted_ml: ml };
}

function understood(event: StockEvent, { shop }: Logged): string {
  if (event.received_ml === undefined) return `counted ${volume(event.counted_ml!)} of ${event.solvent}`;
  const { currency } = shop;
  const litres = event.received_ml / 1000;
  return [
    `received ${volume(event.received_ml)} of ${event.solvent}`,
    ...(event.lot === undefined ? [] : [`lot ${event.lot}`]),
    ...(event.price === undefined
      ? []
      : [`${money(event.price, currency)} in all, ${money(event.price / litres, currency)} a litre`]),
    ...(event.supplier_note === undefined ? [] : [`"${event.supplier_note}"`]),
  ].join(', ');
}

/** A count beside what was expected. */
function countLines({ solvent, counted_ml: ml }: StockEvent, bench: Bench): Line[] {
  if (ml === undefined) return [];
  const before = keptBefore(bench).stock.find((one) => one.solvent === solvent)?.onHandMl ?? null;
  if (before === null) return [['expected', 'not known, this is the first that is logged of it']];
  const gap = ml - before;
  const differs =
    Math.abs(gap) < 0.5 ? 'as counted' : `${volume(Math.abs(gap))} ${gap > 0 ? 'more' : 'less'} was counted`;
  return [['expected', `${volume(before)}: ${differs}`]];
}

/** Less than this is most often a slip of the unit, mL. */
const LITTLE_ML = 100;

/** So much more than was expected, and so many times as much, nobody finds. */
const FAR_MORE = { ml: 10_000, times: 2 };

/** Amounts that are most often slips: asked about on a terminal. */
function slipsOf({ received_ml: received, counted_ml: ml, solvent }: StockEvent, bench: Bench): string[] {
  if (received !== undefined) return littleOf(received);
  const before = Math.max(0, keptBefore(bench).stock.find((one) => one.solvent === solvent)?.onHandMl ?? ml!);
  return ml! - before > FAR_MORE.ml && ml! > FAR_MORE.times * before
    ? [`${volume(ml!)} is counted, and ${volume(before)} was expected; is the amount right?`]
    : [];
}

function littleOf(ml: number): string[] {
  return ml < LITTLE_ML ? [`${volume(ml)} is little for a delivery; a bare number is mL`] : [];
}

function warningsOf(event: StockEvent, { settled }: Bench): string[] {
  const { received_ml: ml, lot, price, solvent } = event;
  if (ml === undefined) return [];
  const twin = settled.entries.find(
    ({ event: one }) =>
      one.what === 'stock' &&
      one.received_ml === ml &&
      one.solvent === solvent &&
      lot !== undefined &&
      one.lot === lot,
  );
  return [
    ...littleOf(ml),
    ...(lot === undefined ? ['No --lot: the delivery cannot be traced to its label'] : []),
    ...(price === undefined
      ? ['No --price: what it costs is taken from the last receipt or the ledger']
      : []),
    ...(twin
      ? [
          `As much of lot ${printable(lot!)} was received on ${readable(twin.atMs)} (${twin.event.id}); if that is one delivery: bathbook undo ${event.id}`,
        ]
      : []),
  ];
}
