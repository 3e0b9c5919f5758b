import { describe, expect, it } from 'vitest';
import { painter } from '../../src/render/paint.ts';
import { aligned, tabSeparated } from '../../src/render/table.ts';

const table = {
  head: ['what', 'mL'],
  rows: [
    ['fill', '4000'],
    ['top-up', '9'],
  ],
  right: [1],
};

describe('tables', () => {
  it('off a terminal keep one record a line, whatever a cell holds', () => {
    const text = tabSeparated({ head: ['a', 'b'], rows: [['two\nlines', 'a\ttab']] });
    expect(text).toBe('a\tb\ntwo lines\ta tab');
  });

  it('on a terminal stand in columns, numbers to the right, without a frame', async () => {
    const plain = painter({ choice: 'never', env: {}, stream: {} });
    const lines = (await aligned(table, plain)).split('\n').filter((line) => /[a-z]/.test(line));
    const ends = lines.map((line) => line.length);
    expect(new Set(ends).size).toBe(1);
    expect(lines.join('')).not.toMatch(/[│┌┐└┘|+]/);
  });

  it('wrap the last column where the terminal is narrower', async () => {
    const plain = painter({ choice: 'never', env: {}, stream: {} });
    const words = Array.from({ length: 30 }, (_, i) => `word${i}`);
    const long = {
      head: ['id', 'details'],
      rows: [
        ['abcde', words.join(' ')],
        ['fghij', 'short'],
      ],
    };
    const lines = (await aligned(long, plain, 60)).split('\n');
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(60);
    expect(lines.join(' ').match(/word\d+/g)).toEqual(words);
    expect((await aligned(long, plain)).split('\n').filter((line) => line.includes('word'))).toHaveLength(1);
  });

  it('stand closer where numbers alone would not fit', async () => {
    const plain = painter({ choice: 'never', env: {}, stream: {} });
    const head = Array.from({ length: 8 }, (_, column) => `source${column}`);
    const numbers = { head, rows: [head.map(() => '0.7851')], right: head.map((_, column) => column) };
    // Eight columns of seven signs: 56, and seven gaps.
    expect((await aligned(numbers, plain, 70)).split('\n')[0]!).toHaveLength(70);
    expect((await aligned(numbers, plain, 69)).split('\n')[0]!).toHaveLength(63);
  });
});
