import { mersenne } from 'pure-rand/generator/mersenne';

/** Numbers from 0 up to 1, the same for the same seed. */
export function randomOf(seed) {
  const generator = mersenne(seed);
  return () => (generator.next() >>> 0) / 2 ** 32;
}

/** A whole number from 0 up to and without `below`. */
export function wholeBelow(random, below) {
  return Math.floor(random() * below);
}

export function oneOf(random, list) {
  return list[wholeBelow(random, list.length)];
}
