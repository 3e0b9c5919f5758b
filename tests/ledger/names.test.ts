import { describe, expect, it } from 'vitest';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { brimMl, checkNames, knownNames, washBaths } from '../../src/ledger/names.ts';
import { catalogue } from '../../src/substance/catalogue.ts';

const TUB = { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 };
const head = (...baths: string[]): Header =>
  ({
    format: 'bathbook/1',
    shop: { name: 'Cobble Hill Bench' },
    baths: Object.fromEntries(baths.map((bath) => [bath, TUB])),
    solvents: { ipa99: { ipa_wt_pct: 99.5 } },
    resins: { grey: { density_g_ml: 1.1, viscosity_mpa_s: 400 } },
    parts: { model: { shape: 'solid', volume_ml: 20 } },
  }) as Header;

describe('where a load goes that names no baths', () => {
  it.each([
    [
      ['dirty', 'clean'],
      ['dirty', 'clean'],
    ],
    [
      ['clean', 'dirty'],
      ['dirty', 'clean'],
    ],
    [
      ['spare', 'clean', 'dirty'],
      ['dirty', 'clean'],
    ],
    [
      ['first', 'second', 'third'],
      ['first', 'second', 'third'],
    ],
    [['single'], ['single']],
    [
      ['dirty', 'other'],
      ['dirty', 'other'],
    ],
    [
      ['other', 'clean'],
      ['other', 'clean'],
    ],
  ])('of %j: %j', (baths, way) => {
    expect(washBaths(head(...baths))).toEqual(way);
  });
});

it('a tub holds what it holds at the mark and the freeboard above it, or what is said', () => {
  // 260 mm × 180 mm × 50 mm = 2340 cm³.
  expect(brimMl(TUB)).toBe(6340);
  expect(brimMl({ ...TUB, tub_ml: 7000 })).toBe(7000);
});

describe('a name that nobody knows', () => {
  const at = '2026-11-20T08:00:00-04:00';
  const found = (event: Record<string, unknown>, header = head('dirty', 'clean')) =>
    checkNames({ id: 'a', at, ...event } as unknown as LedgerEvent, knownNames(header, catalogue)).map(
      ({ code, path, message }) => [code, path?.join(' '), /"([^"]*)"/.exec(message)?.[1]].join(' '),
    );

  it.each([
    [
      { what: 'fill', bath: 'dirt', solvent: 'ipa98' },
      ['unknown-bath bath dirt', 'unknown-solvent solvent ipa98'],
    ],
    [{ what: 'fill', bath: 'dirty', solvent: 'ipa99' }, []],
    [{ what: 'top-up', bath: 'dirty', to: 'mark' }, []],
    [{ what: 'drain', bath: 'spare' }, ['unknown-bath bath spare']],
    [
      { what: 'wash', resin: 'gray', baths: ['dirty', 'cleen'], parts: { model: 1, modle: 2 } },
      ['unknown-resin resin gray', 'unknown-bath baths 1 cleen', 'unknown-part parts modle modle'],
    ],
    [{ what: 'wash', resin: 'grey', baths: ['dirty', 'clean'], parts: { model: 1 } }, []],
    [{ what: 'rotate' }, []],
    [{ what: 'top-up', bath: 'dirty', from: 'clean' }, []],
  ] as [Record<string, unknown>, string[]][])('%j: %j', (event, told) => {
    expect(found(event)).toEqual(told);
  });

  it.each([
    [{ what: 'rotate' }, ['unknown-bath what dirty', 'unknown-bath what clean']],
    [{ what: 'top-up', bath: 'single', from: 'clean' }, ['unknown-bath from clean']],
    [{ what: 'top-up', bath: 'single', from: 'stock' }, []],
    [{ what: 'wash', parts: { model: 1 } }, []],
  ] as [Record<string, unknown>, string[]][])('in a shop of one bath, %j: %j', (event, told) => {
    expect(found(event, head('single'))).toEqual(told);
  });

  it('is told with what was meant, and how to add it', () => {
    const [bath, part] = [
      { what: 'drain', bath: 'dirt' },
      { what: 'wash', parts: { zzz: 1 } },
    ].map(
      (event) =>
        checkNames(
          { id: 'a', at, ...event } as unknown as LedgerEvent,
          knownNames(head('dirty', 'clean'), catalogue),
        )[0]!,
    );
    expect(bath).toMatchObject({
      message: 'Cannot find the bath "dirt", the head has dirty, clean',
      help: expect.stringMatching(
        /^Did you mean "dirty"\? If not, add it to the head under "baths:", like dirt: \{/,
      ),
    });
    expect(part).toMatchObject({
      message: 'Cannot find the part "zzz" in the head or the catalogue',
      help: expect.stringMatching(/^Add it to the head under "parts:", like zzz: \{/),
      atKey: true,
    });
    expect(bath).not.toHaveProperty('atKey');
  });
});
