/** `due` where the ledger cannot be right: a bath that holds more than goes into it, a reading far from the estimate. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { bundled, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());
const due = (lines: readonly string[], ...words: string[]) =>
  run(['due', '--ledger', ledgerOf([...LINES, ...lines]), '--as-of', NOW, ...words]);

const FAR_OFF =
  '  - {id: "read6", at: 2026-11-20T08:00:00-04:00, what: reading, bath: clean, density_g_ml: 0.85, temp_c: 22}';
const FITS =
  '  - {id: "read7", at: 2026-11-20T09:00:00-04:00, what: reading, bath: clean, density_g_ml: 0.7855, temp_c: 22}';
const OVER =
  '  - {id: "topup6", at: 2026-11-20T08:00:00-04:00, what: top-up, bath: dirty, solvent: ipa99, ml: 4000}';

describe('due', () => {
  it('says nothing of readings that fit', () => {
    expect(due([FITS])).toMatchObject({ code: 0, out: '' });
  });

  it('has a bath measured again whose last reading is hard to believe, until one fits', () => {
    const { code, out } = due([FAR_OFF]);
    expect(code).toBe(1);
    expect(out).toMatch(
      /^soon: measure the clean bath again: its last reading \(read6\) lies [\d.]+ standard deviations from the estimate\n/,
    );
    expect(due([FAR_OFF, FITS])).toMatchObject({ code: 0, out: '' });
  });

  it('has the level measured of a bath with more in it than goes into it: 4 L and 4 L, 6.34 L to the brim', () => {
    const { code, out } = due([OVER]);
    expect(code).toBe(1);
    expect(out).toMatch(
      /^soon: measure the level of the dirty bath: by the ledger it holds 7\.\d\d L, and 6\.34 L goes into it\n/,
    );
  });

  it('holds to its schema', () => {
    const { out } = due([FAR_OFF], '--json');
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(
      documentSchema('due') as object,
    );
    validate(JSON.parse(out));
    expect(validate.errors ?? []).toEqual([]);
    expect(JSON.parse(out).data.due).toMatchObject([{ what: 'reading', bath: 'clean', severity: 'soon' }]);
  });
});
