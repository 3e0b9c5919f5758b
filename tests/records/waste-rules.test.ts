/** Rules for waste: each is a row of data/limits.csv, in the unit its kind names. */
import { describe, expect, it } from 'vitest';
import { LIMIT_ROWS } from '../../src/records/limit-rows.ts';
import { generatorOf, isPast, WASTE_RULES } from '../../src/records/waste-rules.ts';
import { dataRows } from '../published/data-rows.ts';

const valuesOf = (kind: string, item: RegExp) =>
  WASTE_RULES.filter((rule) => rule.kind === kind && item.test(rule.item)).map(({ value }) => value);

describe('the rows of limits.csv', () => {
  it('are the ones that the tests read', () => {
    expect(LIMIT_ROWS).toEqual(dataRows('limits.csv'));
  });
});

describe('rules for waste', () => {
  // 40 CFR 262.13 to 262.17, ids 40CFR262.* in data/SOURCES.md: 100 and 1000 kg a month, 1000 and 6000 kg on site, 180, 270
  // and 90 days, 55 US gallons. A US gallon is 3.785 L and a pound 0.4536 kg, by definition.
  it('hold the figures of the federal rules', () => {
    expect(valuesOf('month-kg', /^VSQG/)).toEqual([100]);
    expect(valuesOf('month-kg', /^SQG/)).toEqual([1000]);
    expect(valuesOf('site-kg', /^VSQG/)).toEqual([1000]);
    expect(valuesOf('site-kg', /^SQG/)).toEqual([6000]);
    expect(valuesOf('age-days', /^SQG/)).toEqual([180, 270]);
    expect(valuesOf('age-days', /^LQG/)).toEqual([90]);
    expect(valuesOf('bench-litres', /^satellite/)[0]).toBeCloseTo(208.2, 1);
  });

  it('hold that of a state in pounds', () => {
    const [washington] = WASTE_RULES.filter(({ jurisdiction }) => jurisdiction === 'US-Washington');
    expect(washington!.value).toBeCloseTo(99.8, 1);
  });

  it('are all there, each with a citation and a source', () => {
    expect(WASTE_RULES.length).toBe(9);
    for (const { citation, source, status } of WASTE_RULES) {
      expect([citation, source, status]).not.toContain('');
    }
  });

  it('take "at most" to include the value, and "below" not to', () => {
    expect(isPast({ value: 100, includes: true }, 100)).toBe(false);
    expect(isPast({ value: 100, includes: true }, 100.1)).toBe(true);
    expect(isPast({ value: 1000, includes: false }, 1000)).toBe(true);
    expect(isPast({ value: 1000, includes: false }, 999.9)).toBe(false);
  });

  it.each([
    [0, 'VSQG'],
    [100, 'VSQG'],
    [100.1, 'SQG'],
    [999.9, 'SQG'],
    [1000, 'LQG'],
    [5000, 'LQG'],
  ])('make of %d kg a month a %s (40 CFR 262.13)', (kg, generator) => {
    expect(generatorOf(kg)).toBe(generator);
  });
});
