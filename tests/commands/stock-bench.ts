/** A shop with a price, a solvent of its own for what is reclaimed, and tubs that neither lose to the air nor take from it. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { expect } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { ledgerOf, type Ran, runner } from './bundle.ts';

const TUB = '{mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50, evaporation: 0, moisture: 0}';

export const SHOP = `format: bathbook/1
shop:
  name: Cove Street Bench
  timezone: America/Halifax
  currency: CAD
baths:
  dirty: ${TUB}
  clean: ${TUB}
solvents:
  again: {ipa_wt_pct: 99.5}
events:
`;

const CLOCK = '2026-11-20T17:00:00-04:00';

/** A line of a ledger. */
export const line = (id: string, at: string, rest: string) =>
  `  - {id: "${id}", at: ${at}:00-04:00, what: ${rest}}`;

/** Two fills of 4 L each, three weeks before the clock. */
export const FILLS = [
  line('fild1', '2026-10-30T08:00', 'fill, bath: dirty, solvent: ipa99, ml: 4000'),
  line('filc1', '2026-10-30T08:05', 'fill, bath: clean, solvent: ipa99, ml: 4000'),
];

/** Runs commands on one ledger of the shop. */
export function benchOf(main: string, lines: readonly string[], head = SHOP) {
  const path = ledgerOf(lines, head);
  const run = runner(main);
  const say = (...args: string[]): Ran => run([...args, '--ledger', path, '--as-of', CLOCK]);
  return {
    path,
    say,
    text: () => readFileSync(path, 'utf8'),
    /** In one line. */
    told: (...args: string[]) => say(...args).out.replaceAll(/\s+/g, ' '),
    /** The data of a document, which its schema must allow, key for key. */
    data: (...args: string[]) => {
      const { out, err } = say(...args, '--json');
      expect(err).not.toContain('Cannot');
      const document = JSON.parse(out);
      holds(args[0]!, document);
      return document.data;
    },
  };
}

/** No keys but those of the schema. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
  const isObject = inner.type === 'object' && 'properties' in inner && !('additionalProperties' in inner);
  return isObject ? { ...inner, additionalProperties: false } : inner;
}

function holds(name: string, document: { schema: string }): void {
  const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
  (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
  const validate = ajv.compile(closed(documentSchema(name)) as object);
  validate(document);
  expect(validate.errors ?? []).toEqual([]);
  expect(document.schema).toBe(`bathbook/${name}/1`);
}

/** Grams in a mL of fresh ipa99, from a fill of 4000 mL in a case that another implementation worked out. */
export const IPA99_G_ML = (() => {
  const golden = JSON.parse(readFileSync('tests/golden/p01-given-carry-and-drag.expected.json', 'utf8'));
  const { ipa_g, water_g } = golden.after[0].dirty;
  return (ipa_g + water_g) / 4000;
})();
