/** The frame that charts of loads share: the weeks behind only, to the edge of the drawing. */
import type { Charts } from './charts.ts';
import { type Frame, frameOf, RIGHT } from './frame.ts';
import type { Part } from './part.ts';

export interface LoadsView {
  charts: Charts;
  part: Part;
  nowWord: string;
}

const HEADROOM = 1.08;

/** @param most - the highest value */
export function loadsFrame({ charts, part, nowWord }: LoadsView, name: string, most: number): Frame {
  const { fromMs, toMs } = charts.series.window;
  const id = `${part.id}${name}`;
  return frameOf({ id, fromMs, toMs, nowMs: toMs, nowWord, top: HEADROOM * most, right: RIGHT.bare });
}
