import type { SourceOf } from './explain.ts';
import type { Finding } from './finding.ts';
import { plainDecimal } from './plain-decimal.ts';

type Path = readonly (string | number)[];

/** Numbers that are not plain decimals ("0x10", "1e3", "007"), by their path. */
export function oddNumbers(value: unknown, source: SourceOf, path: Path = []): Finding[] {
  if (typeof value === 'object' && value !== null) {
    return Object.entries(value).flatMap(([key, inner]) =>
      oddNumbers(inner, source, [...path, Array.isArray(value) ? Number(key) : key]),
    );
  }
  const written = typeof value === 'number' ? source(path) : undefined;
  if (written === undefined || /^[-+]?(?:(?:0|[1-9]\d*)(?:\.\d*)?|\.\d+)$/.test(written)) {
    return [];
  }
  const message = `Cannot take ${path.findLast((key) => typeof key === 'string') ?? 'value'}: ${written}, it is not a plain decimal`;
  const help = Number.isFinite(value)
    ? `Write ${plainDecimal(value as number)}`
    : 'Write a number, or leave the key out';
  return [{ code: 'odd-number', message, help, path }];
}
