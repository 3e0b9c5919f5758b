import { givenPace, type Pace } from '../outlook/pace.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { numberIn } from './number-option.ts';

/**
 * The shop's own pace, or the one that `--per-day` gives.
 *
 * @throws Fault, usage, when neither is known
 */
export function paceFor(own: Pace | null, options: Options, on: { command: string; clockMs: number }): Pace {
  const perDay = numberIn(options, { flag: 'per-day', least: 0.01, most: 1000, example: '4' });
  if (perDay !== undefined) return givenPace(perDay, own, { clockMs: on.clockMs, days: localDays });
  if (own) return own;
  throw usage(
    'Cannot tell the pace, no wash was logged in the last 28 days',
    `give it: bathbook ${on.command} --per-day 3`,
  );
}
