/** The facts of a label, against the table they come from as any reader of CSV sees it. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { labelFacts } from '../../src/records/label.ts';

const table = readFileSync('data/limits.csv', 'utf8');
const sources = readFileSync('data/SOURCES.md', 'utf8');
const facts = labelFacts();

describe('a label', () => {
  it('has the words of the US rule, and the harmonised signal word and statements of isopropyl alcohol', () => {
    expect(table).toContain('label words,Hazardous Waste + hazard indication');
    expect(facts.words).toBe('HAZARDOUS WASTE');
    expect(facts.signalWord).toBe('Danger');
    // Sentences of CLP annex III: H225 Highly flammable liquid and vapour, H319, H336 (from memory).
    expect(facts.statements).toEqual([
      { code: 'H225', text: 'highly flammable liquid and vapour' },
      { code: 'H319', text: 'causes serious eye irritation' },
      { code: 'H336', text: 'may cause drowsiness or dizziness' },
    ]);
    for (const { code } of facts.statements) expect(table).toContain(`,${code},code,`);
  });

  it('tells the transport of pure isopropyl alcohol, UN1219, class 3, group II', () => {
    expect(facts.transport).toEqual({ number: 'UN1219', class: '3', packingGroup: 'II' });
  });

  it('offers European codes with their star, which marks hazardous waste', () => {
    expect(facts.wasteCodes.map(({ code }) => code)).toEqual(['14 06 03*', '07 02 04*']);
  });

  it('cites for each line a rule that the table has, by a source that is listed', () => {
    expect(facts.bases.length).toBeGreaterThanOrEqual(6);
    for (const { citation, source } of facts.bases) {
      expect(table).toContain(citation);
      expect(sources).toMatch(new RegExp(`\\*\\*[^*]*\\b${source.replaceAll('.', '\\.')}\\b`));
    }
  });
});
