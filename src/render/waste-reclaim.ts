/** What `reclaim` says: yield, what the solvent is taken for, what it cost, what to look out for. */
import type { Container } from '../records/waste.ts';
import type { Line } from './echo.ts';
import { mass, percent, volume } from './format.ts';
import { DISTILLING, TEST_HOW } from './peroxide-words.ts';
import { printable } from './printable.ts';
import { money } from './stock.ts';
import { heldG } from './waste.ts';

export type Method = 'settled' | 'distilled';

/**
 * Usual yields in per cent of the liquid, and residue in wt%: best and rough 90 %. Settling common practice, no source; distilling
 * 90 to 95 of lightly contaminated solvent, and 85 to 90 in one mill; the residue a guess.
 */
export const USUAL_YIELD: Record<Method, readonly [number, number]> = {
  settled: [60, 90],
  distilled: [85, 95],
};
export const RESIDUE = { p05: 0.1, p50: 0.5, p95: 2 } as const;

/** Distilling cannot pass it: wt% IPA of the azeotrope, LANGE10 in data/SOURCES.md. */
const AZEOTROPE_PCT = 87.9;

export interface Reclaimed {
  container: string;
  ml: number;
  method: Method;
  solvent: string;
  /** Before and after; the container as it was and is. */
  before: Container;
  after: Container;
  /** Strength of the solvent it becomes, and of what was in the container, wt% IPA. */
  solventPct: number;
  heldPct: number;
  /** g/mL at 20 °C. */
  density: number;
  /** What a litre cost when it was first poured; null where no price is known. */
  pricePerL: number | null;
  testByMs: number;
}

/** A share of the liquid that was in the container. */
export function yieldShare({ ml, before }: Reclaimed): number {
  return before.heldMl > 0 ? ml / before.heldMl : Number.NaN;
}

/** Resin in it at the guessed residue, g. */
export function residueG({ ml, density }: Reclaimed): number {
  return (ml * density * RESIDUE.p50) / 100;
}

export function reclaimLines(
  one: Reclaimed,
  view: { onHand: string; currency: string; day: (ms: number) => string; fresh: string | undefined },
): Line[] {
  const [low, high] = USUAL_YIELD[one.method];
  const fresh = view.fresh === undefined ? '' : `, like --solvent ${view.fresh}`;
  return [
    ['on hand', view.onHand],
    [
      'yield',
      `${volume(one.ml)} of ${volume(one.before.heldMl)} in ${one.container}, ${Math.round(100 * yieldShare(one))} %; ${low} to ${high} % is common practice, no source`,
    ],
    ['taken as', strengthText(one)],
    [
      'residue',
      `guessed at ${RESIDUE.p50} wt% resin (${RESIDUE.p05} to ${RESIDUE.p95}), ${mass(residueG(one))}; the ledger does not add it to the bath it goes into, where readings will lie above the estimate by it`,
    ],
    ['left', leftText(one)],
    ['cost', costText(one, view.currency)],
    ['test', testText(one, view.day)],
    [
      'use',
      `for the dirty bath only. A rotation or refill written into the ledger by hand without a solvent takes the one poured last: name a fresh one there${fresh}`,
    ],
    ['caution', CAUTIONS[one.method]],
    ['', 'whether you may reclaim, and how it counts as waste, is for local rules to say'],
  ].map(([label, text]): Line => [label!, printable(text!)]);
}

/** Flash point 12 °C: IEC60079 in data/SOURCES.md. Bottoms: still waste. */
const IGNITION =
  'ignitable from 12 °C on: no flame, spark, hot plate or sun; closed container, good ventilation, gloves; date it';

export const CAUTIONS: Record<Method, string> = {
  settled: `${IGNITION}. Not in a part-full clear bottle in the sun, where peroxides form`,
  distilled: `${IGNITION}. ${DISTILLING}`,
};

function strengthText({ solventPct, heldPct, method, solvent, container }: Reclaimed): string {
  const held = `${container} held ${percent(heldPct)} wt% by estimate`;
  const gap =
    Math.abs(solventPct - heldPct) > 1
      ? `: correct ipa_wt_pct of "${solvent}" in the head of the ledger`
      : '';
  const wet =
    method === 'distilled'
      ? heldPct < AZEOTROPE_PCT
        ? `; distilling cannot pass ${AZEOTROPE_PCT} wt%`
        : '; distilling all of it takes no water out'
      : '; settling takes no water out';
  return `${percent(solventPct)} wt% IPA, as the ledger has "${solvent}"; ${held}${gap}${wet}`;
}

function leftText({ after, container }: Reclaimed): string {
  const rest = heldG(after);
  return rest > 0
    ? `${mass(rest)} in ${container}, of it ${mass(after.grams.resin)} resin: sludge or still bottoms, waste as before`
    : `nothing in ${container} by the ledger`;
}

function costText({ pricePerL, ml }: Reclaimed, currency: string): string {
  return pricePerL === null
    ? 'not free: it was paid for when it was first poured; no price is known'
    : `not free: about ${money((pricePerL * ml) / 1000, currency)} when it was first poured (${money(pricePerL, currency)} a litre), and the work`;
}

function testText({ method, testByMs }: Reclaimed, day: (ms: number) => string): string {
  const first = method === 'distilled' ? 'before it was distilled, and again' : 'for peroxides';
  return `${first} by ${day(testByMs)} if some is left then (${TEST_HOW}) [PEROXIDES]`;
}
