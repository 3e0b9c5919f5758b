/**
 * What the readings have taught, and what to measure next.
 */
import type { FactorKnown } from '../outlook/factors-known.ts';
import { TOOL_OF } from '../outlook/measurements.ts';
import type { Telling } from '../outlook/most-telling.ts';
import { banded } from './format.ts';
import { MEASUREMENT_WORDS, type Recipe } from './recipes.ts';
import type { Table } from './table.ts';
import { wrap } from './wrap.ts';

/** Each factor before any reading and now, and by how many readings. */
export function factorsTable(factors: readonly FactorKnown[]): Table {
  return {
    head: ['factor', 'at first', 'now', 'by'],
    rows: factors.map(({ name, prior, now, readings }) => [
      name,
      banded(prior),
      readings === 0 ? 'the same' : banded(now),
      readings === 0 ? '-' : String(readings),
    ]),
  };
}

/** What each measurement would leave of the band, the most telling first. */
export function measurementsTable(told: readonly Telling[]): Table {
  return {
    head: ['measurement', 'bath', 'with', 'narrower'],
    rows: told.map(({ measurement: { kind, bath = '' }, bandLeft }) => [
      MEASUREMENT_WORDS[kind],
      bath,
      TOOL_WORDS[TOOL_OF[kind]],
      narrower(bandLeft),
    ]),
    right: [3],
  };
}

const TOOL_WORDS = {
  balance: 'balance',
  refractometer: 'refractometer',
  hydrometer: 'hydrometer',
  measure: 'measure',
} as const;

/** Per cent; below one per cent it is nothing. */
function narrower(bandLeft: number): string {
  const share = Math.round(100 * (1 - bandLeft));
  return share < 1 ? '-' : `${share} %`;
}

const INDENT = '   ';

/** A recipe as a numbered list, its cautions below. */
export function recipeText(recipe: Recipe, width: number): string {
  const { title, needs, steps, cautions } = recipe;
  const room = width - INDENT.length;
  return [
    `${title}.`,
    wrap(`Needs ${needs}.`, width),
    ...steps.map((step, nth) => wrap(`${nth + 1}. ${step}`, room, INDENT)),
    wrap(`Caution: ${cautions.join('. ')}.`, room, INDENT),
  ].join('\n');
}
