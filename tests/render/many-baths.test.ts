import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { labelsOf, type OneLedger } from '../../src/render/many.ts';
import { type LedgerBaths, manyBathsText } from '../../src/render/many-baths.ts';
import { manyDueTable } from '../../src/render/many-due.ts';
import { painter } from '../../src/render/paint.ts';
import { entriesOf, FILLED, headerOf, OPEN, START_MS } from '../bath/bench.ts';

const paint = painter({ choice: 'never', env: {}, stream: {} });

function ledger(name: string, typed: string, drafts = FILLED): OneLedger<LedgerBaths> {
  const base = headerOf({ dirty: OPEN, clean: OPEN });
  const shop = openShop({ ...base, shop: { ...base.shop, name } });
  const status = statusOf(shop, entriesOf(drafts), START_MS + 86_400_000);
  const found = { status, when: 'Fri 2026-11-20 17:00', asOf: '', advice: 'Carry on', data: {} };
  return { typed, path: `/${typed}`, found, problems: [] };
}

const unread: OneLedger<LedgerBaths> = { typed: 'bad.yaml', path: '/bad.yaml', problems: [] };

describe('the baths of several shops', () => {
  it.each([60, 70, 80, 100, 200])('stay within %i columns, whatever the names', async (width) => {
    const long = 'x'.repeat(70);
    const ledgers = [
      ledger('A Shop With A Rather Long Name Indeed', 'a.yaml'),
      ledger(long, 'b.yaml'),
      unread,
    ];
    const text = await manyBathsText(ledgers, { paint, width });
    const widest = Math.max(
      ...text
        .split('\n')
        .filter((line) => !line.includes(long))
        .map((line) => line.length),
    );
    expect(widest).toBeLessThanOrEqual(width);
  });

  it('have a row each, the name once, and a row for what could not be read', async () => {
    const text = await manyBathsText([ledger('North', 'n.yaml'), unread, ledger('South', 's.yaml')], {
      paint,
      width: 80,
    });
    const rows = text.split('\n').slice(1, 6);
    expect(rows.map((row) => row.split(/\s+/).slice(0, 2))).toEqual([
      ['North', 'dirty'],
      ['', 'clean'],
      ['bad.yaml', '-'],
      ['South', 'dirty'],
      ['', 'clean'],
    ]);
    expect(text).toContain('bad.yaml: could not be read.');
    expect(text).toContain('North, Fri 2026-11-20 17:00: Carry on.');
  });

  it('show the water from 78 columns on, the level from 88', async () => {
    const head = async (width: number) =>
      (await manyBathsText([ledger('North', 'n.yaml'), unread], { paint, width })).split('\n')[0]!;
    expect([await head(77), await head(78)].map((line) => line.includes('water'))).toEqual([false, true]);
    expect([await head(87), await head(88)].map((line) => line.includes('level'))).toEqual([false, true]);
  });
});

describe('what a ledger is called', () => {
  const names = (...ledgers: OneLedger<LedgerBaths>[]) => labelsOf(ledgers, ({ status }) => status.shop.name);

  it('is the name of its shop, unless another has it, or it has none, or it was not read', () => {
    expect(names(ledger('North', 'n.yaml'), ledger('South', 's.yaml'))).toEqual(['North', 'South']);
    expect(names(ledger('Same', 'a.yaml'), ledger('Same', 'b.yaml'), ledger('', 'c.yaml'), unread)).toEqual([
      'a.yaml',
      'b.yaml',
      'c.yaml',
      'bad.yaml',
    ]);
  });

  it('cannot steer a terminal', () => {
    expect(names(ledger('N\u001b[2J', 'n.yaml'))[0]).not.toContain('\u001b');
  });
});

describe('what is due in several shops', () => {
  const due = (shop: string, code: number, ...lines: string[]) => ({
    typed: `${shop}.yaml`,
    path: `/${shop}.yaml`,
    problems: [],
    found: { shop, asOf: '', lines, code, data: {} },
  });

  it('has the shop once, those with something to change first, else as typed', () => {
    const table = manyDueTable([
      due('A', 1, 'one', 'two'),
      due('B', 0),
      due('C', 2, 'three'),
      due('D', 1, 'four'),
    ]);
    expect(table.rows).toEqual([
      ['C', 'three'],
      ['A', 'one'],
      ['', 'two'],
      ['D', 'four'],
    ]);
  });
});
