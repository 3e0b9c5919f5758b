/** What `stock` does not take, and texts that would steer a terminal. */
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, line, SHOP } from './stock-bench.ts';

const main = bundled();
const RECEIVED = line(
  'recv1',
  '2026-10-29T09:00',
  'stock, solvent: ipa99, received_ml: 20000, lot: "K-2291", price: 148',
);

describe('what cannot be', () => {
  const bench = benchOf(main, [RECEIVED, ...FILLS]);
  const before = bench.text();

  it.each([
    [['recieved', 'ipa99', '10 L'], 'by "recieved"', 'Did you mean "received"?'],
    [['received', 'ipa9', '10 L'], 'a solvent named "ipa9"', 'Did you mean "ipa99"?'],
    [['received', 'ipa99'], 'the amount is missing', 'bathbook stock received ipa99 10 L'],
    [['received', '10 L'], 'the solvent is missing', 'solvents are ipa99'],
    [['received', 'ipa99', '10', 'kg'], 'Cannot', 'Amounts are like 4 L'],
    [['received', 'ipa99', '-3 L'], 'Cannot use the option "-3 L"', ''],
    [['received', 'ipa99', '0 L'], 'Cannot take an amount of 0', ''],
    [['received', 'ipa99', '10 L', '--price', 'dear'], '--price "dear"', '--price 7.40/L'],
    // A comma before three digits could part thousands.
    [['received', 'ipa99', '10 L', '--price', '1,500'], '--price "1,500"', ''],
    [['received', 'ipa99', '10 L', '--price', '-5'], '--price "-5"', ''],
    [['counted', 'ipa99', '7 L', '--lot', 'A'], '--lot with bathbook stock counted', '"stock received"'],
    [['--price', '74'], '--price with bathbook stock', ''],
    [['--at', 'yesterday'], '--at with bathbook stock', 'use --as-of'],
  ])('stock %j is refused with 64, and nothing is written', (args, message, help) => {
    const { code, err, out } = bench.say('stock', ...args);
    expect(code).toBe(64);
    expect(out).toBe('');
    expect(err).toContain(message);
    expect(err).toContain(help);
    expect(bench.text()).toBe(before);
  });

  it('is not written, and shown, in a file that holds errors: 65', () => {
    const broken = benchOf(main, [...FILLS, '  - {id: "x", at: yesterday, what: stock}']);
    expect(broken.say('stock').code).toBe(65);
    expect(broken.say('stock', 'counted', 'ipa99', '1 L').code).toBe(65);
  });
});

describe('hostile texts', () => {
  it('reach no terminal as they are', () => {
    const head = SHOP.replace('Cove Street Bench', '"Cove \\u001b[2J Bench"');
    const bench = benchOf(
      main,
      [
        line(
          'recv1',
          '2026-10-29T09:00',
          'stock, solvent: ipa99, received_ml: 9000, lot: "K\\u001b]0;x\\u0007", price: 9',
        ),
        ...FILLS,
      ],
      head,
    );
    const shown =
      bench.say('stock').out + bench.say('stock', 'received', 'ipa99', '1 L', '--lot', 'a\u001b[2Jb').out;
    expect(shown).toContain('received');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
    expect(shown).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f]/);
  });
});
