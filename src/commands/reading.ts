import { brimOf } from '../bath/shop.ts';
import type { ReadingEvent } from '../ledger/event.ts';
import { trim } from '../render/format.ts';
import { needsTemperature, readingWords } from '../render/reading.ts';
import { learnedFrom } from './compared.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { bathOf } from './move.ts';
import {
  INSTRUMENTS,
  type Instrument,
  refuseBeyondBrim,
  sdOption,
  temperatureOption,
} from './reading-values.ts';
import { reportBack } from './report-back.ts';
import { type Bench, type Body, type Logged, writeEvents } from './write.ts';

/** `reading`: log what instruments read of one sample of a bath, an entry for each. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  const build = (bench: Bench): Body[] => bodies(args, options, bench);
  const logged = await writeEvents(context, options, build, { before: true, short: true });
  const learned = learnedFrom(logged);
  const readings = logged.written.map(({ event }) => event as ReadingEvent);
  const words = readings.map((event) => readingWords(event, logged.shop.roomC));
  reportBack(context, logged, {
    understood: `${readings[0]!.bath}: ${words.join('; ')}`,
    above: learned.lines,
    warnings: [...atRoomTemperature(readings, logged), ...learned.warnings, ...besideReclaimed(logged)],
    data: { readings: readingDocuments(logged), compared: learned.documents },
  });
  return 0;
}

/** Of a reading that is hard to believe, where solvent was reclaimed. */
function besideReclaimed({ status, event, shop, reclaimed }: Logged): string[] {
  const { bath } = event as ReadingEvent;
  const isDoubted = status.estimates[shop.tubPlace.get(bath)!]!.doubted !== undefined;
  return isDoubted && reclaimed().size > 0
    ? [
        'Reclaimed solvent brings residue that the ledger does not count: if this bath holds some, a reading above the estimate may be just that',
      ]
    : [];
}

function bodies([name = '']: string[], options: Options, { shop, file }: Bench): Body[] {
  const bath = bathOf(name, shop);
  const brimMl = brimOf(shop.tubs[shop.tubPlace.get(bath)!]!);
  const given = instrumentsOf(options);
  const tempC = temperatureOption(options, 'temp_c');
  const glassC = temperatureOption(options, 't_ref_c');
  return given.map((instrument) => {
    const values = instrument.read(options);
    refuseBeyondBrim(values, bath, brimMl);
    if (tempC === undefined && file.header!.shop.room_c === undefined)
      refuseUnknownTemperature(values, instrument);
    return {
      what: 'reading',
      bath,
      ...values,
      ...(tempC !== undefined && instrument.usesTemp ? { temp_c: tempC } : {}),
      ...(glassC !== undefined && instrument.usesGlass ? { t_ref_c: glassC } : {}),
      ...(typeof options.sd === 'string' ? { sd: sdOption(options.sd, instrument) } : {}),
    };
  });
}

/** The instruments that the options name. @throws Fault, usage, when there is none, or an option has nothing to go with */
function instrumentsOf(options: Options): Instrument[] {
  const has = (option: string) => options[option] !== undefined;
  if (has('sample') && !has('dry')) {
    throw usage('Cannot use --sample without --dry', 'add the dry weight, like --dry "81 mg"');
  }
  if (has('dry') && !has('sample')) {
    throw usage('Cannot use --dry without --sample', 'add the volume that was dried, like --sample "10 mL"');
  }
  const given = INSTRUMENTS.filter(({ option }) => has(option));
  if (given.length === 0) {
    throw usage(
      'Cannot log a reading without a value',
      'add --density, --sg, --brix, --index, --dry with --sample, --resin, --level or --weight',
    );
  }
  refuseLonely(options, given);
  return given;
}

function refuseLonely(options: Options, given: readonly Instrument[]): void {
  const names = given.map(({ option }) => `--${option}`).join(' and ');
  if (options.ref !== undefined && options.sg === undefined) {
    throw usage('Cannot use --ref without --sg', 'it names the scale of a specific gravity');
  }
  if (options.glass !== undefined && !given.some(({ usesGlass }) => usesGlass)) {
    throw usage('Cannot use --glass without --density or --sg', 'a glass hydrometer reads one of those');
  }
  if (options.temp !== undefined && !given.some(({ usesTemp }) => usesTemp)) {
    throw usage(`Cannot use --temp with ${names} alone`, 'leave it out, the reading does not depend on it');
  }
  if (options.sd !== undefined && given.length > 1) {
    throw usage(`Cannot use --sd with ${names}`, 'log each instrument with its own --sd, at the same --at');
  }
}

/** A guess at the temperature would pass for a measurement. @throws Fault, usage */
function refuseUnknownTemperature(values: Partial<ReadingEvent>, { option }: Instrument): void {
  if (!needsTemperature(values)) return;
  throw usage(
    `Cannot log --${option} without the temperature of the liquid, the ledger does not give that of the room`,
    'add it, like --temp 21 or --temp "70 F"; or write room_c: 21 under "shop:" in the head of the ledger',
  );
}

/**
 * What a liquid 5 °C warmer reads less: ρ falls by 0.00083 g/mL a degree (DAOUDI2012), n_D by 0.00044 (CHU1962), and
 * 0.0017 of n_D are one °Brix (ICUMSA1974).
 */
const FIVE_DEGREES = {
  density_g_ml: '0.004 g/mL',
  sg: '0.004',
  brix: '1.3 °Brix',
  refractive_index: '0.002',
};

function atRoomTemperature(readings: readonly ReadingEvent[], { shop }: Logged): string[] {
  const open = readings.filter((event) => needsTemperature(event) && event.temp_c === undefined);
  if (open.length === 0) return [];
  const keys = Object.keys(FIVE_DEGREES) as (keyof typeof FIVE_DEGREES)[];
  const less = keys.filter((key) => open.some((event) => event[key] !== undefined));
  return [
    `No --temp: taken at the room's ${trim(shop.roomC, 1)} °C; 5 °C warmer reads ${less.map((key) => FIVE_DEGREES[key]).join(' and ')} less`,
  ];
}

function readingDocuments({ written, shop }: Logged): Record<string, unknown>[] {
  return written.map(({ event, line }) => {
    const reading = event as ReadingEvent;
    const atRoom = reading.temp_c === undefined && needsTemperature(reading);
    return {
      event,
      line,
      temp_c: reading.temp_c ?? (atRoom ? shop.roomC : null),
      temp_from: atRoom ? 'room' : reading.temp_c === undefined ? 'none' : 'given',
      undo: `bathbook undo ${event.id}`,
    };
  });
}
