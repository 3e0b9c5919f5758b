/** Which column of a file feeds which key of an event. */
import { didYouMean, near } from '../ledger/near.ts';
import { shellWord } from '../ledger/shell-word.ts';
import { COLUMN_OF, type Column, EVENT_COLUMNS } from './columns.ts';

export interface Plan {
  /** In the order of the columns of the file. */
  sources: Source[];
  /** Places of the date and of the time of day, where they stand in columns of their own. */
  date?: number;
  time?: number;
  /** Values for rows that have none of their own. */
  constants: { column: Column; part?: string; text: string }[];
  /** Columns that feed nothing. */
  unread: string[];
  /** The file has the columns `id`, `at` and `what`, and nobody mapped any: it is likely our own. */
  own: boolean;
}

interface Source {
  column: Column;
  place: number;
  /** As the file heads it. */
  heading: string;
  /** The count of this part. */
  part?: string;
  /** Unit of bare numbers, from the heading: "Drained (h)". */
  unit?: string;
}

export interface PlanProblem {
  message: string;
  help: string;
}

interface Asked {
  /** Texts like `parts=Teile`. */
  maps: readonly string[];
  /** Columns to leave out. */
  ignored: readonly string[];
  /** Texts like `resin=grey`. */
  constants: readonly string[];
}

/** Keys that stand for more than a key of an event. */
const DATE_KEYS = ['date', 'time'] as const;
const KEYS = [...EVENT_COLUMNS.map(({ name }) => name), ...DATE_KEYS];
/** Shorter names are near too many words. */
const SHORTEST_TO_GUESS = 4;

/** Lays the columns of a file out; or what is wrong with them. */
export function planColumns(columns: readonly string[], asked: Asked): Plan | PlanProblem[] {
  const plan: Plan = { sources: [], constants: [], unread: [], own: false };
  const problems: PlanProblem[] = [];
  const taken = new Set<number>();
  for (const name of asked.ignored) {
    const place = placeOf(name, columns);
    if (typeof place === 'number') taken.add(place);
    else problems.push(place);
  }
  for (const text of asked.maps) {
    const wrong = take(text, columns, plan, taken);
    if (wrong) problems.push(wrong);
  }
  for (const text of asked.constants) {
    const wrong = fix(text, plan);
    if (wrong) problems.push(wrong);
  }
  for (const [place, heading] of columns.entries()) {
    if (taken.has(place)) continue;
    const key = keyOf(heading);
    const wrong = key && !isFed(plan, key) ? feed(plan, key, { place, heading }) : undefined;
    if (wrong) problems.push(wrong);
    else if (!key || !isPlaced(plan, place)) plan.unread.push(heading);
  }
  problems.push(...(problems.length > 0 ? [] : [...unclear(plan), ...untimed(plan, columns)]));
  const names = new Set(columns);
  plan.own = asked.maps.length === 0 && ['id', 'at', 'what'].every((name) => names.has(name));
  return problems.length > 0 ? problems : plan;
}

/** `key=column`: the first sign of equality parts them. */
function take(
  text: string,
  columns: readonly string[],
  plan: Plan,
  taken: Set<number>,
): PlanProblem | undefined {
  const cut = text.indexOf('=');
  const [key, name] = [text.slice(0, cut).trim(), text.slice(cut + 1).trim()];
  if (cut < 1 || name === '')
    return { message: `Cannot use --map "${text}"`, help: 'write it as key=column, like --map parts=Items' };
  const place = placeOf(name, columns);
  if (typeof place !== 'number') return place;
  taken.add(place);
  return feed(plan, key, { place, heading: columns[place]! });
}

/** Adds a source of a key. Lists and counts by name take several columns, in their order. */
function feed(plan: Plan, key: string, on: { place: number; heading: string }): PlanProblem | undefined {
  if (key === 'date' || key === 'time') {
    plan[key] = on.place;
    return undefined;
  }
  const { column, part } = targetOf(key);
  if (!column) return noSuchKey(key);
  const takesMany = part !== undefined || column.kind === 'numbers' || column.kind === 'texts';
  if (!takesMany && isFed(plan, key))
    return { message: `Cannot map two columns to "${key}"`, help: 'keep one of them' };
  const unit = column.quantity && /[([]([^)\]]+)[)\]]\s*$/.exec(on.heading)?.[1]?.trim();
  plan.sources.push({
    column,
    ...on,
    ...(part === undefined ? {} : { part }),
    ...(unit ? { unit } : {}),
  });
  return undefined;
}

/** `key=value`, for every row. */
function fix(text: string, plan: Plan): PlanProblem | undefined {
  const cut = text.indexOf('=');
  const [key, value] = [text.slice(0, cut).trim(), text.slice(cut + 1).trim()];
  if (cut < 1 || value === '')
    return { message: `Cannot use --set "${text}"`, help: 'write it as key=value, like --set resin=grey' };
  const { column, part } = targetOf(key);
  if (!column) return noSuchKey(key);
  plan.constants.push({ column, text: value, ...(part === undefined ? {} : { part }) });
  return undefined;
}

/** The column of a key, `parts.model` being a count in that of the parts. */
function targetOf(key: string): { column: Column | undefined; part?: string } {
  const [, part] = /^parts\.(.+)$/.exec(key) ?? [];
  return part === undefined ? { column: COLUMN_OF.get(key) } : { column: COLUMN_OF.get('parts'), part };
}

function noSuchKey(key: string): PlanProblem {
  return {
    message: `Cannot use the key "${key}", events have none of that name`,
    help: didYouMean(key, KEYS) ?? `keys are ${KEYS.join(', ')} and parts.NAME`,
  };
}

function isFed(plan: Plan, key: string): boolean {
  if (key === 'date' || key === 'time') return plan[key] !== undefined;
  return plan.sources.some(
    ({ column, part }) => (part === undefined ? column.name : `parts.${part}`) === key,
  );
}

function isPlaced(plan: Plan, place: number): boolean {
  return plan.date === place || plan.time === place || plan.sources.some((one) => one.place === place);
}

/** The key that a heading is by itself, its unit in brackets left out. */
function keyOf(heading: string): string | undefined {
  const plain = withoutUnit(heading).replaceAll(/[\s-]+/g, '_');
  if (COLUMN_OF.has(plain) || plain === 'date' || plain === 'time') return plain;
  return /^parts\../.test(heading.trim()) ? heading.trim() : undefined;
}

/** In small letters, without what stands in brackets at its end. */
function withoutUnit(heading: string): string {
  return heading
    .replace(/\s*[([][^)\]]*[)\]]\s*$/, '')
    .trim()
    .toLowerCase();
}

/** The column of this name: as typed, else the only one that differs in capitals alone, else but for its unit. */
function placeOf(name: string, columns: readonly string[]): number | PlanProblem {
  const exact = columns.flatMap((one, place) => (one === name ? [place] : []));
  const alike = columns.flatMap((one, place) => (one.toLowerCase() === name.toLowerCase() ? [place] : []));
  const plain = columns.flatMap((one, place) => (withoutUnit(one) === withoutUnit(name) ? [place] : []));
  const found = [exact, alike, plain].find((places) => places.length > 0) ?? [];
  if (found.length > 1)
    return {
      message: `Cannot tell which column "${name}" is meant, there are two`,
      help: 'rename one of them',
    };
  if (found[0] !== undefined) return found[0];
  const meant = near(name, columns);
  return {
    message: `Cannot find a column "${name}" in the file`,
    help: meant ? `did you mean "${meant}"?` : `the columns are ${listed(columns)}`,
  };
}

/** A column that feeds nothing and is named nearly like a key is likely misspelt. */
function unclear(plan: Plan): PlanProblem[] {
  const free = KEYS.filter((key) => key.length >= SHORTEST_TO_GUESS && !isFed(plan, key));
  return plan.unread.flatMap((heading) => {
    const meant = heading.length >= SHORTEST_TO_GUESS ? near(heading, free) : undefined;
    if (meant === undefined) return [];
    const named = shellWord(heading);
    return [
      {
        message: `Cannot tell what the column "${heading}" is`,
        help: `did you mean "${meant}"? Then --map ${meant}=${named}; else leave it out: --ignore ${named}`,
      },
    ];
  });
}

function untimed(plan: Plan, columns: readonly string[]): PlanProblem[] {
  if (plan.date !== undefined || isFed(plan, 'at') || columns.length === 0) return [];
  return [
    {
      message: 'Cannot find when it happened, no column is named "at" or "date"',
      help: `name it: --map at=COLUMN, or --map date=COLUMN --map time=COLUMN; the columns are ${listed(columns)}`,
    },
  ];
}

/** Not more than anybody reads. */
function listed(columns: readonly string[]): string {
  const shown = columns.slice(0, 20).map((one) => (one.length > 30 ? `${one.slice(0, 29)}…` : one));
  return `${shown.join(', ')}${columns.length > 20 ? `, and ${columns.length - 20} more` : ''}`;
}
