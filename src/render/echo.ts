/**
 * What a command says after it has written: what was understood, the baths before and after, what comes next.
 */
import { figuresOf } from '../bath/figures.ts';
import type { MoveOutcome } from '../bath/moves.ts';
import type { Shop } from '../bath/shop.ts';
import type { Bath } from '../bath/state.ts';
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Quantity } from '../outlook/quantity.ts';
import { verdictText } from './baths.ts';
import { banded, mass, percent, volume, withoutBand } from './format.ts';
import type { Paint } from './paint.ts';
import { wrap } from './wrap.ts';

/** One labelled line; continuation lines have an empty label. */
export type Line = readonly [label: string, text: string];

const LABEL_WIDTH = 12;

/** Labels in one column, texts wrapped beside them. */
export function labelled(lines: readonly Line[], view: { paint: Paint; width: number }): string {
  const room = view.width - LABEL_WIDTH;
  const indent = ' '.repeat(LABEL_WIDTH);
  return lines
    .map(([label, text]) => {
      const beside = wrap(text, room, indent);
      const isWide = beside.startsWith('bathbook ') && beside.split('\n')[0]!.length > room;
      // A command that is too wide is below its label, to be copied from the first column.
      if (isWide) return [...(label ? [view.paint.faint(label)] : []), wrap(text, view.width)].join('\n');
      return `${view.paint.faint(label.padEnd(LABEL_WIDTH))}${beside}`.replaceAll(/ +$/gm, '');
    })
    .join('\n');
}

/** A bath before and after, in the three percents, with its band and verdict now; the band before where it is known. */
export function changeLines(
  before: readonly Bath[],
  after: readonly Bath[],
  view: {
    shop: Shop;
    estimates: readonly BathEstimate[];
    was?: readonly BathEstimate[] | undefined;
    paint: Paint;
  },
): Line[] {
  return view.shop.tubs.map((tub, place) => {
    const [was, is] = [before[place]!, after[place]!].map((bath) =>
      figuresOf(bath, view.shop.resins, view.shop.roomC),
    );
    const now = view.estimates[place]!;
    const verdict = verdictText(now);
    const bands = { was: near(was!, view.was?.[place]), is: near(is!, now) };
    const told = isEmpty(was!) && isEmpty(is!) ? '' : `${changed(was!, is!, bands, now)}  `;
    return [tub.name, `${told}${view.paint.verdict(now.verdict, verdict)}`];
  });
}

type Figures = ReturnType<typeof figuresOf>;

/** The band of the resin, where the estimate is of this moment. */
function near({ resinWtPct }: Figures, estimate: BathEstimate | undefined): Quantity | null {
  const band = estimate?.resinWtPct ?? null;
  if (resinWtPct === null) return null;
  const same = band !== null && Math.abs(band.p50 - resinWtPct) <= 0.02 * resinWtPct;
  return same ? band : { p50: resinWtPct };
}

function isEmpty({ resinWtPct, volumeMl }: Figures): boolean {
  return resinWtPct === null && volumeMl === 0;
}

function changed(
  was: Figures,
  is: Figures,
  bands: { was: Quantity | null; is: Quantity | null },
  now: BathEstimate,
): string {
  const resin = (band: Quantity | null) => (band === null ? 'empty' : banded(band));
  const best = (band: Quantity | null) => (band === null ? 'empty' : banded({ p50: band.p50 }));
  // A band that was not worked out anew is no other than the one that is.
  const from = bands.was?.p05 === undefined && best(bands.was) === best(bands.is) ? bands.is : bands.was;
  const share = is.resinWtPct === null ? '' : ` wt%${others(is, bands.is?.p05 === undefined ? null : now)}`;
  return `${became(resin(from), resin(bands.is))}${share}; ${became(litres(was.volumeMl), litres(is.volumeMl))} L`;
}

/** What was and what is, once where they read the same. */
function became(was: string, is: string): string {
  return was === is ? is : `${was} → ${is}`;
}

/** The same resin in the two other measures, but for what would be noughts in all of them. */
function others({ resinWtPct, resinGPerL, resinVolPct }: Figures, now: BathEstimate | null): string {
  if (resinWtPct! < 0.005) return '';
  const [grams, share] = now
    ? [withoutBand(now.resinGPerL!, 1), withoutBand(now.resinVolPct!)]
    : [resinGPerL!.toFixed(1), percent(resinVolPct!)];
  return `, ${grams} g/L, ${share} vol%`;
}

function litres(ml: number): string {
  return (ml / 1000).toFixed(2);
}

/** D001, containers, sewer: 40CFR261.21, 40CFR262.15, 40CFR403.5 in data/SOURCES.md. */
const WASTE_CAUTION =
  'ignitable: into a closed, labelled container, never down the drain, never left to evaporate; local rules and the safety data sheets decide';

/** Liquid poured and drained by a move. */
export function moveLines(move: MoveOutcome): Line[] {
  const poured = move.pouredMl > 0 ? [['poured', `${volume(move.pouredMl)} ${move.solvent}`] as const] : [];
  const { resin, ipa, water } = move.waste;
  const waste =
    move.wasteMl > 0
      ? [
          [
            'to waste',
            `${volume(move.wasteMl)}, ${mass(resin + ipa + water)} (${mass(resin)} resin, ${mass(ipa)} IPA, ${mass(water)} water)`,
          ] as const,
          ['', WASTE_CAUTION] as const,
        ]
      : [];
  return [...poured, ...waste];
}
