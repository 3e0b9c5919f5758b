/** What was typed after `wash`, as the event it stands for. */
import type { Shop } from '../bath/shop.ts';
import { count } from '../render/format.ts';
import { parseQuantity } from '../substance/units.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { readLoad } from './load-words.ts';
import { known, quantity, quantityList, quantityOption, round, unknownName } from './values.ts';
import type { Body } from './write.ts';

/** A load whose size comes from elsewhere than the words after `wash`: from files, or another wash. */
export interface Sized {
  size(shop: Shop): object;
}

/** @throws Fault, usage, where a word or an option cannot be read */
export function washBody(args: readonly string[], options: Options, shop: Shop, sized?: Sized): Body {
  const baths = typeof options.in === 'string' ? bathsOf(options.in, shop) : undefined;
  const steps = baths?.length ?? shop.usualRoute.length;
  return {
    what: 'wash',
    ...(sized ? sized.size(shop) : sizeOf(args, options, shop)),
    ...(typeof options.resin === 'string' ? { resin: resinOf(options.resin, shop) } : {}),
    ...quantityOption(options, 'drained', 'duration', 'drained_min'),
    ...pick(options, ['prerinse', 'midrinse', 'agitation', 'lot']),
    ...listOption(options, 'minutes', 'duration', steps),
    ...(baths ? { baths } : {}),
    ...carryOption(options),
    ...listOption(options, 'drag', 'volume', steps),
    ...quantityOption(options, 'trapped', 'mass', 'trapped_g'),
    ...(Array.isArray(options.case) ? { cases: options.case } : {}),
    ...(options.hollow === true ? { hollow: true } : {}),
  };
}

/** Parts by name, or a volume or surface outright. */
function sizeOf(args: readonly string[], options: Options, shop: Shop): Record<string, unknown> {
  const outright = {
    ...quantityOption(options, 'volume', 'volume', 'volume_ml'),
    ...quantityOption(options, 'area', 'area', 'area_cm2'),
  };
  if (options.meshUnit !== undefined || options.asPart !== undefined) {
    throw usage('Cannot use --mesh-unit and --as-part without a file', 'name it: --mesh arch.stl');
  }
  if (args.length === 0) {
    if (Object.keys(outright).length > 0) return outright;
    throw usage(
      'Cannot log a wash without a load',
      'name the parts: bathbook wash 6 model 2 mask; or give --volume or --area',
    );
  }
  if (Object.keys(outright).length > 0) {
    throw usage(
      'Cannot take both named parts and --volume or --area',
      'leave one of them out; an amount with its unit goes in quotes, like --volume "30 mL"',
    );
  }
  const load = readLoad(args, shop.parts);
  if ('parts' in load) return load;
  if ('partMissing' in load) {
    throw usage(
      `Cannot read the load "${args.join(' ')}", no part comes with "${load.partMissing}"`,
      `name it: 6 model 2 mask; parts are ${[...shop.parts.keys()].join(', ')}`,
    );
  }
  if ('wrongCount' in load) {
    throw usage(
      `Cannot read the load "${args.join(' ')}", "${load.wrongCount}" is no count of parts`,
      'write whole numbers from 1 to 1000, each before its part: 6 model 2 mask',
    );
  }
  throw unknownName(load.unknown, 'part', shop.parts, load.corrected.join(' '));
}

function resinOf(name: string, shop: Shop): string {
  return known(name, 'resin', shop.resinPlace);
}

function bathsOf(text: string, shop: Shop): string[] {
  return text
    .split(/[\s,]+/)
    .filter(Boolean)
    .map((name) => known(name, 'bath', shop.tubPlace));
}

function pick(options: Options, names: string[]): Record<string, unknown> {
  return Object.fromEntries(
    names.filter((name) => options[name] !== undefined).map((name) => [name, options[name]]),
  );
}

function listOption(
  options: Options,
  option: 'minutes' | 'drag',
  kind: 'duration' | 'volume',
  steps: number,
) {
  const text = options[option];
  if (typeof text !== 'string') return {};
  const values = quantityList(text, kind, `--${option}`);
  if (values.length !== steps) {
    throw usage(
      `Cannot use --${option} ${text}, the load goes through ${count(steps, 'bath')} and ${count(values.length, 'value is', 'values are')} given`,
      `write one value a bath, like --${option} ${Array(steps).fill(5).join(',')}; decimals with a point`,
    );
  }
  return option === 'minutes' ? { minutes: values } : { drag_ml: values };
}

/** Grams, or millilitres when the unit says so. */
function carryOption(options: Options): { carry_g?: number; carry_ml?: number } {
  const text = options.carry;
  if (typeof text !== 'string') return {};
  const isVolume = /[a-z]\s*$/i.test(text) && 'value' in parseQuantity(text, 'volume');
  return isVolume
    ? { carry_ml: round(quantity(text, 'volume', '--carry')) }
    : { carry_g: round(quantity(text, 'mass', '--carry')) };
}
