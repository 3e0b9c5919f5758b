/**
 * Running text in which a line never ends within a date, a time, a short code or a band.
 */
import { type Child, element } from './markup.ts';

/** Fri 2026-11-20 17:30, 26-0117, can-1, (1.29–2.10). */
const TOGETHER =
  /((?:\b[A-Z][a-z]{2} )?\d{4}-\d\d-\d\d(?: \d\d:\d\d)?|\b[\w]{1,6}-\d{1,6}\b|\([\d.]+–[\d.]+\))/;

export function worded(text: string): Child {
  return text
    .split(TOGETHER)
    .map((part, place): Child => (place % 2 === 1 ? element('span', { class: 'together' }, part) : part));
}
