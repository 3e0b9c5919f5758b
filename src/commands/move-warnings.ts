/** What a person would want to be told about a move that is possible all the same. */
import { brimOf } from '../bath/shop.ts';
import { bathVolume, isEmpty } from '../bath/state.ts';
import { percent, volume } from '../render/format.ts';
import type { KeptStep, Logged } from './write.ts';

/** Less than this share of the mark after pouring is most often a slip of the unit. */
const FAR_BELOW_MARK = 0.25;

/** Notes about levels, watery solvent and a rotation of unused liquid; none when all is as usual. */
export function moveWarnings({ step, shop, event, reclaimed }: Logged): string[] {
  if (!step?.move) return [];
  return [
    ...levels(step, shop),
    ...watery(step, shop),
    ...(event.what === 'rotate' ? unused(step) : []),
    ...reclaimedInClean(step, event, reclaimed()),
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

function levels(step: KeptStep, shop: Logged['shop']): string[] {
  const poured = step.move!.pouredMl > 0;
  return shop.tubs.flatMap((tub, place) => {
    const ml = bathVolume(step.after[place]!, shop.resins);
    const changed = ml !== bathVolume(step.before[place]!, shop.resins);
    if (!changed) return [];
    const brimMl = brimOf(tub);
    if (poured && ml > brimMl)
      return [`${volume(ml)} in the ${tub.name} bath would overflow its ${volume(brimMl)}`];
    const low = poured && !isEmpty(step.after[place]!) && ml < FAR_BELOW_MARK * tub.markMl;
    return low
      ? [
          `${volume(ml)} is far below the mark of the ${tub.name} bath (${volume(tub.markMl)}); a bare number is mL`,
        ]
      : [];
  });
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
