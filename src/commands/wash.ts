import { loadOf, soakMinutes } from '../bath/load.ts';
import { brimOf, type Shop } from '../bath/shop.ts';
import { type Bath, bathVolume } from '../bath/state.ts';
import type { WashEvent } from '../ledger/event.ts';
import { best } from '../outlook/quantity.ts';
import { count, minutes, volume } from '../render/format.ts';
import { carryLine, casesWords, dryingLine, leftLine, washWords } from '../render/wash.ts';
import { parseQuantity } from '../substance/units.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { readLoad } from './load-words.ts';
import { reportBack } from './report-back.ts';
import { known, quantity, quantityList, quantityOption, round, unknownName } from './values.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** `wash`: log a load that went through the baths. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  const build = (bench: Bench): Body => washBody(args, options, bench);
  const logged = await writeEvent(context, options, build, { before: options.at !== undefined, short: true });
  const wash = logged.event as WashEvent;
  const outcome = logged.step!.wash!;
  const last = logged.status.lastWash!;
  const isLast = last.id === wash.id;
  const carryG = isLast ? last.carryG : best(outcome.carryG);
  const cases = casesWords(wash);
  reportBack(context, logged, {
    understood: washWords(wash, logged.shop) + (cases ? `; ${cases}` : ''),
    above: [carryLine(wash, carryG, logged.status)],
    below: [...leftLine(logged.status), dryingLine(wash, logged.shop)],
    warnings: warningsOf(wash, logged),
    data: {
      carry_g: carryG,
      drag_ml: outcome.dragMl,
      residue_ug_per_cm2: isLast ? last.residueUgPerCm2 : best(outcome.residueUgPerCm2),
      area_cm2: outcome.areaCm2,
    },
  });
  return 0;
}

function washBody(args: readonly string[], options: Options, { shop }: Bench): Body {
  const baths = typeof options.in === 'string' ? bathsOf(options.in, shop) : undefined;
  const steps = baths?.length ?? shop.usualRoute.length;
  return {
    what: 'wash',
    ...sizeOf(args, options, shop),
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
  throw unknownName(load.unknown, 'part', shop.parts, `bathbook wash ${load.corrected.join(' ')}`);
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
      `write one value a bath, like --${option} ${Array(steps).fill(5).join(',')}`,
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

/** A soak in all beyond this marks parts as washed too long. Common practice and papers, data/SOURCES.md. */
const LONG_SOAK_MIN = 15;
/** Thin parts and masks soften in a long soak; common practice, no source. */
const LONG_THIN_SOAK_MIN = 10;

function warningsOf(wash: WashEvent, logged: Logged): string[] {
  const { shop, step } = logged;
  const soak = soakMinutes(wash, shop).reduce((sum, value) => sum + value, 0);
  const thin = Object.keys(wash.parts ?? {}).filter((name) => shop.parts.get(name)!.thin);
  return [
    ...sameAgain(logged),
    ...unusualRoute(wash, shop),
    ...unwashed(wash, shop),
    ...overflowing(wash, step!.before, shop),
    ...(soak > LONG_SOAK_MIN
      ? [
          `${minutes(soak)} of soak in all is long; beyond ${LONG_SOAK_MIN} min parts may lose strength or whiten`,
        ]
      : []),
    ...(thin.length > 0 && soak > LONG_THIN_SOAK_MIN
      ? [
          `${thin.join(', ')}: thin parts soften in a soak of ${minutes(soak)}; keep them under ${LONG_THIN_SOAK_MIN} min`,
        ]
      : []),
  ];
}

/** Two people, or one in a hurry, log one load twice. */
const MOMENT_MS = 5 * 60_000;

function sameAgain({ event, status }: Logged): string[] {
  const load = ({ id: _, at: __, by: ___, note: ____, logged: _____, ...rest }: Record<string, unknown>) =>
    JSON.stringify(rest);
  const twin = status.replayed.recent.find(
    ({ entry }) =>
      entry.event.id !== event.id &&
      Math.abs(entry.atMs - Date.parse(event.at)) < MOMENT_MS &&
      load({ ...entry.event }) === load({ ...event }),
  );
  return twin
    ? [`The same load was logged as ${twin.entry.event.id} a moment ago; if it is one load: bathbook undo`]
    : [];
}

function unwashed(wash: WashEvent, shop: Shop): string[] {
  const given = wash.carry_g ?? wash.carry_ml;
  return [
    ...(soakMinutes(wash, shop).includes(0) ? ['A soak of 0 min dissolves nothing'] : []),
    ...(given !== undefined && wash.trapped_g !== undefined
      ? ['A measured carry-over stands for all that came in; the trapped resin is not added to it']
      : []),
  ];
}

function unusualRoute({ baths }: WashEvent, shop: Shop): string[] {
  if (!baths || !shop.tubPlace.has('dirty') || !shop.tubPlace.has('clean')) return [];
  if (baths.at(-1) === 'dirty' && baths.includes('clean')) return ['The dirty bath is the last of this wash'];
  return baths[0] === 'clean' ? ['The load went into the clean bath without the dirty one before it'] : [];
}

/** Baths whose brim the parts would reach, level before the wash. */
function overflowing(wash: WashEvent, before: readonly Bath[], shop: Shop): string[] {
  const load = loadOf(wash, shop);
  return load.baths.flatMap((place) => {
    const tub = shop.tubs[place]!;
    const brimMl = brimOf(tub);
    const raised = bathVolume(before[place]!, shop.resins) + load.volumeMl;
    if (!(raised > brimMl)) return [];
    return [
      `${volume(load.volumeMl)} of parts in the ${tub.name} bath would overflow its ${volume(brimMl)} by ${volume(raised - brimMl)}`,
    ];
  });
}
