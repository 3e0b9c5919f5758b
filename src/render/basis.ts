/**
 * What the estimates of a shop rest on, in a sentence.
 */
import type { Status } from '../outlook/status.ts';
import { count } from './format.ts';

/** The same, with what to do about it. */
export function basisHint(status: Pick<Status, 'belief'>): string {
  const hint = status.belief.lessons.all.taught > 0 ? '' : '; bathbook calibrate says what to measure';
  return `${basisText(status)}${hint}`;
}

/** How many readings shaped the factors, or that none did and what that means. */
export function basisText({ belief }: Pick<Status, 'belief'>): string {
  const { taught, readings } = belief.lessons.all;
  if (taught === 0) {
    const word = readings === 0 ? 'default, not calibrated' : 'still default: no reading has moved them';
    return `The factors are ${word}`;
  }
  const rest = belief.lessons.taughtOf('carry') > 0 ? '' : '; carry-over is still default';
  return `The factors are calibrated by ${count(taught, 'reading')}${rest}`;
}
