import type { Figure } from '../belief/band.ts';
import { factorOn } from '../belief/factors.ts';
import { didYouMean } from '../ledger/near.ts';
import { factorsKnown } from '../outlook/factors-known.ts';
import { meanLoad } from '../outlook/mean-load.ts';
import { type MeasurementKind, measurementsOf, TOOL_OF, TOOLS, type Tool } from '../outlook/measurements.ts';
import { mostTelling, type Telling } from '../outlook/most-telling.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { loadsFigure } from '../render/advice.ts';
import { basisText } from '../render/basis.ts';
import { factorsTable, measurementsTable, recipeText } from '../render/calibrate.ts';
import { loadsDocument } from '../render/documents.ts';
import { comparedDocument } from '../render/documents-reading.ts';
import { type Recipe, recipeOf, shownOf } from '../render/recipes.ts';
import { aligned, type Table, tabSeparated } from '../render/table.ts';
import { wrap } from '../render/wrap.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { tellFlagged, tellRefused, tellUncounted } from './tell.ts';

/** `calibrate`: what the readings have taught, and which measurement would tell most. */
export async function run(args: string[], _options: Options, context: Context): Promise<number> {
  const owned = args.map(toolNamed);
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const status = statusOf(shop, settled.entries, clockMs);
  await tellRefused(context, opened, status.replayed.refused);
  const told = tellings(status);
  const next = told.filter(
    ({ measurement: { kind } }) => owned.length === 0 || owned.includes(TOOL_OF[kind]),
  );
  if (context.json) context.printJson('calibrate', clockMs, documentOf(status, told, next));
  else await show(context, status, { told, next, owned });
  tellUncounted(context, settled);
  tellFlagged(context, status);
  return EXIT.done;
}

function toolNamed(typed: string): Tool {
  const found = TOOLS.find((tool) => tool === typed.toLowerCase());
  if (found) return found;
  throw usage(
    `Cannot find an instrument named "${typed}"`,
    didYouMean(typed, TOOLS) ?? `name what you have: ${TOOLS.join(', ')}`,
  );
}

/** Measurements that would narrow the loads left; where those cannot be counted, the carry-over factor. */
function tellings(status: Status): Telling[] {
  const { shop, belief, replayed, clockMs } = status;
  const { ensemble } = belief;
  const load = meanLoad(replayed, shop)?.load ?? null;
  return mostTelling(ensemble, targetOf(status), measurementsOf(shop, ensemble, load, clockMs));
}

function targetOf({ loads, belief, factors }: Status): Figure {
  if (loads) return loads;
  const { worlds, axes } = belief.ensemble;
  const carry = axes.find(({ name }) => name === 'carry');
  if (!carry) return { best: 0, values: worlds.map(() => 1) };
  return { best: factors.carry, values: worlds.map((world) => factorOn(world.factors, carry)) };
}

interface Shown {
  told: readonly Telling[];
  next: readonly Telling[];
  owned: readonly Tool[];
}

async function show(context: Context, status: Status, { told, next, owned }: Shown): Promise<void> {
  const draw = async (table: Table) =>
    context.onTerminal ? aligned(table, context.paint, context.width) : tabSeparated(table);
  const wrapped = (text: string) => wrap(text, context.width);
  const best = next[0];
  const parts = [
    wrapped(`${basisText(status)}.`),
    await draw(factorsTable(factorsKnown(status))),
    told.length === 0 ? 'Fill a bath first: there is nothing to measure yet.' : wrapped(aimText(status)),
    told.length === 0 ? '' : await draw(measurementsTable(owned.length === 0 ? told : next)),
    best ? nextText(best, status, owned, context) : '',
  ];
  context.print(parts.filter(Boolean).join('\n\n'));
}

/** What the share in the table is of. */
function aimText({ left, loads }: Status): string {
  const aim =
    left && loads
      ? `the loads left, now ${loadsFigure(left)}`
      : 'the carry-over factor, as the loads left cannot be counted yet';
  return `How much one measurement would narrow ${aim}:`;
}

/** A share of the band that is not worth the trouble. */
const TELLS_NOTHING = 0.99;

function nextText(best: Telling, status: Status, owned: readonly Tool[], context: Context): string {
  const wrapped = (text: string) => wrap(text, context.width);
  const others = wrapped(`With other instruments: bathbook calibrate ${TOOLS.slice(0, 2).join(' ')}`);
  const lead = owned.length === 0 ? 'What tells most' : `What tells most with ${owned.join(' and ')}`;
  if (best.bandLeft > TELLS_NOTHING) {
    return status.replayed.recent.length === 0
      ? wrapped(
          'Before the first wash there is little to learn: log a density of the fresh solvent as a zero, wash, and weigh that load before and after.',
        )
      : wrapped(
          `Nothing to measure ${owned.length === 0 ? '' : `with ${owned.join(' and ')} `}would tell more now.`,
        );
  }
  return `${lead}:\n${recipeText(recipeFor(best, status), context.width)}${owned.length === 0 ? `\n\n${others}` : ''}`;
}

function recipeFor({ measurement: { kind, bath } }: Telling, { estimates }: Status): Recipe {
  return recipeOf(kind, bath, shownOf(estimates.find((one) => one.bath === bath)));
}

function documentOf(status: Status, told: readonly Telling[], next: readonly Telling[]): unknown {
  return {
    factors: factorsKnown(status),
    readings: status.belief.compared.map((one) => comparedDocument(one, status.shop)),
    loads_left: loadsDocument(status.left),
    measurements: told.map(telling),
    next: next[0] ? { ...telling(next[0]), ...recipeFor(next[0], status) } : null,
  };
}

function telling({ measurement: { kind, bath }, bandLeft }: Telling): {
  kind: MeasurementKind;
  bath: string | null;
  with: Tool;
  band_left: number;
} {
  return { kind, bath: bath ?? null, with: TOOL_OF[kind], band_left: bandLeft };
}
