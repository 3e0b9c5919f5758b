/** The tubs that `vapour` is about: those of the ledger as they stand, or as typed. */
import { bathVolume } from '../bath/state.ts';
import { PRIOR_SD } from '../belief/factors.ts';
import { Z95 } from '../belief/quantile.ts';
import { factorBand } from '../outlook/factors-band.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import type { OpenTub } from '../vapour/emission.ts';
import { ipaActivity } from '../vapour/surface.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault, usage } from './fault.ts';
import { numberIn } from './number-option.ts';
import { tellRefused, tellUncounted } from './tell.ts';
import { quantityIn } from './vapour-options.ts';

export interface Bench {
  tubs: OpenTub[];
  tempC: number;
  /** Baths without solvent. */
  leftOut: string[];
  /** How sure the factors are, in words. */
  factors: string;
  /** What was not given. */
  assumed: string[];
  clockMs: number;
}

const UNCALIBRATED = 'default factor, not calibrated';

const reach = Math.exp(PRIOR_SD.evaporation * Z95);
/** Before any reading. */
const UNKNOWN_FACTOR = { p05: 1 / reach, p50: 1, p95: reach };

/** @throws Fault, usage, for options that do not go together; data, when no bath holds solvent */
export function benchOf(options: Options, context: Context): Promise<Bench> {
  const tempC = quantityIn(options, 'temp', 'temperature', {
    least: 10,
    most: 40,
    unit: '°C',
    example: '22C',
  });
  return options.surface === undefined
    ? ledgerBench(options, context, tempC)
    : typedBench(options, context, tempC);
}

/** Tubs as typed, of pure IPA. */
async function typedBench(options: Options, context: Context, tempC: number | undefined): Promise<Bench> {
  if (options.ledger !== undefined)
    throw usage('Cannot use --surface and --ledger together', 'the tubs come from one or the other');
  const cm2 = quantityIn(options, 'surface', 'area', {
    least: 5,
    most: 20_000,
    unit: 'cm2',
    example: '"252 cm2"',
  })!;
  const freeboard = quantityIn(options, 'freeboard', 'length', {
    least: 0,
    most: 1000,
    unit: 'mm',
    example: '"5 cm"',
  });
  const count = numberIn(options, { flag: 'tubs', least: 1, most: 20, whole: true, example: '2' }) ?? 1;
  const tub = {
    surfaceM2: cm2 / 1e4,
    lengthM: Math.sqrt(cm2 / 1e4),
    freeboardM: (freeboard ?? 50) / 1000,
    activity: 1,
    factor: UNKNOWN_FACTOR,
  };
  return {
    tubs: Array.from({ length: count }, (_, place) => ({
      ...tub,
      name: count === 1 ? 'tub' : `tub ${place + 1}`,
    })),
    tempC: tempC ?? 22,
    leftOut: [],
    factors: UNCALIBRATED,
    assumed: [
      'pure IPA',
      ...(freeboard === undefined ? ['5 cm from the liquid to the rim (--freeboard)'] : []),
      ...(tempC === undefined ? ['22 °C (--temp)'] : []),
    ],
    clockMs: await context.clockMs(),
  };
}

/** The baths of the ledger as they stand at the clock. */
async function ledgerBench(options: Options, context: Context, tempC: number | undefined): Promise<Bench> {
  for (const flag of ['freeboard', 'tubs'])
    if (options[flag] !== undefined)
      throw usage(
        `Cannot use --${flag} without --surface`,
        'the ledger knows its tubs; for others add --surface "252 cm2"',
      );
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const status = statusOf(shop, settled.entries, clockMs);
  await tellRefused(context, opened, status.replayed.refused);
  tellUncounted(context, settled);
  const tubs = shop.tubs.flatMap((_, place) => tubOf(opened, status, place));
  if (tubs.length === 0) throw allEmpty();
  const names = new Set(tubs.map(({ name }) => name));
  return {
    tubs,
    tempC: tempC ?? shop.roomC,
    leftOut: shop.tubs.map(({ name }) => name).filter((name) => !names.has(name)),
    factors: factorsText(status),
    assumed: [],
    clockMs,
  };
}

/** Nothing for a bath that gives off no isopropanol. A factor of 0 switches the bookkeeping off, not the vapour: 1 stands in for it. */
function tubOf({ shop, file }: Opened, status: Status, place: number): OpenTub[] {
  const bath = status.replayed.baths[place]!;
  if (!(bath.ipaG > 0)) return [];
  const tub = shop.tubs[place]!;
  const { length_mm, width_mm } = file.header!.baths[tub.name]!;
  const volumeMl = bathVolume(bath, shop.resins);
  const {
    p50,
    p05 = p50,
    p95 = p50,
  } = factorBand(status.factors, status.belief, { name: 'evaporation', tub: place });
  return [
    {
      name: tub.name,
      surfaceM2: tub.surfaceM2,
      lengthM: Math.max(length_mm, width_mm) / 1000,
      freeboardM: Math.max(0, tub.freeboardM + (tub.markMl - volumeMl) / 1e6 / tub.surfaceM2),
      activity: ipaActivity(bath),
      factor: p50 > 0 ? { p05, p50, p95 } : UNKNOWN_FACTOR,
    },
  ];
}

function factorsText({ belief, shop }: Status): string {
  if (shop.tubs.some(({ evaporation }) => evaporation === 0))
    return 'evaporation is switched off in the ledger, and the default factor counts here';
  return belief.lessons.taughtOf('evaporation') > 0 ? 'factors as readings have taught them' : UNCALIBRATED;
}

function allEmpty(): Fault {
  const message = 'Cannot estimate vapour, no bath of the ledger holds solvent';
  const help = 'log a fill; or for a tub without a ledger: bathbook vapour --surface "252 cm2" --temp 22C';
  return new Fault([{ code: 'bath-empty', message, help, severity: 'error' }], EXIT.data);
}
