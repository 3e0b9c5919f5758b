/**
 * A figure against its limits at a glance: a rule with the limits as strokes, the band as a bar, the best estimate as a dot. The
 * words beside it say the same.
 */
import { scaleLinear } from 'd3-scale';
import type { Quantity } from '../../outlook/quantity.ts';
import { round } from './frame.ts';
import { element, type Markup } from './markup.ts';

const WIDTH = 200;
const MIDDLE = 9;
/** Of the change limit; what lies beyond is at the end. */
const REACH = 1.5;

export function gauge(
  { p05, p50, p95 }: Quantity,
  [soon, change, never]: readonly [number, number, number],
): Markup {
  const at = scaleLinear([0, REACH * change], [2, WIDTH - 2]).clamp(true);
  const stroke = (limit: number, half: number) => `M${round(at(limit))} ${MIDDLE - half}v${2 * half}`;
  const strokes = [
    stroke(soon, 4),
    stroke(change, 7),
    ...(never <= REACH * change ? [stroke(never, 7)] : []),
  ];
  const [low, high] = [at(p05 ?? p50), at(p95 ?? p50)];
  return element(
    'svg',
    { class: 'gauge', viewBox: `0 0 ${WIDTH} ${2 * MIDDLE}`, 'aria-hidden': 'true' },
    element('path', { class: 'rule', d: `M2 ${MIDDLE}H${WIDTH - 2}` }),
    element('rect', { x: round(low), y: MIDDLE - 3, width: Math.max(1, round(high - low)), height: 6 }),
    element('path', { class: 'strokes', d: strokes.join('') }),
    element('circle', { cx: round(at(p50)), cy: MIDDLE, r: 4.5 }),
  );
}
