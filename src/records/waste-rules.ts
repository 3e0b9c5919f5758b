/**
 * The rules of data/limits.csv that waste is held against. Import this only where they are shown: it brings their text along.
 */
import { UNITS } from '../substance/units.ts';
import { LIMIT_ROWS, type LimitRow } from './limit-rows.ts';

/** What is measured: waste of a month, waste on site, age of the waste, content of one container at the bench. */
type RuleKind = 'month-kg' | 'site-kg' | 'age-days' | 'bench-litres';

export interface WasteRule extends Omit<LimitRow, 'value' | 'unit'> {
  kind: RuleKind;
  /** Who it is for, in the words of the rule; null for anybody. */
  generator: Generator | null;
  /** In the unit of its kind. */
  value: number;
  /** Whether the value itself is still inside. */
  includes: boolean;
}

/** Very small, small and large quantity generators of US federal rules, by hazardous waste of a month. */
export type Generator = 'VSQG' | 'SQG' | 'LQG';

type Use = Pick<WasteRule, 'kind' | 'generator' | 'includes'> & Pick<LimitRow, 'jurisdiction' | 'item'>;

const use = (
  jurisdiction: string,
  item: string,
  kind: RuleKind,
  generator: Generator | null,
  includes = true,
): Use => ({ jurisdiction, item, kind, generator, includes });

/** Which rows are upper limits of what. A limit "below" or "less than" a value does not include it. */
const USES: readonly Use[] = [
  use('US-EPA', 'VSQG non-acute generated, at most', 'month-kg', 'VSQG'),
  use('US-EPA', 'SQG non-acute generated, less than', 'month-kg', 'SQG', false),
  use('US-EPA', 'VSQG accumulation limit (below)', 'site-kg', 'VSQG', false),
  use('US-EPA', 'SQG accumulation quantity', 'site-kg', 'SQG'),
  use('US-EPA', 'SQG accumulation time', 'age-days', 'SQG'),
  use('US-EPA', 'SQG accumulation time if shipped over 200 miles', 'age-days', 'SQG'),
  use('US-EPA', 'LQG accumulation time', 'age-days', 'LQG'),
  use('US-EPA', 'satellite accumulation volume non-acute', 'bench-litres', null),
  use('US-Washington', 'small generator threshold', 'month-kg', null, false),
];

/**
 * Upper limits for waste, those of data/limits.csv, in its order. Never to be shown without saying that local rules decide and that
 * all other hazardous waste of the site counts as well. The threshold in pounds is taken not to include its value: its row
 * does not say, and the stricter reading errs on the safe side.
 */
export const WASTE_RULES: readonly WasteRule[] = LIMIT_ROWS.flatMap((row) => {
  const { kind, generator, includes } =
    USES.find(({ jurisdiction, item }) => jurisdiction === row.jurisdiction && item === row.item) ?? {};
  if (kind === undefined || generator === undefined || includes === undefined) return [];
  const { value, unit, ...words } = row;
  return [{ ...words, kind, generator, includes, value: inUnitOf(kind, Number(value), unit) }];
});

/** A value of the table in the unit of its kind: kg, days or litres. */
function inUnitOf(kind: RuleKind, value: number, unit: string): number {
  const word = unit.split(/[ /]/)[0]!;
  switch (kind) {
    case 'month-kg':
    case 'site-kg':
      return (value * UNITS.mass[word]!.factor) / 1000;
    case 'bench-litres':
      return (value * UNITS.volume[word]!.factor) / 1000;
    case 'age-days':
      return value;
    default:
      return kind satisfies never;
  }
}

/** True when an amount, in the unit of the rule, is past it. */
export function isPast({ value, includes }: Pick<WasteRule, 'value' | 'includes'>, amount: number): boolean {
  return includes ? amount > value : amount >= value;
}

/**
 * The generator that US federal rules would make of a site from the waste of one month [kg], if there were no other
 * hazardous waste. Local rules may be stricter.
 *
 * Example: 100 kg is still a very small quantity, 100.1 kg a small one, 1000 kg a large one (40CFR262.13, data/SOURCES.md).
 */
export function generatorOf(monthKg: number): Generator {
  const rules = WASTE_RULES.filter(({ kind, generator }) => kind === 'month-kg' && generator !== null);
  return rules.find((rule) => !isPast(rule, monthKg))?.generator ?? 'LQG';
}
