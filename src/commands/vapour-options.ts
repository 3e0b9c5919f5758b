/** The options of `vapour`, read or refused. */
import { didYouMean, near } from '../ledger/near.ts';
import type { Kind } from '../substance/units.ts';
import { MIXING, type Room } from '../vapour/room.ts';
import { type RoomParsed, readAir, readRoom } from '../vapour/room-units.ts';
import type { Options } from './definition.ts';
import { type Fault, usage } from './fault.ts';
import { numberIn } from './number-option.ts';
import { quantity } from './values.ts';

/** A small bench room, aired as offices are; common practice, no source. */
const USUAL = { volumeM3: 30, changes: 2 };

/** The room, and what of it was assumed. @throws Fault, usage */
export function roomOption(options: Options): { room: Room; assumed: string[] } {
  const volume = parsed(options, 'room', readRoom, {
    least: 3,
    most: 10_000,
    unit: 'm3',
    example: '"30 m3"',
  });
  const flow = parsed(options, 'air', readAir, {
    least: 1,
    most: 100_000,
    unit: 'm3/h',
    example: '"60 m3/h"',
  });
  const changes = numberIn(options, { flag: 'ach', least: 0.1, most: 100, example: '2' });
  if (flow !== undefined && changes !== undefined)
    throw usage('Cannot use --air and --ach together', 'give the fresh air one way or the other');
  const volumeM3 = volume ?? USUAL.volumeM3;
  const assumed = [
    ...(volume === undefined ? [`a room of ${USUAL.volumeM3} m³ (--room)`] : []),
    ...(flow === undefined && changes === undefined
      ? [`${USUAL.changes} air changes an hour (--ach, --air)`]
      : []),
  ];
  return { room: { volumeM3, airM3PerH: flow ?? (changes ?? USUAL.changes) * volumeM3 }, assumed };
}

interface Range {
  least: number;
  most: number;
  unit: string;
  example: string;
}

function parsed(
  options: Options,
  flag: string,
  read: (text: string) => RoomParsed,
  range: Range,
): number | undefined {
  const text = options[flag];
  if (typeof text !== 'string') return undefined;
  const found = read(text);
  if ('value' in found) return inRange(found.value, text, flag, range);
  const { message, help, unknownUnit } = found;
  const meant = unknownUnit && didYouMean(unknownUnit.name, unknownUnit.units);
  throw usage(`${message} (--${flag})`, meant ? `${meant} ${help}` : help);
}

/** A quantity of an option in its range. @throws Fault, usage */
export function quantityIn(options: Options, flag: string, kind: Kind, range: Range): number | undefined {
  const text = options[flag];
  if (typeof text !== 'string') return undefined;
  return inRange(quantity(text, kind, `--${flag}`), text, flag, range);
}

function inRange(value: number, text: string, flag: string, { least, most, unit, example }: Range): number {
  if (value >= least && value <= most) return value;
  throw usage(
    `Cannot use --${flag} "${text}", that is ${Number(value.toPrecision(3))} ${unit}`,
    `give ${least} to ${most} ${unit}, like --${flag} ${example}`,
  );
}

/** The best mixing to assume. @throws Fault, usage; perfect mixing is never assumed */
export function mixingOption(options: Options): number {
  const { worst, typical } = MIXING;
  const asked = numberIn(options, { flag: 'mixing', least: worst, most: typical, example: '0.5' });
  return asked ?? typical;
}

/** The limits to hold against: by its whole name, or by the last part of it. @throws Fault, usage, for one that is not known */
export function jurisdictionOption({ jurisdiction }: Options, known: readonly string[]): string | null {
  if (typeof jurisdiction !== 'string') return null;
  const typed = jurisdiction
    .trim()
    .toLowerCase()
    .replaceAll(/[\s_]+/g, '-');
  const found = known.find((key) => key === typed) ?? known.find((key) => key.endsWith(`-${typed}`));
  if (found) return found;
  throw unknownJurisdiction(jurisdiction, typed, known);
}

function unknownJurisdiction(text: string, typed: string, known: readonly string[]): Fault {
  const parts = known.flatMap((key) => key.split('-').slice(-1));
  const meant = near(typed, known) ?? known.find((key) => key.endsWith(near(typed, parts) ?? '?'));
  return usage(
    `Cannot find limits of "${text}" (--jurisdiction)`,
    `${meant ? `did you mean "${meant}"? ` : ''}there are ${known.join(', ')}; without it all are shown`,
  );
}
