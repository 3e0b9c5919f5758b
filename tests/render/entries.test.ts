import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { entriesTable, type StateAfter } from '../../src/render/entries.ts';
import { painter } from '../../src/render/paint.ts';
import { aligned } from '../../src/render/table.ts';
import { entriesOf, PAIR } from '../bath/bench.ts';

const SHOP = openShop(PAIR);
const PAINT = painter({ choice: 'never', env: {}, stream: {} });
const ENTRIES = entriesOf([
  { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000 },
  { what: 'wash', parts: { model: 6, mask: 2 }, drained_min: 30, cases: ['26-0117', '26-0118'], hour: 2 },
]);

const held = (resin: number | null, ml: number) => ({ resin_wt_pct: resin, volume_ml: ml });
const band = (p05: number, p50: number, p95: number) => ({
  resin_wt_pct: { p05, p50, p95 },
  water_wt_pct: null,
  volume_ml: { p50: 0 },
});
const STATES = new Map<string, StateAfter>([
  ['e0', { state: { dirty: held(0, 4000), clean: held(null, 0) } }],
  [
    'e1',
    {
      state: { dirty: held(6.23, 3990), clean: held(1.59, 2490) },
      band: { dirty: band(5.52, 6.23, 7.2), clean: band(1.29, 1.59, 2.09) },
    },
  ],
]);

const table = (width: number | undefined, bands: boolean) =>
  entriesTable(ENTRIES, {
    shop: SHOP,
    states: STATES,
    when: (ms) => new Date(ms).toISOString().slice(0, 16).replace('T', ' '),
    bands,
    ...(width === undefined ? {} : { width }),
  });

describe('entries with states', () => {
  it.each([60, 72, 80, 100, 120, 126, 140, 200])('keep to %i columns, states and all', async (width) => {
    for (const bands of [true, false]) {
      const drawn = await aligned(table(width, bands), PAINT, width);
      expect(Math.max(...drawn.split('\n').map((line) => line.length))).toBeLessThanOrEqual(width);
      const words = drawn.replaceAll(/\s+/g, ' ');
      for (const one of bands ? ['6.23 (5.52–7.20)', '1.59 (1.29–2.09)'] : ['6.23', '1.59'])
        expect(words).toContain(one);
      expect(words.includes('(')).toBe(bands);
      expect(words).toContain('2.49');
    }
  });

  it('stand below the words in a narrow window, a line a bath', () => {
    const { head, rows } = table(80, true);
    expect(head).toEqual(['id', 'time', 'what', 'details']);
    expect(rows[1]!.at(-1)!.split('\n').slice(1)).toEqual([
      'dirty 6.23 (5.52–7.20) wt%, 3.99 L',
      'clean 1.59 (1.29–2.09) wt%, 2.49 L',
    ]);
    expect(rows[0]!.at(-1)).toContain('\nclean empty');
  });

  it('have columns of their own for programs, whatever the window', () => {
    const { head, rows } = table(undefined, false);
    expect(head).toEqual([
      ...['id', 'time', 'what', 'dirty wt%', 'dirty L', 'clean wt%', 'clean L', 'by', 'details'],
    ]);
    expect(rows[1]!.slice(3, 7)).toEqual(['6.23', '3.99', '1.59', '2.49']);
  });
});

describe('initials', () => {
  it('have a column where anybody gave any', () => {
    const [, wash] = ENTRIES;
    const signed = [{ ...wash!, event: { ...wash!.event, by: 'TO' } }];
    const view = { shop: SHOP, states: undefined, when: String, bands: false, width: 60 };
    expect(entriesTable(signed, view).head).toContain('by');
    expect(entriesTable(signed, view).rows[0]!.at(-2)).toBe('TO');
    expect(entriesTable(ENTRIES, view).head).toEqual(['id', 'time', 'what', 'details']);
  });
});

describe('a look', () => {
  it('is told with how many parts, of which wash', () => {
    const looks = entriesOf([
      { what: 'inspect', wash: 'e1', result: 'sticky', parts: { model: 2 }, cases: ['26-0117'] },
    ]);
    const { rows } = entriesTable(looks, { shop: SHOP, states: undefined, when: String, bands: false });
    expect(rows[0]!.at(-1)).toBe('sticky, 2 model, wash e1, case 26-0117');
  });
});
