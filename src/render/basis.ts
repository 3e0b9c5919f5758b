/**
 * What the estimates of a shop rest on, in a sentence.
 */
import type { Status } from '../outlook/status.ts';
import { count } from './format.ts';

/** The same, with what to do about it. */
export function basisHint(status: Pick<Status, 'belief'>): string {
  const { compared } = status.belief;
  const hint = compared.some(({ taught }) => taught.length > 0)
    ? ''
    : '; bathbook calibrate says what to measure';
  return `${basisText(status)}${hint}`;
}

/** How many readings shaped the factors, or that none did and what that means. */
export function basisText({ belief }: Pick<Status, 'belief'>): string {
  const { compared } = belief;
  const taught = compared.filter((one) => one.taught.length > 0);
  if (taught.length === 0) {
    const word =
      compared.length === 0 ? 'default, not calibrated' : 'still default: no reading has moved them';
    return `The factors are ${word}`;
  }
  const carry = taught.some((one) => one.taught.some(({ name }) => name === 'carry'));
  const rest = carry ? '' : '; carry-over is still default';
  return `The factors are calibrated by ${count(taught.length, 'reading')}${rest}`;
}
