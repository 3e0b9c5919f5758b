import { describe, expect, it } from 'vitest';
import { readNumber } from '../../src/exchange/decimals.ts';

const read = (text: string, on: Partial<Parameters<typeof readNumber>[1]> = {}) => {
  const found = readNumber(text, { mark: undefined, ...on });
  return 'value' in found ? found.value : found.inTwoWays ? 'in two ways' : 'no number';
};

describe('numbers of spreadsheets', () => {
  // What each means is read off by hand, by the decimal signs and the parting of thousands of ISO 80000-1, 7.3, and of common practice.
  it.each([
    ['12', 12],
    ['0.785', 0.785],
    ['0,785', 0.785],
    ['4,5', 4.5],
    ['-3,25', -3.25],
    ['1.377', 'in two ways'],
    ['1,500', 'in two ways'],
    ['1.234,5', 1234.5],
    ['1,234.5', 1234.5],
    ['1.234.567', 1234567],
    ['1 234,5', 1234.5],
    ['1\u202f234', 1234],
    ["1'234.50", 1234.5],
    ['12,34,5', 'no number'],
    ['1.23.4', 'no number'],
    ['12.345.67', 'no number'],
    ['1e3', 'no number'],
    ['0x10', 'no number'],
    ['six', 'no number'],
    ['', 'no number'],
    ['1 2', 'no number'],
    ['NaN', 'no number'],
    ['∞', 'no number'],
  ])('%s', (text, value) => {
    expect(read(text)).toBe(value);
  });

  it('of two meanings the one that was said', () => {
    expect(read('1,500', { mark: 'comma' })).toBe(1.5);
    expect(read('1,500', { mark: 'point' })).toBe(1500);
    expect(read('1.377', { mark: 'point' })).toBe(1.377);
    expect(read('1.377', { mark: 'comma' })).toBe(1377);
  });

  it('with units, in the cell or in the heading; that of the cell counts', () => {
    expect(read('1,5 h', { quantity: 'duration' })).toBe(90);
    expect(read('1h15', { quantity: 'duration' })).toBe(75);
    expect(read('overnight', { quantity: 'duration' })).toBe(720);
    expect(read('0,5', { quantity: 'duration', unit: 'h' })).toBe(30);
    expect(read('20 min', { quantity: 'duration', unit: 'h' })).toBe(20);
    expect(read('4 L', { quantity: 'volume' })).toBe(4000);
    expect(read('72 °F', { quantity: 'temperature' })).toBeCloseTo(22.222, 3);
    expect(read('5,2 %')).toBe(5.2);
    expect(read('4 bananas', { quantity: 'volume' })).toBe('no number');
    expect(read('4 L')).toBe('no number');
  });

  it('says both readings', () => {
    expect(readNumber('1,500', { mark: undefined })).toMatchObject({
      message: 'Cannot tell what "1,500" means, 1.500 or 1500',
      help: expect.stringContaining('--decimal'),
    });
  });
});
