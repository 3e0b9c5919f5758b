import type { DrainEvent, LedgerEvent, ReadingEvent, StockEvent, TopUpEvent, WashEvent } from './event.ts';
import { explainTime } from './explain-time.ts';
import type { Finding } from './finding.ts';
import type { Known } from './names.ts';
import { checkAmend } from './rules-amend.ts';
import { checkReading } from './rules-reading.ts';
import { parseTime } from './time.ts';

/** The clocks of two people may differ by this much before an entry counts as logged ahead. */
const CLOCK_TOLERANCE_MS = 5 * 60_000;

const NONE: readonly Finding[] = [];

/** What one schema for each key cannot say: which keys go together, how long lists are, which time comes first. */
export function checkRules(event: LedgerEvent, known: Known | null): readonly Finding[] {
  const times = event.logged === undefined ? NONE : checkLogged(event.at, event.logged);
  const rest = checkKind(event, known);
  return times.length === 0 ? rest : [...times, ...rest];
}

function checkKind(event: LedgerEvent, known: Known | null): readonly Finding[] {
  switch (event.what) {
    case 'wash':
      return checkWash(event, known);
    case 'top-up':
      return checkTopUp(event);
    case 'drain':
      return exactlyOne(event, EXACTLY_ONE.drain, 'ml: 500, to: mark or all: true');
    case 'reading':
      return [
        ...exactlyOne(event, EXACTLY_ONE.reading, 'density_g_ml: 0.799'),
        ...checkReading(event, known),
      ];
    case 'stock':
      return exactlyOne(event, EXACTLY_ONE.stock, 'received_ml: 5000 or counted_ml: 12000');
    case 'weighed':
      return event.clean_g > event.wet_g ? [weighedBackwards(event.wet_g, event.clean_g)] : NONE;
    case 'inspect':
      return event.parts === undefined ? NONE : someParts(event.parts);
    case 'amend':
      return checkAmend(event);
    default:
      return NONE;
  }
}

/** Keys of an event of which exactly one must be there. */
export const EXACTLY_ONE = {
  'top-up': ['ml', 'to'],
  drain: ['ml', 'to', 'all'],
  reading: [
    'density_g_ml',
    'sg',
    'brix',
    'refractive_index',
    'residue',
    'resin_wt_pct',
    'level_ml',
    'weight_g',
  ],
  stock: ['received_ml', 'counted_ml'],
} as const satisfies Record<'top-up', readonly (keyof TopUpEvent)[]> & {
  drain: readonly (keyof DrainEvent)[];
  reading: readonly (keyof ReadingEvent)[];
  stock: readonly (keyof StockEvent)[];
};

function checkLogged(at: string, logged: string): readonly Finding[] {
  const loggedMs = parseTime(logged);
  if (Number.isNaN(loggedMs)) {
    return [{ ...explainTime('logged', logged), path: ['logged'] }];
  }
  // A time that cannot be read is told by itself.
  if (!(loggedMs < parseTime(at) - CLOCK_TOLERANCE_MS)) {
    return NONE;
  }
  return [
    {
      code: 'logged-before-at',
      message: `Cannot take logged: ${logged}, it comes before at: ${at}`,
      help: '"logged" is when the entry was typed and "at" when it happened; correct the one that is wrong',
      path: ['logged'],
    },
  ];
}

function checkWash(event: WashEvent, known: Known | null): readonly Finding[] {
  const { parts, volume_ml, area_cm2, minutes, drag_ml, baths } = event;
  const given = volume_ml ?? area_cm2;
  const wrong: Finding[] = [];
  if (parts === undefined && given === undefined) {
    wrong.push({
      code: 'not-one-of',
      message: 'Cannot read this wash without its load: none of "parts", "volume_ml" and "area_cm2" is given',
      help: 'Add the parts, like parts: {model: 6}, or an area, like area_cm2: 690',
      path: [],
    });
  }
  if (parts !== undefined) {
    wrong.push(...someParts(parts));
    if (given !== undefined) {
      wrong.push(
        notTogether(
          'parts',
          volume_ml !== undefined ? 'volume_ml' : 'area_cm2',
          'Keep the one that describes the load',
        ),
      );
    }
  }
  if (event.carry_g !== undefined && event.carry_ml !== undefined) {
    wrong.push(notTogether('carry_g', 'carry_ml', 'Keep the one that was measured'));
  }
  if (baths !== undefined) {
    wrong.push(...someBaths(baths));
  }
  const names = baths ?? known?.washBaths;
  if (names !== undefined && names.length > 0) {
    const way = { baths: names, named: baths !== undefined };
    wrong.push(...onePerBath('minutes', minutes, way), ...onePerBath('drag_ml', drag_ml, way));
  }
  return wrong.length === 0 ? NONE : wrong;
}

function someParts(parts: Record<string, number>): readonly Finding[] {
  for (const _ in parts) {
    return NONE;
  }
  return [
    {
      code: 'empty',
      message: 'Cannot take parts: {}, it names no part',
      help: 'Write how many of what, like parts: {model: 6}',
      path: ['parts'],
    },
  ];
}

function someBaths(baths: string[]): Finding[] {
  if (baths.length === 0) {
    return [
      {
        code: 'empty',
        message: 'Cannot take baths: [], it names no bath',
        help: 'Write the baths in order, like baths: [dirty, clean]',
        path: ['baths'],
      },
    ];
  }
  const twice = baths.findIndex((bath, place) => baths.indexOf(bath) < place);
  if (twice < 0) {
    return [];
  }
  const message = `Cannot wash in the bath "${baths[twice]}" twice in one wash`;
  return [
    { code: 'bath-twice', message, help: 'Log a second wash for the second soak', path: ['baths', twice] },
  ];
}

/** @param named - the wash names its baths itself */
function onePerBath(
  key: string,
  list: number[] | undefined,
  { baths, named }: { baths: readonly string[]; named: boolean },
): Finding[] {
  if (list === undefined || list.length === baths.length) {
    return [];
  }
  const message = `Cannot match ${key} with ${list.length} ${list.length === 1 ? 'value' : 'values'} to ${baths.length} ${baths.length === 1 ? 'bath' : 'baths'} (${baths.join(', ')})`;
  return [
    {
      code: 'wrong-count',
      message,
      help: named
        ? 'Write one value for each bath that is named'
        : `Write one value for each bath, or name the baths, like baths: [${baths[0]}]`,
      path: [key],
    },
  ];
}

function checkTopUp(event: TopUpEvent): readonly Finding[] {
  const amounts = exactlyOne(event, EXACTLY_ONE['top-up'], 'ml: 250 or to: mark');
  if (event.from === 'clean') {
    return event.bath === 'clean' ? [...amounts, cleanFromItself()] : amounts;
  }
  return event.solvent === undefined ? [...amounts, topUpWithWhat()] : amounts;
}

function cleanFromItself(): Finding {
  return {
    code: 'clean-from-clean',
    message: 'Cannot top up the bath "clean" from itself',
    help: 'Name the solvent it was topped up with, like solvent: ipa99, and leave "from" out',
    path: ['from'],
  };
}

function topUpWithWhat(): Finding {
  return {
    code: 'missing-key',
    message: 'Cannot read this top-up without "solvent"',
    help: 'Add the solvent poured in, like solvent: ipa99, or from: clean',
    path: [],
  };
}

function weighedBackwards(wetG: number, cleanG: number): Finding {
  return {
    code: 'weighed-backwards',
    message: `Cannot take clean_g: ${cleanG}, the washed load weighs more than the wet one (${wetG} g)`,
    help: '"wet_g" is before the wash and "clean_g" after washing and drying; correct the one that is wrong',
    path: ['clean_g'],
  };
}

function exactlyOne<E extends object>(
  event: E,
  keys: readonly (keyof E & string)[],
  example: string,
): readonly Finding[] {
  const given = keys.filter((key) => event[key] !== undefined);
  if (given.length === 1) {
    return NONE;
  }
  const list = `${keys
    .slice(0, -1)
    .map((key) => `"${key}"`)
    .join(', ')} and "${keys.at(-1)}"`;
  if (given.length === 0) {
    const what = (event as { what?: string }).what ?? 'entry';
    return [
      {
        code: 'not-one-of',
        message: `Cannot read this ${what}: none of ${list} is given`,
        help: `Add one of them, like ${example}`,
        path: [],
      },
    ];
  }
  return [notTogether(given[0]!, given[1]!, `Keep one of ${list}`)];
}

function notTogether(first: string, second: string, help: string): Finding {
  return {
    code: 'not-together',
    message: `Cannot use "${first}" and "${second}" together`,
    help,
    path: [second],
    atKey: true,
  };
}
