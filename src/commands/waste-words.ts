/** What is typed after `waste opened`, `emptied` and `collected`, read or refused. */
import { didYouMean } from '../ledger/near.ts';
import type { Container } from '../records/waste.ts';
import { volume } from '../render/format.ts';
import { printable } from '../render/printable.ts';
import { readableDay } from './clock.ts';
import { type Fault, usage } from './fault.ts';
import { keptBefore } from './stock-after.ts';
import { quantity, round } from './values.ts';
import type { Bench, Body } from './write.ts';

interface Made {
  body: Body;
  warnings: string[];
}

/** The latest filling of a container; undefined when nothing is known of it. */
export function containerNamed(name: string, containers: readonly Container[]): Container | undefined {
  return containers.findLast(({ container }) => container === name);
}

/** A container that the ledger does not know, with the nearest or all that it does. */
export function unknownContainer(name: string, containers: readonly Container[], verb: string): Fault {
  const names = [...new Set(containers.flatMap(({ container }) => (container === null ? [] : [container])))];
  const all =
    names.length > 0
      ? `The containers are ${names.map(printable).join(', ')}`
      : 'None was used yet: bathbook waste opened can-1 10 L';
  return usage(
    `Cannot ${verb} "${name}", the ledger knows no waste container of that name`,
    didYouMean(name, names) ?? all,
  );
}

/** `can-2 10 L`: a name, and how much it takes. @throws Fault, usage */
export function openedBody([name, ...words]: readonly string[], bench: Bench): Made {
  if (name === undefined || words.length === 0)
    throw usage(
      `Cannot put a waste container in use without its ${name === undefined ? 'name' : 'size'}`,
      `write it like: bathbook waste opened ${name ?? 'can-2'} 10 L`,
    );
  const ml = amountOf(words, 'size');
  const before = containerNamed(name, keptBefore(bench).waste.containers);
  return {
    body: { what: 'waste', container: name, action: 'opened', capacity_l: round(ml / 1000) },
    warnings: [
      ...(ml < SMALLEST_ML ? [`${volume(ml)} is little for a container; a bare number is mL`] : []),
      ...(before?.closed === null
        ? [
            `${printable(name)} is in use already since ${readableDay(before.openedMs)}; what is in it stays, and so does its start date`,
          ]
        : []),
    ],
  };
}

/** Smaller is most often a slip of the unit, mL. */
const SMALLEST_ML = 250;

/** `can-1`, or `can-1 3 L` where some stays in it. @throws Fault, usage */
export function takenBody(
  action: 'emptied' | 'collected',
  [name, ...words]: readonly string[],
  bench: Bench,
): Made {
  if (name === undefined)
    throw usage(
      `Cannot log that waste was ${action} without the container`,
      `name it, like: bathbook waste ${action} can-1`,
    );
  const { containers } = keptBefore(bench).waste;
  const before = containerNamed(name, containers);
  if (!before) throw unknownContainer(name, containers, `log as ${action}`);
  const ml = words.length === 0 ? undefined : amountOf(words, 'amount');
  return {
    body: { what: 'waste', container: name, action, ...(ml === undefined ? {} : { ml }) },
    warnings: takenWarnings(before, ml),
  };
}

function takenWarnings({ container, closed, heldMl }: Container, ml: number | undefined): string[] {
  const name = printable(container!);
  if (closed !== null) return [`${name} was ${closed} before, and nothing went in since`];
  if (heldMl === 0 && ml === undefined) return [`Nothing went into ${name} by the ledger`];
  return ml !== undefined && ml > 1.001 * heldMl
    ? [`${name} held ${volume(heldMl)} by the ledger; ${volume(ml - heldMl)} more was taken out`]
    : [];
}

function amountOf(words: readonly string[], name: string): number {
  const ml = round(quantity(words.join(' '), 'volume', name));
  if (ml > 0) return ml;
  throw usage(
    `Cannot take ${name === 'size' ? 'a size' : 'an amount'} of ${words.join(' ')}`,
    'give more than 0',
  );
}
