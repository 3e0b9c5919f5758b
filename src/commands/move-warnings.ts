/** What a person would want to be told about a move that is possible all the same. */
import { brimOf } from '../bath/shop.ts';
import { bathVolume, isEmpty } from '../bath/state.ts';
import { near } from '../ledger/near.ts';
import type { Stock } from '../records/stock.ts';
import type { Container } from '../records/waste.ts';
import { percent, volume } from '../render/format.ts';
import { printable } from '../render/printable.ts';
import type { KeptStep, Logged } from './write.ts';

/** Less than this share of the mark after pouring is most often a slip of the unit. */
const FAR_BELOW_MARK = 0.25;

/** Notes about levels, watery solvent and a rotation of unused liquid; none when all is as usual. */
export function moveWarnings(logged: Logged): string[] {
  const { step, shop, event, reclaimed, stock, containers } = logged;
  if (!step?.move) return [];
  return [
    ...overflows(logged),
    ...low(step, shop),
    ...aboveMark(step, shop),
    ...watery(step, shop),
    ...(event.what === 'rotate' ? unused(step) : []),
    ...reclaimedInClean(step, event, reclaimed()),
    ...beyondStock(step, stock(), reclaimed),
    ...intoContainer(event, containers()),
  ];
}

/** Reclaimed solvent brings residue to the last rinse. */
function reclaimedInClean(
  { move }: KeptStep,
  event: Logged['event'],
  reclaimed: ReturnType<Logged['reclaimed']>,
): string[] {
  const solvent = move!.pouredMl > 0 ? move!.solvent : undefined;
  if (solvent === undefined || !reclaimed.has(solvent)) return [];
  if (event.what !== 'rotate' && !('bath' in event && event.bath === 'clean')) return [];
  return [
    `${solvent} is reclaimed and for the dirty bath only: it brings residue to the last rinse; take this back and name a fresh solvent`,
  ];
}

/** Baths that would run over: the amount is most often a slip. */
export function overflows({ step, shop }: Pick<Logged, 'step' | 'shop'>): string[] {
  if (!step?.move) return [];
  return shop.tubs.flatMap((tub, place) => {
    const [was, ml] = [step.before, step.after].map((baths) => bathVolume(baths[place]!, shop.resins));
    const brimMl = brimOf(tub);
    return ml! > was! && ml! > brimMl
      ? [`${volume(ml!)} in the ${tub.name} bath would overflow its ${volume(brimMl)}; is the amount right?`]
      : [];
  });
}

/** Poured to above the mark, though not over the brim: parts raise it further. */
const FAR_ABOVE_MARK = 1.1;

function aboveMark(step: KeptStep, shop: Logged['shop']): string[] {
  return shop.tubs.flatMap((tub, place) => {
    const [was, ml] = [step.before, step.after].map((baths) => bathVolume(baths[place]!, shop.resins));
    const isAbove = ml! > was! && ml! > FAR_ABOVE_MARK * tub.markMl && ml! <= brimOf(tub);
    return isAbove
      ? [
          `${volume(ml!)} stands ${volume(ml! - tub.markMl)} above the mark of the ${tub.name} bath; to take it off: bathbook drain ${tub.name} to mark`,
        ]
      : [];
  });
}

export function low(step: KeptStep, shop: Logged['shop']): string[] {
  const poured = step.move!.pouredMl > 0;
  return shop.tubs.flatMap((tub, place) => {
    const ml = bathVolume(step.after[place]!, shop.resins);
    const changed = ml !== bathVolume(step.before[place]!, shop.resins);
    const isLow = poured && changed && !isEmpty(step.after[place]!) && ml < FAR_BELOW_MARK * tub.markMl;
    return isLow
      ? [
          `${volume(ml)} is far below the mark of the ${tub.name} bath (${volume(tub.markMl)}); a bare number is mL`,
        ]
      : [];
  });
}

/** More poured than came in: a receipt is not logged, or the amount is a slip. */
function beyondStock({ move }: KeptStep, stock: readonly Stock[], reclaimed: Logged['reclaimed']): string[] {
  const { pouredMl, solvent } = move!;
  const { onHandMl } = stock.find((one) => one.solvent === solvent) ?? { onHandMl: null };
  if (pouredMl === 0 || onHandMl === null || onHandMl >= -0.5) return [];
  const how = reclaimed().has(solvent!)
    ? `log a count (bathbook stock counted ${solvent} 2 L)`
    : `log what came in (bathbook stock received ${solvent} 10 L) or a count`;
  return [`With this, ${volume(-onHandMl)} more ${solvent} is poured than the ledger knows of; ${how}`];
}

/** A container that takes less than was put in, or whose name is another's but for a slip. */
function intoContainer(event: Logged['event'], containers: readonly Container[]): string[] {
  const into = 'into' in event ? event.into : undefined;
  if (into === undefined) return [];
  const named = containers.filter(({ container, closed }) => container !== null && closed === null);
  const own = named.find(({ container }) => container === into);
  if (own && own.capacityMl !== null && own.heldMl > own.capacityMl)
    return [
      `${printable(into)} takes ${volume(own.capacityMl)} and would hold ${volume(own.heldMl)} with this; put the rest into another one`,
    ];
  // Another number is another container.
  const numberIn = (name: string) => name.replaceAll(/\D/g, '');
  const others = named.flatMap(({ container }) =>
    container !== into && numberIn(container!) === numberIn(into) ? [container!] : [],
  );
  const isNew = own?.openedMs === Date.parse(event.at) && own.capacityMl === null;
  const meant = isNew ? near(into, others) : undefined;
  return meant === undefined
    ? []
    : [
        `No container "${printable(into)}" was in use, and so it is a new one; did you mean "${printable(meant)}"?`,
      ];
}

/** A solvent that brings a bath to its water limit as it comes out of the bottle. */
function watery({ move }: KeptStep, { solvents, tubs }: Logged['shop']): string[] {
  const solvent = move!.pouredMl > 0 ? solvents.get(move!.solvent!) : undefined;
  const waterPct = solvent ? 100 * (1 - solvent.ipaFraction) : 0;
  const change = Math.min(...tubs.map(({ limits }) => limits.water[1]));
  return waterPct >= change
    ? [
        `${solvent!.name} holds ${percent(waterPct)} wt% water as it is poured, at or above the change limit of ${percent(change)}`,
      ]
    : [];
}

function unused({ before }: KeptStep): string[] {
  const washed = before.some((bath) => bath.washes > 0);
  return washed ? [] : ['Nothing was washed since the last change; fresh solvent goes to waste'];
}
