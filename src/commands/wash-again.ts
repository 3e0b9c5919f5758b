/** `wash --again`: the last wash once more. */
import type { WashEvent } from '../ledger/event.ts';
import { HABIT_KEYS } from '../outlook/usual-wash.ts';
import type { Line } from '../render/echo.ts';
import { readableWithDay } from './clock.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { type Sized, washBody } from './wash-body.ts';
import type { Bench, Body } from './write.ts';

const LOAD = ['parts', 'volume_ml', 'area_cm2', 'hollow'] as const;

/**
 * The last wash with what was typed in the place of its own: its load unless one was named, and its habits. Cases, lot, note, initials and
 * what was measured are not repeated.
 *
 * @throws Fault, usage, where there is none to repeat
 */
export function repeated(
  args: readonly string[],
  options: Options,
  { settled, shop, way, clockMs }: Bench,
  meshes?: Sized,
): { body: Body; of: WashEvent } {
  const { entries } = way.settled(settled, clockMs)!;
  const of = entries.findLast(({ event }) => event.what === 'wash')?.event as WashEvent | undefined;
  if (!of)
    throw usage('Cannot repeat a wash, the ledger has none yet', 'name the parts: bathbook wash 6 model');
  if (of.estimated) {
    throw usage(
      `Cannot repeat the last wash, ${of.id} was logged from memory`,
      'name the parts: bathbook wash 6 model',
    );
  }
  const namesLoad = args.length > 0 || options.volume !== undefined || options.area !== undefined;
  const load = meshes ?? (namesLoad ? undefined : { size: () => picked(of, LOAD) });
  const habits: Record<string, unknown> = picked(of, HABIT_KEYS);
  // Other baths have other soaks; the same ones need as many.
  if (options.in !== undefined) delete habits.minutes;
  const route = of.baths && options.in === undefined ? { in: of.baths.join(',') } : {};
  return { of, body: { ...habits, ...washBody(args, { ...options, ...route }, shop, load) } };
}

/** Which wash is repeated. */
export function againLine(of: WashEvent): Line {
  return ['again', `as ${of.id} of ${readableWithDay(Date.parse(of.at))}`];
}

function picked<Key extends keyof WashEvent>(wash: WashEvent, keys: readonly Key[]): Partial<WashEvent> {
  return Object.fromEntries(keys.filter((key) => wash[key] !== undefined).map((key) => [key, wash[key]]));
}
