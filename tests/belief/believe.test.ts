import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { priorMedians, replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { copyBath } from '../../src/bath/state.ts';
import { believe } from '../../src/belief/believe.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Draft, FILLED, headerOf, OPEN } from '../bath/bench.ts';
import { believing } from './bench.ts';

const folder = new URL('../golden/', import.meta.url);
const cases = readdirSync(folder).filter((name) => name.endsWith('.yaml'));

describe('without a reading', () => {
  it('there are fourteen golden ledgers', () => {
    expect(cases.length).toBe(14);
  });

  it.each(cases)(
    '%s: everything is the plain replay, to the last bit, and every p50 is its figure',
    async (name) => {
      const file = await readLedger(readFileSync(new URL(name, folder)));
      const { as_of } = JSON.parse(
        readFileSync(new URL(name.replace('.yaml', '.expected.json'), folder), 'utf8'),
      );
      const clockMs = Date.parse(as_of);
      const shop = openShop(file.header!);
      const { entries } = await settle(file.events, clockMs);
      const steps: unknown[] = [];
      const plain = replay(shop, entries, clockMs, {
        watch: ({ baths, wash, move }) =>
          steps.push(structuredClone({ baths: baths.map(copyBath), wash, move })),
      });
      const seen: unknown[] = [];
      const { factors, replayed, belief } = believe(shop, entries, clockMs, {
        watch: ({ baths, wash, move }) =>
          seen.push(structuredClone({ baths: baths.map(copyBath), wash, move })),
      });
      expect(replayed).toEqual(plain);
      expect(seen).toEqual(steps);
      expect(factors).toEqual(priorMedians(shop));
      expect(belief.compared).toEqual([]);
      const { estimates } = statusOf(shop, entries, clockMs);
      estimates.forEach(({ resinG, ipaG, waterG }, place) => {
        expect(resinG.p50).toBe(plain.baths[place]!.resin.reduce((sum, grams) => sum + grams, 0));
        expect(ipaG.p50).toBe(plain.baths[place]!.ipaG);
        expect(waterG.p50).toBe(plain.baths[place]!.waterG);
      });
    },
  );
});

it('the watcher gets the belief as it is at that event, and readings only where something learns', () => {
  const header = headerOf({ dirty: OPEN, clean: OPEN });
  const drafts: Draft[] = [
    ...FILLED,
    { what: 'wash', parts: { model: 6 }, hour: 1 },
    { what: 'reading', bath: 'dirty', resin_wt_pct: 0.3, hour: 2 },
    { what: 'inspect', result: 'ok', hour: 3 },
    { what: 'wash', parts: { model: 6 }, hour: 4 },
  ];
  const { shop, entries, clockMs } = believing(header, drafts);
  const seen: [string, number][] = [];
  const watch: Parameters<typeof believe>[3] = {
    watch: ({ entry }, { compared }) => seen.push([entry.event.what, compared.length]),
  };
  believe(shop, entries, clockMs, watch);
  expect(seen).toEqual([['fill', 0], ['fill', 0], ['wash', 0], ['reading', 1], ['wash', 1]]); // biome-ignore format: pairs
  seen.length = 0;
  believe(shop, entries, clockMs, { ...watch, watchRecords: true });
  expect(seen.map(([what]) => what)).toEqual(['fill', 'fill', 'wash', 'reading', 'inspect', 'wash']);
});
