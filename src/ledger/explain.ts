import type * as z from 'zod/mini';
import type { Finding } from './finding.ts';
import { didYouMean } from './near.ts';
import { plainDecimal } from './plain-decimal.ts';
import { READING_RANGES, type ReadingKey } from './reading-ranges.ts';
import { inKeys, likelySlip } from './reading-slips.ts';
import { keysAt } from './shape.ts';
import { inKeyUnit } from './units.ts';

/** The characters that a value was written with in the file, where they are known. */
export type SourceOf = (path: readonly (string | number)[]) => string | undefined;

interface Setting {
  value: unknown;
  schema: z.ZodMiniType;
  /** What the value is, as in "this wash" or "the head". */
  place: string;
  source: SourceOf;
}

type Issue = z.core.$ZodIssue;
type Path = (string | number)[];

/** The issues of a failed schema as findings in plain words. */
export function explainIssues(issues: readonly Issue[], setting: Setting): Finding[] {
  const found = issues.flatMap((issue) =>
    explain(
      issue,
      issue.path.filter((key) => typeof key !== 'symbol'),
      setting,
    ),
  );
  // A text that fails two of its checks is told once.
  const first = new Map(found.toReversed().map((one) => [`${one.code} ${one.path.join('.')}`, one]));
  return found.filter((one) => first.get(`${one.code} ${one.path.join('.')}`) === one);
}

function explain(issue: Issue, path: Path, setting: Setting): Finding[] {
  const value = valueAt(setting.value, path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => unknownKey(key, path, setting));
    case 'invalid_key':
      return [badName(path, issue.issues[0]?.message ?? '')];
    case 'invalid_type':
      return [
        value === undefined ? missing(path, issue.message, setting) : wrongType(issue, value, path, setting),
      ];
    case 'invalid_value':
      return [
        value === undefined
          ? missing(path, oneOf(issue.values), setting)
          : unknownWord(issue.values, value, path),
      ];
    case 'too_small':
    case 'too_big':
      if (issue.origin === 'number') {
        return [outOfRange('out-of-range', value, issue.message, path, setting)];
      }
      return [badText(value, issue.message, path)];
    case 'not_multiple_of':
      return [outOfRange('not-whole', value, issue.message, path, setting)];
    default:
      return [badText(value, issue.message, path)];
  }
}

function unknownKey(key: string, path: Path, { schema, place }: Setting): Finding {
  const keys = keysAt(schema, path);
  const where = path.length === 0 ? `in ${place}` : `under "${path.join('.')}"`;
  const help = didYouMean(key, keys) ?? `Use one of ${keys.join(', ')}, or move the words into note: "…"`;
  const told = place === 'the head' ? help.replace(', or move the words into note: "…"', '') : help;
  return {
    code: 'unknown-key',
    message: `Cannot use the key "${key}" ${where}`,
    help: told,
    path: [...path, key],
    atKey: true,
  };
}

function badName(path: Path, allowed: string): Finding {
  return {
    code: 'bad-name',
    message: `Cannot use "${path.at(-1)}" as a name, allowed is ${allowed}`,
    help: 'Rename it, and use the new name in the events as well',
    path,
    atKey: true,
  };
}

function missing(path: Path, allowed: string, { place }: Setting): Finding {
  const key = String(path.at(-1));
  const where = path.length > 1 ? `"${path.slice(0, -1).join('.')}"` : place;
  return {
    code: 'missing-key',
    message: `Cannot read ${where} without "${key}"`,
    help: `Add ${key}: ${allowed}`,
    path: path.slice(0, -1),
  };
}

function wrongType(
  issue: Issue & { code: 'invalid_type' },
  value: unknown,
  path: Path,
  { source }: Setting,
): Finding {
  const shown = source(path) ?? show(value);
  const isScalar = typeof value === 'number' || typeof value === 'boolean';
  if (issue.expected === 'string' && isScalar && !issue.message.startsWith('a time')) {
    return {
      code: 'text-needs-quotes',
      message: `Cannot take ${label(path)}: ${shown}, without quotes it is read as the ${typeof value === 'number' ? 'number' : 'value'} ${String(value)}`,
      help: `Write it in quotes: ${label(path)}: ${JSON.stringify(shown)}`,
      path,
    };
  }
  if (issue.expected === 'number' && typeof value === 'string') {
    return notANumber(value, issue.message, path);
  }
  return {
    code: 'wrong-type',
    message: `Cannot take ${label(path)}: ${show(value)}, allowed is ${issue.message}`,
    help: `Write ${issue.message}`,
    path,
  };
}

function notANumber(value: string, allowed: string, path: Path): Finding {
  const key = label(path);
  const converted = inKeyUnit(value, allowed);
  if (converted !== undefined) {
    return {
      code: 'wrong-unit',
      message: `Cannot take ${key}: "${value}", the key holds a bare number (allowed is ${allowed})`,
      help: `Write ${key}: ${converted}`,
      path,
    };
  }
  const help =
    Number.isFinite(Number(value)) && value.trim() !== ''
      ? `Write ${key}: ${plainDecimal(Number(value))} without quotes`
      : 'Write a plain decimal without a unit';
  return {
    code: 'wrong-type',
    message: `Cannot take ${key}: "${value}", allowed is ${allowed}`,
    help,
    path,
  };
}

function unknownWord(values: readonly unknown[], value: unknown, path: Path): Finding {
  const words = values.map(String);
  return {
    code: 'unknown-word',
    message: `Cannot take ${label(path)}: ${show(value)}, allowed is ${oneOf(values)}`,
    help:
      (typeof value === 'string' ? didYouMean(value, words) : undefined) ??
      `Write ${label(path)}: ${words[0]}`,
    path,
  };
}

function outOfRange(code: string, value: unknown, allowed: string, path: Path, setting: Setting): Finding {
  const message = `Cannot take ${label(path)}: ${setting.source(path) ?? show(value)}, allowed is ${allowed}`;
  const slip = slipOf(label(path), value, setting);
  return { code, message, help: slip ?? 'Correct the value; mind the unit in the name of the key', path };
}

/** What a reading that no bath can give most likely is. */
function slipOf(key: string, value: unknown, { value: event }: Setting): string | undefined {
  const isReading = (event as { what?: unknown }).what === 'reading' && Object.hasOwn(READING_RANGES, key);
  if (!isReading || typeof value !== 'number') {
    return undefined;
  }
  const slip = likelySlip(key as ReadingKey, value);
  return slip && inKeys(slip);
}

function badText(value: unknown, allowed: string, path: Path): Finding {
  const message = `Cannot take ${label(path)}: ${show(value)}, allowed is ${allowed}`;
  return { code: 'bad-text', message, help: `Write ${allowed}`, path };
}

function oneOf(values: readonly unknown[]): string {
  const words = values.map(String);
  return words.length === 1 ? words[0]! : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

/** The key a value stands under; for a place in a list, the list's key. */
function label(path: Path): string {
  return String(path.findLast((key) => typeof key === 'string') ?? 'value');
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, key) => (inner as Record<string | number, unknown> | null | undefined)?.[key],
    value,
  );
}

/** A value in the words of the file, cut short. */
export function show(value: unknown): string {
  if (typeof value === 'string') {
    return JSON.stringify(value.length > 60 ? `${value.slice(0, 59)}…` : value);
  }
  if (value === null || value === undefined) {
    return 'nothing';
  }
  if (typeof value === 'object') {
    return Array.isArray(value) ? 'a list' : 'a map';
  }
  return String(value);
}
