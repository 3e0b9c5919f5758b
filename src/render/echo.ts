/**
 * What a command says after it has written: what was understood, the baths before and after, what comes next.
 */
import { figuresOf } from '../bath/figures.ts';
import type { MoveOutcome } from '../bath/moves.ts';
import type { Shop } from '../bath/shop.ts';
import type { Bath } from '../bath/state.ts';
import type { BathEstimate } from '../outlook/estimate.ts';
import { verdictText } from './baths.ts';
import { mass, percent, volume } from './format.ts';
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
    .map(([label, text]) =>
      `${view.paint.faint(label.padEnd(LABEL_WIDTH))}${wrap(text, room, indent)}`.trimEnd(),
    )
    .join('\n');
}

/** A bath before and after, in the three percents, with its verdict now. */
export function changeLines(
  before: readonly Bath[],
  after: readonly Bath[],
  view: { shop: Shop; estimates: readonly BathEstimate[]; paint: Paint },
): Line[] {
  return view.shop.tubs.map((tub, place) => {
    const [was, is] = [before[place]!, after[place]!].map((bath) =>
      figuresOf(bath, view.shop.resins, view.shop.roomC),
    );
    const verdict = verdictText(view.estimates[place]!);
    return [
      tub.name,
      `${changed(was!, is!)}  ${view.paint.verdict(view.estimates[place]!.verdict, verdict)}`,
    ];
  });
}

type Figures = ReturnType<typeof figuresOf>;

function changed(was: Figures, is: Figures): string {
  const resin = (figures: Figures) => (figures.resinWtPct === null ? 'empty' : percent(figures.resinWtPct));
  const share =
    is.resinWtPct === null ? '' : ` wt% (${percent(is.resinGPerL!)} g/L, ${percent(is.resinVolPct!)} vol%)`;
  return `${resin(was)} → ${resin(is)}${share}, ${litres(was.volumeMl)} → ${litres(is.volumeMl)} L`;
}

function litres(ml: number): string {
  return (ml / 1000).toFixed(2);
}

/** D001, containers, sewer: 40CFR261.21, 40CFR262.15, 40CFR403.5 in data/SOURCES.md. */
const WASTE_CAUTION =
  'spent solvent is ignitable waste: into a closed, labelled container, never down the drain, never left to evaporate; local rules and the safety data sheets decide';

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
