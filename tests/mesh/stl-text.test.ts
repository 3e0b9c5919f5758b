/** Facets of text are read in one go where they are written as usual, else word by word: in capitals, for one. Both must agree. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { measureMesh } from '../../src/mesh/measure.ts';
import { fileOf, sphere, textStl } from './solids.ts';

const PART = textStl(sphere(5, 3));
const SIGNS = [
  ...' \t\n\r\v\0\x01.-+e0179xF',
  'vertex ',
  ' endloop',
  'facet normal 0 0 0 ',
  '1e-400',
  ' 1e7 ',
];
const MOST_TESTED = 600;

/** A sign or word that comes in, or goes. */
const damage = fc.record({
  at: fc.nat(PART.length),
  out: fc.nat(12),
  put: fc.constantFrom('', ...SIGNS),
});

const bytesOf = (text: string) => Uint8Array.from(text, (sign) => sign.charCodeAt(0));

async function told(file: Uint8Array, piece: number) {
  const measured = await measureMesh(fileOf(file, piece));
  return 'message' in measured ? { ...measured, message: measured.message.toLowerCase() } : measured;
}

const small = (byte: number) => byte >= 97 && byte <= 122;
const inCapitals = (file: Uint8Array) => file.map((byte) => (small(byte) ? byte - 32 : byte));

it('a damaged file of text is told of alike in small letters and in capitals, in whatever pieces it comes', async () => {
  let [measured, refused] = [0, 0];
  await fc.assert(
    fc.asyncProperty(
      fc.array(damage, { maxLength: 2 }),
      fc.integer({ min: 40, max: 5000 }),
      async (damages, piece) => {
        let text = PART;
        for (const { at, out, put } of damages) text = text.slice(0, at) + put + text.slice(at + out);
        const file = bytesOf(text);
        const one = await told(file, piece);
        expect(one).toEqual(await told(inCapitals(file), 4096));
        if ('message' in one) refused += 1;
        else measured += 1;
      },
    ),
    { numRuns: MOST_TESTED },
  );
  // It would say nothing if all were of one kind.
  expect(Math.min(measured, refused)).toBeGreaterThan(MOST_TESTED / 10);
});

it('a word may be of 400 signs, and no more, wherever a piece of the file ends', async () => {
  // Of the second facet.
  const long = (length: number) =>
    bytesOf(PART.replace(/(endloop\nendfacet\n[\s\S]*?vertex) \S+/, `$1 0.${'0'.repeat(length - 2)}`));
  for (const piece of [100, 350, 5000]) {
    expect(await told(long(400), piece)).toHaveProperty('triangles');
    expect(await told(long(401), piece)).toMatchObject({ line: 11 });
  }
});
