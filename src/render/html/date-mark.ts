/**
 * On the limit that is met first: when, from the early to the late end of the date.
 */
import { timeFormat } from 'd3-time-format';
import type { Outlook } from '../../outlook/outlook.ts';
import type { BathView } from './bath-curves.ts';
import { type Frame, round } from './frame.ts';
import { element, type Markup } from './markup.ts';

const MS_PER_DAY = 86_400_000;
/** Half the width of a date. */
const HALF = 24;

type Dated = Outlook & { limit: NonNullable<Outlook['limit']>; days: NonNullable<Outlook['days']> };

/** Whether a limit of resin or water is foreseen. */
export function isDated(outlook: Outlook | null): outlook is Dated {
  return Boolean(outlook?.limit && outlook.limit.what !== 'level' && outlook.days && !outlook.past);
}

export function dateMark({ charts, tub, of }: BathView, { x, y, nowMs, right }: Frame): Markup | null {
  const { outlook } = charts;
  if (!isDated(outlook)) return null;
  if (outlook.limit.bath !== tub.name || outlook.limit.what !== of) return null;
  const { p50, p05 = p50, p95 = p50 } = outlook.days;
  const date = (days: number) => new Date(nowMs + days * MS_PER_DAY);
  const at = (days: number) => round(Math.min(right, x(date(days))));
  if (x(date(p50)) > right) return null;
  const height = round(y(tub.limits[of][1]));
  const middle = Math.min(at(p50), right - HALF);
  return element(
    'g',
    { class: 'date' },
    element('path', {
      d: `M${at(p05)} ${height - 5}v10M${at(p95)} ${height - 5}v10M${at(p05)} ${height}H${at(p95)}`,
    }),
    element('circle', { cx: at(p50), cy: height, r: 4 }),
    element('text', { x: middle, y: height - 9, 'text-anchor': 'middle' }, timeFormat('%b %-d')(date(p50))),
  );
}
