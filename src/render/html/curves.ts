/**
 * Curves of a chart: a line for the best estimate, an area for its band.
 */
import { area, line } from 'd3-shape';
import type { Banded } from '../../records/series-look.ts';
import type { Point } from '../../records/series-thin.ts';
import type { Frame } from './frame.ts';
import { element, type Markup } from './markup.ts';

/** A band at a moment; null where there is none. */
export interface BandPoint {
  atMs: number;
  value: Banded | null;
}

/** Decimals of a coordinate, as {@link round} keeps them. */
const DIGITS = 1;

/** @param name - what it is, for style and for whoever reads it back */
export function curve(points: readonly Point[], name: string, { x, y }: Frame): Markup | null {
  const drawn = line<Point>()
    .defined(({ value }) => value !== null)
    .x(({ atMs }) => x(new Date(atMs)))
    .y(({ value }) => y(value!))
    .digits(DIGITS)([...points]);
  return drawn ? element('path', { class: name, 'data-curve': name, d: drawn }) : null;
}

/** From the 5 % to the 95 % point. */
export function bandArea(points: readonly BandPoint[], name: string, { x, y }: Frame): Markup | null {
  const drawn = area<BandPoint>()
    .defined(({ value }) => value !== null)
    .x(({ atMs }) => x(new Date(atMs)))
    .y0(({ value }) => y(value!.p05))
    .y1(({ value }) => y(value!.p95))
    .digits(DIGITS)([...points]);
  return drawn ? element('path', { class: name, 'data-curve': name, d: drawn }) : null;
}

/** Single points, each a dot as wide as the stroke. */
export function dots(points: readonly Point[], name: string, { x, y }: Frame): Markup | null {
  const drawn = points
    .filter(({ value }) => value !== null)
    .map(({ atMs, value }) => `M${x(new Date(atMs)).toFixed(DIGITS)},${y(value!).toFixed(DIGITS)}h0`)
    .join('');
  return drawn ? element('path', { class: name, 'data-curve': name, d: drawn }) : null;
}
