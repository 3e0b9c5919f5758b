import { describe, expect, it } from 'vitest';
import { withExcerpt } from '../../src/ledger/excerpt.ts';

const TEXT = `format: bathbook/1
events:
  - {id: "a", at: 2026-11-20T08:00:00Z, what: wash, minutes: [5, 500], logged: 2027-01-01T00:00:00Z}
  - {id: "b", at: 2026-11-20T08:00:00Z, what: void, of: "zz", why: "of: a"}
  - {id: "c", at: 2026-11-20T08:00:00Z, what: inspect, wash:   nn, result: ok}
  - {id: "d", at: 2026-11-20T08:00:00Z, what: amend, of: "a", set: {minutes: [1, 2], note: "}"}, why: "x"}
  - {id: "e", at: 2026-11-20T08:00:00Z, what: amend, of: "a", set: 5, why: "x"}`;

describe('the place of a problem that knows its line alone', () => {
  it.each([
    ['unknown-id', 4, '"zz"'],
    ['unknown-id', 5, 'nn'],
    ['correction-circle', 4, '"zz"'],
    ['amend-breaks-event', 6, '{minutes: [1, 2], note: "}"}'],
    ['amend-breaks-event', 7, '5'],
    ['long-soak', 3, '[5, 500]'],
    ['out-of-order', 3, '2026-11-20T08:00:00Z'],
    ['logged-in-future', 3, '2027-01-01T00:00:00Z'],
    ['another', 3, TEXT.split('\n')[2]!.trimStart()],
    ['long-soak', 1, 'format: bathbook/1'],
  ])('%s in line %i is %s', (code, line, culprit) => {
    const { column, length, excerpt } = withExcerpt(TEXT, { code, message: 'm', severity: 'error', line });
    expect(excerpt).toBe(TEXT.split('\n')[line - 1]);
    expect(excerpt!.slice(column! - 1, column! - 1 + length!)).toBe(culprit);
  });

  it('is left as it is where there is none, or there is one already', () => {
    const none = { code: 'long-soak', message: 'm', severity: 'error' } as const;
    const some = { ...none, line: 3, excerpt: 'as told' };
    expect(withExcerpt(TEXT, none)).toBe(none);
    expect(withExcerpt(TEXT, some)).toBe(some);
  });

  it('of an empty line is one sign long', () => {
    expect(withExcerpt('a\n\nb', { code: 'x', message: 'm', severity: 'error', line: 2 })).toMatchObject({
      column: 1,
      length: 1,
      excerpt: '',
    });
  });
});
