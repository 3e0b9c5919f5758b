/** What can stand at a place of a command line: options, their values, arguments. */
import { TOPIC_OF } from '../explain/topic-names.ts';
import { AGITATIONS, MIDRINSES, PRERINSES, RESULTS } from '../ledger/event.ts';
import { keyOrder } from '../ledger/line.ts';
import { type Course, nameOf, optionsOf } from './complete-course.ts';
import type { Names, Seen } from './complete-ledger.ts';
import { cases, containers, ids, lots, type Offer, people, plain } from './complete-names.ts';
import { COMMANDS, type OptionDefinition } from './definition.ts';
import { LAST } from './last-word.ts';

export interface Offered {
  /** Words as listed; words that more is typed after; or files or folders, which the shell knows best. */
  how: 'words' | 'open' | 'files' | 'folders';
  offers: Offer[];
}

type NamesOf = () => Names;

const FILES: Offered = { how: 'files', offers: [] };
const FOLDERS: Offered = { how: 'folders', offers: [] };
const UNITS = ['mL', 'L', 'gal'];
const SHELLS = ['bash', 'zsh', 'fish'];
const TOOLS = ['balance', 'refractometer', 'hydrometer', 'measure'];
const FORMATS = ['csv', 'ndjson', 'html', 'ics', 'openmetrics', 'prometheus'];

/** What fits at the cursor. The ledger is looked into only where its names are asked for. */
export function offeredAt(course: Course, namesOf: NamesOf): Offered {
  const { command, awaited, typed, isPlain } = course;
  if (awaited) return valuesOf(awaited, course, namesOf);
  if (typed.startsWith('-') && !isPlain) return words(optionsLeft(course));
  const isHelp = command === undefined && (course.args.length === 0 || course.args[0] === 'help');
  if (command === undefined) return words(isHelp && course.args.length < 2 ? commands() : []);
  const offered = argumentsOf(course, namesOf);
  const isNothing = offered.offers.length === 0 && offered.how === 'words';
  return isNothing && typed === '' && !isPlain ? words(optionsLeft(course)) : offered;
}

function commands(): Offer[] {
  return COMMANDS.map(({ name, summary }) => ({ value: name, about: summary }));
}

function optionsLeft({ command, given }: Course): Offer[] {
  return optionsOf(command)
    .filter((option) => option.repeat || !given.has(nameOf(option)))
    .map((option) => ({ value: nameOf(option), about: option.about }));
}

/** By the option as it is defined, with the name of its value. */
const VALUES: Record<string, (names: NamesOf, course: Course) => Offer[]> = {
  '--resin NAME': (names) => plain(names().resins()),
  '--solvent NAME': (names) => plain(names().solvents()),
  '--as SOLVENT': (names) => plain(names().solvents()),
  '--into CONTAINER': (names) => containers(names()),
  '--in BATHS': (names, course) => listed(names().baths(), course),
  '--bath NAME': (names) => plain(names().baths()),
  '--case ID': (names) => cases(names()),
  '--case NUMBER': (names) => cases(names()),
  '--lot LOT': (names) => lots(names()),
  '--lot NUMBER': (names) => lots(names(), 'stock'),
  '--by WHO': (names) => people(names()),
  '--by NAME': (names) => people(names()),
  '--wash ID': (names, { typed }) => [...plain(['last', 'none']), ...ids(names(), typed, 'wash')],
  '--drained TIME': () => plain(['overnight']),
  '--what KIND': () => plain(KINDS),
};

const KINDS = [
  'wash', 'fill', 'top-up', 'drain', 'rotate', 'refill', 'reading', 'weighed', 'inspect', 'stock', 'waste', 'reclaim',
]; // biome-ignore format: one line

function valuesOf(option: OptionDefinition, course: Course, names: NamesOf): Offered {
  const about = option.flags.slice(nameOf(option).length + 1);
  if (option.choices) return words(plain(option.choices));
  if (/^FILE/.test(about)) return FILES;
  if (/^(?:FOLDER|DIR)/.test(about)) return FOLDERS;
  return words(VALUES[option.flags]?.(names, course) ?? []);
}

/** Arguments of commands whose places have more in them than their names tell. */
const ARGUMENTS: Record<string, (course: Course, names: NamesOf) => Offer[] | Offered> = {
  wash: load,
  fill: liquid([]),
  'top-up': liquid(['to']),
  drain: liquid(['all', 'to']),
  amend: changes,
  inspect: ({ args, typed }, names) =>
    args.length === 0 ? plain(RESULTS) : args.length === 1 ? ids(names(), typed, 'wash') : [],
  stock: ({ args, typed }, names) =>
    args.length === 0 ? plain(['received', 'counted']) : amount(args, typed, names().solvents()),
  waste: ({ args, typed }, names) => {
    if (args.length === 0) return plain(['opened', 'emptied', 'collected', 'label']);
    return args.length === 1 ? containers(names()) : amount(args, typed);
  },
  reclaim: ({ args, typed }, names) => (args.length === 0 ? containers(names()) : amount(args, typed)),
  export: ({ args }) => (args.length === 0 ? plain(FORMATS) : []),
  schema: ({ args }) => (args.length === 0 ? plain(['ledger', ...COMMANDS.map(({ name }) => name)]) : []),
  calibrate: ({ args }) => plain(TOOLS.filter((tool) => !args.includes(tool))),
  explain: ({ args, typed }, names) => [...topics(), ...subjects(args.at(-1), typed, names)],
  completion: ({ args }) => (args.length === 0 ? plain(SHELLS) : []),
  docs: ({ args }) => (args.length === 0 ? plain(['man', 'markdown']) : []),
};

function argumentsOf(course: Course, names: NamesOf): Offered {
  const { command, args, typed } = course;
  const own = ARGUMENTS[command!.name]?.(course, names);
  if (own) return Array.isArray(own) ? words(own) : own;
  const places = command!.args.split(' ').filter(Boolean);
  const place = places[args.length] ?? (places.at(-1)?.includes('...') ? places.at(-1)! : '');
  switch (place.replaceAll(/[^a-z]/g, '')) {
    case 'bath':
      return words(plain(names().baths()));
    case 'id':
      return words(named(names(), typed));
    case 'wash':
      return words(ids(names(), typed, 'wash'));
    case 'container':
      return words(containers(names()));
    case 'ledger':
    case 'file':
      return FILES;
    case 'folder':
      return FOLDERS;
    default:
      return words([]);
  }
}

/** An id, or the word for the last one. */
function named(names: Names, typed: string): Offer[] {
  return [...ids(names, typed), ...plain(typed !== '' && LAST.startsWith(typed) ? [LAST] : [])];
}

function topics(): Offer[] {
  return plain(Object.keys(TOPIC_OF));
}

/** What the number before can be of. */
function subjects(topic: string | undefined, typed: string, names: NamesOf): Offer[] {
  switch (Object.entries(TOPIC_OF).find(([name]) => name === topic)?.[1]) {
    case 'bath':
      return plain(names().baths());
    case 'wash':
      return ids(names(), typed, 'wash');
    case 'solvent':
      return plain(names().solvents());
    default:
      return [];
  }
}

/** Counts and parts in turn: a part after a count, or where a letter is typed. */
function load({ args, typed }: Course, names: NamesOf): Offer[] {
  const [, count = ''] = /^(\d+[x×]?)(?=[a-z])/.exec(typed) ?? [];
  const isDue = /^\d+[x×]?$/.test(args.at(-1) ?? '') || /^[^\d]/.test(typed) || count !== '';
  return isDue
    ? names()
        .parts()
        .map((part) => ({ value: count + part }))
    : [];
}

/** `4 L ipa99`, `to mark`, `all`. */
function liquid(first: readonly string[]): (course: Course, names: NamesOf) => Offer[] {
  return ({ args, typed }, names) => {
    if (args.length === 0) return plain(names().baths());
    if (args.at(-1) === 'to') return plain(['mark']);
    return [...(args.length === 1 ? plain(first) : []), ...amount(args, typed, names().solvents())];
  };
}

/** A unit after a number, a name where there is no number to wait for. */
function amount(args: readonly string[], typed: string, among: readonly string[] = []): Offer[] {
  if (/^[\d.,]+$/.test(args.at(-1) ?? '')) return plain(UNITS);
  const isNamed = among.some((name) => args.includes(name));
  const isFirst = args.length === 1 && !/^[a-z]/i.test(typed);
  return isNamed || isFirst ? [] : plain(among);
}

/** `drained_min=`, and what some keys take. */
function changes({ args, typed }: Course, names: NamesOf): Offer[] | Offered {
  if (args.length === 0) return named(names(), typed);
  const event = names()
    .events([args[0]!])
    .find(({ id }) => id === args[0]);
  const [key, value] = typed.split('=', 2);
  if (value !== undefined) return valuesOfKey(key!, names()).map((one) => ({ value: `${key}=${one}` }));
  if (!event) return [];
  const taken = new Set(args.map((arg) => arg.split('=', 1)[0]));
  return {
    how: 'open',
    offers: keysOf(event)
      .filter((one) => !taken.has(one))
      .map(assigned),
  };
}

function assigned(key: string): Offer {
  return { value: `${key}=` };
}

function keysOf({ what }: Seen): string[] {
  try {
    return keyOrder(what as Parameters<typeof keyOrder>[0]).filter(
      (key) => !/^(?:id|what|logged)$/.test(key),
    );
  } catch {
    // A kind of event that this version does not know.
    return [];
  }
}

function valuesOfKey(key: string, names: Names): readonly string[] {
  switch (key) {
    case 'bath':
      return names.baths();
    case 'resin':
      return names.resins();
    case 'solvent':
      return names.solvents();
    case 'agitation':
      return AGITATIONS;
    case 'prerinse':
      return PRERINSES;
    case 'midrinse':
      return MIDRINSES;
    case 'result':
      return RESULTS;
    case 'into':
    case 'container':
      return containers(names).map(({ value }) => value);
    default:
      return [];
  }
}

/** `dirty,clean`: what is left of a list, after what is typed of it. */
function listed(all: readonly string[], { typed }: Course): Offer[] {
  const before = typed.slice(0, typed.lastIndexOf(',') + 1);
  const taken = before.split(',');
  return all.filter((one) => !taken.includes(one)).map((one) => ({ value: before + one }));
}

function words(offers: Offer[]): Offered {
  return { how: 'words', offers };
}
