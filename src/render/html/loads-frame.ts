/** The frame that charts of loads share: the weeks behind only, to the edge of the drawing. */
import type { Charts } from './charts.ts';
import { type Frame, frameOf, RIGHT } from './frame.ts';

export interface LoadsView {
  charts: Charts;
  nowWord: string;
}

const HEADROOM = 1.08;

/** @param most - the highest value */
export function loadsFrame({ charts, nowWord }: LoadsView, id: string, most: number): Frame {
  const { fromMs, toMs } = charts.series.window;
  return frameOf({ id, fromMs, toMs, nowMs: toMs, nowWord, top: HEADROOM * most, right: RIGHT.bare });
}
