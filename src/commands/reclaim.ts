import { solventVolume } from '../bath/state.ts';
import type { ReclaimEvent } from '../ledger/event.ts';
import { costOf } from '../records/cost.ts';
import type { Container } from '../records/waste.ts';
import { percent, volume } from '../render/format.ts';
import { printable } from '../render/printable.ts';
import { onHandText, stockDocument } from '../render/stock.ts';
import { containerDocument } from '../render/waste.ts';
import {
  CAUTIONS,
  type Method,
  RESIDUE,
  type Reclaimed,
  reclaimLines,
  residueG,
  USUAL_YIELD,
  yieldShare,
} from '../render/waste-reclaim.ts';
import { catalogue } from '../substance/catalogue.ts';
import { readableDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, type Fault, usage } from './fault.ts';
import { reclaimedIntoClean, reclaimedSolvents } from './reclaim-clean.ts';
import { reportBack } from './report-back.ts';
import { type Kept, keptAfter, keptBefore } from './stock-after.ts';
import { stockItems, testByMs } from './stock-items.ts';
import { named, quantity, round } from './values.ts';
import { containerNamed, unknownContainer } from './waste-words.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** `reclaim`: spent solvent out of a waste container, back as a named solvent. */
export async function run(
  [name = '', ...words]: string[],
  options: Options,
  context: Context,
): Promise<number> {
  let bench: Bench | undefined;
  let before: Kept | undefined;
  const logged = await writeEvent(context, options, (given): Body => {
    bench = given;
    before = keptBefore(given);
    return body(name, words, options, given, before);
  });
  const after = await keptAfter(bench!, logged);
  const one = reclaimedOf(logged, before!, after);
  const item = stockItems(after.stock, after.entries, logged.status.clockMs).find(
    ({ solvent }) => solvent === one.solvent,
  )!;
  reportBack(context, logged, {
    understood: `${volume(one.ml)} ${one.method} from ${one.container}, as ${one.solvent}`,
    above: reclaimLines(one, {
      onHand: onHandText(item),
      currency: logged.shop.currency,
      day: readableDay,
      fresh: before!.stock.find(({ reclaimedMl }) => reclaimedMl === 0)?.solvent,
    }),
    warnings: [...warningsOf(one), ...reclaimedIntoClean(after.entries, after.movements.pours)],
    data: {
      yield_share: yieldShare(one),
      container_ml_before: one.before.heldMl,
      residue_wt_pct: RESIDUE,
      residue_g: residueG(one),
      ipa_wt_pct: one.solventPct,
      container_ipa_wt_pct: one.heldPct,
      first_cost: one.pricePerL === null ? null : (one.pricePerL * one.ml) / 1000,
      peroxide_test_by: rfc3339(one.testByMs),
      cautions: [CAUTIONS[one.method]],
      container: containerDocument(one.after, rfc3339),
      stock: stockDocument(item, rfc3339),
    },
  });
  return EXIT.done;
}

function body(
  name: string,
  words: readonly string[],
  options: Options,
  { shop }: Bench,
  { waste, entries }: Kept,
): Body {
  const { method, as } = options;
  if (typeof method !== 'string')
    throw usage('Cannot reclaim without --method', 'say how: --method settled, or --method distilled');
  if (typeof as !== 'string')
    throw usage(
      'Cannot reclaim without the solvent it becomes',
      'name one of your own, kept apart from fresh solvent, like: --as reclaimed',
    );
  const held = containerNamed(name, waste.containers);
  if (!held) throw unknownContainer(name, waste.containers, 'reclaim from');
  const ml = round(quantity(words.join(' '), 'volume', 'amount'));
  refuseTooMuch(ml, held);
  const solvent = named(as, shop.solvents);
  if (solvent === undefined) throw unknownSolvent(as, held);
  refuseFresh(solvent, entries);
  return { what: 'reclaim', container: name, ml, method, solvent };
}

/** More than this share of what a container holds by estimate is no estimate's error but another unit or container. */
const FAR_BEYOND = 1.25;

function refuseTooMuch(ml: number, { container, heldMl }: Container): void {
  if (!(ml > 0)) throw usage('Cannot reclaim nothing', 'give how much came out, like 3 L');
  if (heldMl <= 0)
    throw usage(
      `Cannot reclaim from "${container}", nothing is in it by the ledger`,
      `log what went in first, like: bathbook rotate --into ${container}`,
    );
  if (ml > FAR_BEYOND * heldMl)
    throw usage(
      `Cannot reclaim ${volume(ml)} from "${container}", it holds about ${volume(heldMl)} by the ledger`,
      'check the amount and its unit, a bare number is mL; what went in and was not logged is logged first, with its time',
    );
}

/** Strength that settling or distilling all of it leaves as it is, wt% IPA. */
function strengthOf({ grams }: Container): number {
  return (100 * grams.ipa) / (grams.ipa + grams.water);
}

/** The line that is missing in the head, with the strength of what is in the container. */
function unknownSolvent(name: string, held: Container): Fault {
  return usage(
    `Cannot reclaim as "${name}", the ledger knows no solvent of that name`,
    `add it in the head of the ledger, under "solvents:", with the strength that ${printable(held.container!)} has by estimate: ${key(name)}: {ipa_wt_pct: ${percent(strengthOf(held))}}`,
  );
}

function key(name: string): string {
  return /^[a-z][\w-]*$/i.test(name) ? name : JSON.stringify(name);
}

/** Reclaimed under the name of a fresh solvent, nobody could tell them apart any more. @throws Fault, usage */
function refuseFresh(solvent: string, entries: Kept['entries']): void {
  const bought =
    Object.hasOwn(catalogue.solvents, solvent) ||
    entries.some(
      ({ event }) => event.what === 'stock' && event.solvent === solvent && event.received_ml !== undefined,
    );
  if (!bought) return;
  throw usage(
    `Cannot reclaim as "${solvent}", that is fresh solvent, and the clean bath is filled with it`,
    'name one of your own, kept apart, like --as reclaimed; it goes under "solvents:" in the head of the ledger',
  );
}

function reclaimedOf({ event, shop }: Logged, before: Kept, after: Kept): Reclaimed {
  const { container, ml, method, solvent, at } = event as ReclaimEvent;
  const held = containerNamed(container, before.waste.containers)!;
  const { ipaFraction, density } = shop.solvents.get(solvent)!;
  return {
    container,
    ml,
    method: method as Method,
    solvent,
    before: held,
    after: containerNamed(container, after.waste.containers)!,
    solventPct: 100 * ipaFraction,
    heldPct: strengthOf(held),
    density,
    pricePerL: firstPrice(before),
    testByMs: testByMs(Date.parse(at)),
  };
}

/** What a litre of fresh solvent cost, over all that was poured so far. */
function firstPrice({ movements, stock, entries }: Kept): number | null {
  const again = reclaimedSolvents(entries);
  const pours = movements.pours.filter(({ solvent }) => !again.has(solvent));
  const all = { fromMs: Number.NEGATIVE_INFINITY, toMs: Number.POSITIVE_INFINITY };
  const { money, pouredMl } = costOf({ pours, washes: [] }, stock, all);
  return money === null || pouredMl === 0 ? null : money / (pouredMl / 1000);
}

function warningsOf(one: Reclaimed): string[] {
  const { before, ml, method } = one;
  const solventMl = solventVolume(before.grams.ipa, before.grams.water);
  const most = USUAL_YIELD[method][1];
  return ml > solventMl
    ? [
        `${volume(ml)} is more than the ${volume(solventMl)} of solvent in ${printable(one.container)} by the ledger; what came out holds resin`,
      ]
    : 100 * yieldShare(one) > most
      ? [
          `A yield of ${Math.round(100 * yieldShare(one))} % is more than usual (${most} %); it may hold more residue`,
        ]
      : [];
}
