/** The options of a hydrometer or refractometer reading, read or refused; used by `tables` and `strength`. */
import { SG_REFERENCES, type SgReference } from '../substance/hydrometer.ts';
import { type Reading, type Refusal, type Strength, strengthOf } from '../substance/strength.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault, usage } from './fault.ts';
import { quantity } from './values.ts';

const KINDS = ['density', 'sg', 'index', 'wt', 'vol'] as const;

/**
 * The one reading that the options give; null when there is none.
 *
 * @throws Fault, usage, when they give two, or a value that cannot be read
 */
export function readingOf(options: Options): Reading | null {
  const given = KINDS.filter((kind) => typeof options[kind] === 'string');
  const [kind, other] = given;
  if (other) throw usage(`Cannot look up --${kind} and --${other} together`, 'give one of them');
  if (!kind) return refuseLonely(options);
  const value = numberOf(options[kind] as string, kind);
  const reference = referenceOf(options, kind);
  const glassC = temperatureOf(options, 'glass');
  if (glassC !== undefined && kind !== 'density' && kind !== 'sg') {
    throw usage('Cannot use --glass without --density or --sg', 'a glass hydrometer reads one of those');
  }
  const tempC = temperatureOf(options, 'temp') ?? (reference ? SG_REFERENCES[reference].liquidC : 20);
  const lastDigit =
    kind === 'wt' || kind === 'vol' ? {} : { lastDigit: lastDigitOf(options[kind] as string) };
  return {
    kind,
    value,
    tempC,
    ...lastDigit,
    ...(reference && { reference }),
    ...(glassC !== undefined && { glassC }),
  };
}

/** What the last digit of a number as typed is worth: 0.01 of 0.79, 0.001 of 0.790. */
function lastDigitOf(typed: string): number {
  const decimals = /[.,](\d*)$/.exec(typed.trim())?.[1]?.length ?? 0;
  return 10 ** -decimals;
}

function refuseLonely(options: Options): null {
  for (const name of ['ref', 'glass']) {
    if (options[name] !== undefined) {
      throw usage(`Cannot use --${name} without a reading`, 'add --sg VALUE or --density VALUE');
    }
  }
  return null;
}

function referenceOf(options: Options, kind: Reading['kind']): SgReference | undefined {
  if (kind === 'sg') return (options.ref as SgReference | undefined) ?? '20/20';
  if (options.ref !== undefined) {
    throw usage('Cannot use --ref without --sg', 'it names the scale of a specific gravity');
  }
  return undefined;
}

/** The temperature of an option in °C. */
export function temperatureOf(options: Options, name: 'temp' | 'glass'): number | undefined {
  const text = options[name];
  if (typeof text !== 'string') return undefined;
  const tempC = quantity(text, 'temperature', `--${name}`);
  if (name === 'glass' && !(tempC >= 0 && tempC <= 40)) {
    throw usage(
      `Cannot use a glass made for ${round(tempC, 1)} °C`,
      'give the temperature printed on it, 0–40 °C',
    );
  }
  return tempC;
}

function numberOf(text: string, kind: Reading['kind']): number {
  const percent = kind === 'wt' || kind === 'vol' ? /\s*%$/ : undefined;
  return numberOption(text, kind, EXAMPLE[kind], percent);
}

/**
 * A plain number, with a point or a comma.
 *
 * @param unit - what may stand behind it
 * @throws Fault, usage
 */
export function numberOption(text: string, name: string, example: string, unit?: RegExp): number {
  const plain = unit ? text.trim().replace(unit, '') : text.trim();
  if (/^\d*[.,]?\d+$/.test(plain)) return Number(plain.replace(',', '.'));
  throw usage(`Cannot read "${text}" as a number (--${name})`, `write it like --${name} ${example}`);
}

const EXAMPLE: Record<Reading['kind'], string> = {
  density: '0.811',
  sg: '0.815',
  index: '1.3772',
  wt: '91',
  vol: '91',
};

/** The strength of a reading. @throws Fault, data, with the range there is */
export function strengthOrFault(reading: Reading): Strength {
  const found = strengthOf(reading);
  if (!('refused' in found)) return found;
  const [message, help] = sentence(found, reading);
  throw new Fault([{ code: 'outside-data', message, help, severity: 'error' }], EXIT.data);
}

function sentence({ refused, value, low, high }: Refusal, { kind, tempC }: Reading): [string, string] {
  const at = `at ${round(tempC, 1)} °C`;
  switch (refused) {
    case 'temperature':
      return [
        `Cannot work at ${round(value, 1)} °C, the data hold for ${low}–${high} °C`,
        'let the liquid come to room temperature, read again',
      ];
    case 'strength':
      return [
        `Cannot look up ${round(value, 2)} ${kind}%, the data hold for ${round(low, 1)}–${high} ${kind}%`,
        kind === 'vol' ? 'below 40 wt% ask by mass: --wt VALUE' : 'give 0–100 wt%',
      ];
    case 'density':
      return [
        `Cannot find a strength for ${round(value, 4)} g/mL ${at}, isopropanol with water has ${round(low, 4)}–${round(high, 4)} g/mL`,
        value > 100
          ? 'give it in g/mL, like 0.785'
          : 'check the reading, the temperature and the scale (--sg or --density)',
      ];
    case 'index':
      return [
        `Cannot find a strength for the index ${value} ${at}, isopropanol with water has ${round(low, 4)}–${round(high, 4)}`,
        'resin in the liquid reads higher; look at fresh solvent only',
      ];
    case 'no-table':
      return [
        `Cannot find a strength below 40 wt% ${at}, no published table covers it`,
        'below 40 wt% the tables begin at 20 °C: bring the liquid to 20 or 25 °C',
      ];
    default:
      return refused satisfies never;
  }
}

/** A number with at most `digits` decimals. */
export function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
