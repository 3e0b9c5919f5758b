import { describe, expect, it } from 'vitest';
import { typedList } from '../../src/commands/typed-list.ts';

// The rules are the program's own, told in the README under "Catching up".
describe('lists as they are typed', () => {
  it.each([
    ['5,5', ['5', '5']],
    ['4,5,5', ['4', '5', '5']],
    ['5 5', ['5', '5']],
    ['5, 4', ['5', '4']],
    ['4.5,5', ['4.5', '5']],
    ['5 min, 4 min', ['5 min', '4 min']],
    ['5 min 90 s', ['5 min', '90 s']],
    ['4,5; 5', ['4,5', '5']],
    ['4,5 ; 5,5', ['4,5', '5,5']],
    ['1.25', ['1.25']],
    ['1m30s,5', ['1m30s', '5']],
    ['', []],
  ])('"%s"', (text, expected) => {
    expect(typedList(text)).toEqual(expected);
  });

  it.each([
    ['4,5 5', '4.5, 5', '4, 5, 5'],
    ['4,5, 5', '4.5, 5', '4, 5, 5'],
    ['4,5 5,5', '4.5, 5.5', '4, 5, 5, 5'],
  ])('"%s" may be two things', (text, decimals, values) => {
    expect(typedList(text)).toEqual({ either: [decimals, values] });
    expect(typedList(decimals)).toEqual(decimals.split(', '));
    expect(typedList(values)).toEqual(values.split(', '));
  });
});
