/** The answers that make a ledger: from options, from questions on a terminal, else usual values. */
import { near } from '../ledger/near.ts';
import type { Problem } from '../ledger/problem.ts';
import type { NewLedger } from '../render/new-ledger.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { Fault, usage } from './fault.ts';
import { quantity } from './values.ts';

interface Question {
  /** The option that answers it. */
  option: string;
  flag: string;
  ask: string;
  /** Told above the question: what the answer does. */
  about?: string;
  preset: () => string;
  read: (text: string) => Partial<NewLedger>;
  /** What somebody who typed this most likely meant, to be taken with Enter. */
  meant?: (text: string) => string | undefined;
}

export const QUESTIONS: readonly Question[] = [
  {
    option: 'name',
    flag: '--name',
    ask: 'Name of the shop',
    preset: () => 'Wash bench',
    read: (text) => ({ name: text }),
  },
  {
    option: 'timezone',
    flag: '--timezone',
    ask: 'Time zone',
    about: 'Times are typed and shown in the time zone of the shop.',
    preset: () => new Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC',
    read: (text) => ({ timezone: zone(text) }),
    meant: zoneMeant,
  },
  {
    option: 'use',
    flag: '--use',
    ask: 'Parts are models or body-contact',
    about: 'Parts that touch a patient set lower limits for the last bath.',
    preset: () => 'models',
    read: (text) => ({ partsUse: choice(text, ['models', 'body-contact'], '--use') }),
  },
  {
    option: 'baths',
    flag: '--baths',
    ask: 'Baths: 1, 2 or 3',
    about: 'A load goes through its baths in turn; usual are two, a dirty and a clean one.',
    preset: () => '2',
    read: (text) => ({ baths: NAMES[choice(text, ['1', '2', '3'], '--baths')]! }),
  },
  {
    option: 'mark',
    flag: '--mark',
    ask: 'Volume of each bath at its mark',
    about: 'A mark on the tub is what "to mark" fills up to.',
    preset: () => '4 L',
    read: (text) => ({ markMl: within(quantity(text, 'volume', '--mark'), '--mark', 100, 200_000, 'mL') }),
  },
  {
    option: 'tub',
    flag: '--tub',
    ask: 'Tub in mm',
    about:
      'A tub inside: length x width x height from the mark up to the rim. The open surface sets the evaporation.',
    preset: () => '260x180x50',
    read: tub,
  },
  {
    option: 'lidOpen',
    flag: '--lid-open',
    ask: 'Hours a day the lids are off',
    about: 'Solvent evaporates while the lids are off.',
    preset: () => '1',
    read: (text) => ({ lidOpenH: number(text.replace(/\s*h$/, ''), '--lid-open', 0, 24, 'hours a day') }),
  },
  {
    option: 'room',
    flag: '--room',
    ask: 'Room temperature, °C or like "72 F"',
    about: 'Warm rooms thin the film of resin on prints, and dry the baths faster.',
    preset: () => '22',
    read: (text) => ({ roomC: within(quantity(text, 'temperature', '--room'), '--room', 10, 40, '°C') }),
  },
  {
    option: 'humidity',
    flag: '--humidity',
    ask: 'Relative humidity of the room, %',
    about: 'Solvent takes up water from humid air.',
    preset: () => '50',
    read: (text) => ({ humidityPct: number(text.replace(/\s*%$/, ''), '--humidity', 0, 100, '%') }),
  },
  {
    option: 'currency',
    flag: '--currency',
    ask: 'Currency of your prices, like CAD; empty for none',
    about: 'With prices of solvents, reports tell what a wash costs.',
    preset: () => '',
    read: (text) => ({ currency: currency(text) }),
  },
];

/** Of the last bath the limits are those of a clean one: what it holds stays on the parts. */
const NAMES: Readonly<Record<string, readonly string[]>> = {
  1: ['single'],
  2: ['dirty', 'clean'],
  3: ['first', 'second', 'third'],
};

export interface Answers {
  given: NewLedger;
  /** Options whose usual value was taken without a word from anyone. */
  assumed: string[];
}

/**
 * @param path - of the ledger to be, told before the first question
 * @throws Fault, usage, when an option cannot be read; a wrong answer to a question is asked again
 */
export async function answersOf(options: Options, context: Context, path: string): Promise<Answers> {
  const given: Partial<NewLedger> = {};
  const assumed: string[] = [];
  const asking = context.canAsk && QUESTIONS.every(({ option }) => options[option] === undefined);
  if (asking)
    context.note(
      `This makes ${path}\n${QUESTIONS.length} questions. Enter takes the answer in brackets, Ctrl-C leaves and makes nothing; all of it can be changed in the file later.`,
    );
  for (const question of QUESTIONS) {
    const typed = options[question.option];
    if (asking) Object.assign(given, await answer(question, context));
    else {
      if (typed === undefined) assumed.push(question.flag);
      Object.assign(given, question.read(typeof typed === 'string' ? typed.trim() : question.preset()));
    }
  }
  return { given: given as NewLedger, assumed };
}

async function answer(question: Question, context: Context): Promise<Partial<NewLedger>> {
  let preset = question.preset();
  context.note(`\n${question.about ?? ''}`.trimEnd());
  for (;;) {
    const text = await context.ask(`${question.ask}${preset ? ` [${preset}]` : ''}: `, preset);
    try {
      return question.read(text);
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      await context.tell(error.problems.map(withoutFlag));
      preset = question.meant?.(text) ?? preset;
    }
  }
}

/** The option is for the command line. */
function withoutFlag(problem: Problem): Problem {
  const { help } = problem;
  return help === undefined ? problem : { ...problem, help: help.replace(/ \(--[\w-]+\)$/, '') };
}

function zone(text: string): string {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone && text;
  } catch {
    throw usage(`Cannot use the time zone "${text}", this computer does not know it`, zoneHelp(text));
  }
}

/** By the name of the place, or one that is near. */
function zoneMeant(text: string): string | undefined {
  const place = text.trim().toLowerCase().replaceAll(' ', '_');
  const zones = Intl.supportedValuesOf('timeZone');
  return zones.find((name) => name.toLowerCase().endsWith(`/${place}`)) ?? near(text, zones);
}

function zoneHelp(text: string): string {
  const meant = zoneMeant(text);
  return meant
    ? `did you mean ${meant}? (--timezone)`
    : 'give a name like America/Halifax or Europe/Lisbon (--timezone)';
}

/** Metric units are as good as millimetres. */
const MM = { mm: 1, cm: 10, m: 1000 };

function tub(text: string): Partial<NewLedger> {
  const found = /^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*(mm|cm|m)?$/i.exec(
    text.trim(),
  );
  if (!found)
    throw usage(
      `Cannot read "${text}" as the size of a tub`,
      'write length x width x height from the mark to the rim, like 260x180x50 mm or 26 x 18 x 5 cm (--tub)',
    );
  const unit = MM[(found[4]?.toLowerCase() ?? 'mm') as keyof typeof MM];
  const [lengthMm, widthMm, freeboardMm] = found.slice(1, 4).map((one) => unit * Number(one)) as [
    number,
    number,
    number,
  ];
  return {
    lengthMm: within(lengthMm, '--tub', 10, 10_000, 'mm'),
    widthMm: within(widthMm, '--tub', 10, 10_000, 'mm'),
    freeboardMm: within(freeboardMm, '--tub', 0, 10_000, 'mm'),
  };
}

function currency(text: string): string {
  if (text === '' || /^[A-Za-z]{3}$/.test(text)) return text.toUpperCase();
  throw usage(`Cannot use the currency "${text}"`, 'give three letters, like CAD (--currency)');
}

function choice(text: string, choices: readonly string[], flag: string): string {
  const plain = text.toLowerCase();
  if (choices.includes(plain)) return plain;
  throw usage(`Cannot use "${text}"`, `give one of ${choices.join(', ')} (${flag})`);
}

function number(text: string, flag: string, min: number, max: number, unit: string): number {
  if (!/^\d+(?:\.\d+)?$/.test(text.trim()))
    throw usage(`Cannot read "${text}" as a number`, `give ${min} to ${max} ${unit} (${flag})`);
  return within(Number(text), flag, min, max, unit);
}

function within(value: number, flag: string, min: number, max: number, unit: string): number {
  const rounded = Number(value.toFixed(1));
  if (rounded >= min && rounded <= max) return rounded;
  throw usage(`Cannot use ${rounded} ${unit}`, `give ${min} to ${max} ${unit} (${flag})`);
}
