import { describe, expect, it } from 'vitest';
import { checkEvent, explainEvent } from '../../src/ledger/check-event.ts';

function found(set: unknown, of = 'k3f9') {
  const event = { id: 'a1', at: '2026-11-02T07:40:00-04:00', what: 'amend', of, set, why: 'typed wrong' };
  const findings = explainEvent(event, null, () => undefined);
  expect(checkEvent(event, null) === null).toBe(findings.length > 0);
  return findings;
}
const told = (set: unknown) =>
  found(set).map(({ code, path, atKey }) => [code, ...path, ...(atKey ? ['key'] : [])].join(' '));

describe('what an amend sets', () => {
  it.each<[object, string[]]>([
    [{ ml: 3000 }, []],
    [{ at: '2026-11-02T08:00:00-04:00', by: 'NB', note: 'seen', logged: '2026-11-02T08:00:00-04:00' }, []],
    // Whether a value suits the event is seen when it is applied.
    [{ ml: 0, hollow: false, note: '', parts: {}, minutes: [] }, []],
    [{ sg_ref: 'none' }, []],
    [{}, ['empty set']],
    [{ id: 'b' }, ['amend-fixed-key set id key']],
    [{ what: 'drain' }, ['amend-fixed-key set what key']],
    [{ of: 'k3f8' }, ['amend-fixed-key set of key']],
    [{ id: null }, ['amend-fixed-key set id key']],
    [{ mll: 5 }, ['unknown-key set mll key']],
    [{ colour: null }, ['unknown-key set colour key']],
    [{ ml: null }, ['wrong-type set ml']],
    [
      { ml: 5, colour: 'blue', what: 'fill', bath: null },
      ['unknown-key set colour key', 'amend-fixed-key set what key', 'wrong-type set bath'],
    ],
  ])('%j: %j', (set, wanted) => {
    expect(told(set)).toEqual(wanted);
  });

  it('is a map that changes something', () => {
    expect(found({})).toMatchObject([
      {
        message: expect.stringMatching(/^Cannot take set: \{\}/),
        help: expect.stringMatching(/\{ml: 3000\}/),
      },
    ]);
    expect(told([])).toEqual(['wrong-type set']);
  });

  it.each(['id', 'what', 'of'])('is not "%s", and the way round it names the event', (key) => {
    const [one] = found({ [key]: 'x' }, 'zz7');
    expect(one!.message).toBe(`Cannot change "${key}" by an amend`);
    expect(one!.help).toContain('{what: void, of: "zz7", why: ');
  });

  it.each([
    ['minuts', 'Did you mean "minutes"?'],
    ['Solvent', 'Did you mean "solvent"?'],
    ['zzzqqq', 'Use the keys of the event it amends'],
  ])('is no key "%s": %s', (key, help) => {
    expect(found({ [key]: 1 })).toMatchObject([{ message: `Cannot use the key "${key}" under "set"`, help }]);
  });

  it('cannot take a value away', () => {
    expect(found({ lot: null })).toMatchObject([
      { message: 'Cannot take lot: nothing under "set"', help: expect.stringMatching(/new value.*void/) },
    ]);
  });
});
