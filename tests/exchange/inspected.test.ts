import { describe, expect, it } from 'vitest';
import { inspectionsOf } from '../../src/exchange/inspected.ts';
import type { Entry } from '../../src/ledger/event.ts';

const entry = (nth: number, event: object): Entry => ({
  event: { id: `e${nth}`, at: '', ...event } as Entry['event'],
  atMs: nth,
  line: nth,
  place: nth,
});
const found = (list: Entry[]) =>
  Object.fromEntries([...inspectionsOf(list)].map(([id, all]) => [id, all.map(({ event }) => event.id)]));

describe('an inspection belongs to', () => {
  it('the wash it names, else the latest wash before it of each of its cases', () => {
    const list = [
      entry(0, { what: 'wash', cases: ['1', '2'] }),
      entry(1, { what: 'wash', cases: ['2'] }),
      entry(2, { what: 'inspect', wash: 'e0', cases: ['2'], result: 'ok' }),
      entry(3, { what: 'inspect', cases: ['1', '2'], result: 'sticky' }),
      entry(4, { what: 'wash', cases: ['1'] }),
      entry(5, { what: 'inspect', cases: ['3'], result: 'ok' }),
      entry(6, { what: 'inspect', result: 'ok' }),
    ];
    expect(found(list)).toEqual({ e0: ['e2', 'e3'], e1: ['e3'] });
  });
});
