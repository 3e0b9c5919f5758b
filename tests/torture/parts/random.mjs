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

/** In an order drawn afresh; Fisher and Yates. */
export function shuffled(random, list) {
  const order = [...list];
  for (let last = order.length - 1; last > 0; last -= 1) {
    const other = wholeBelow(random, last + 1);
    [order[last], order[other]] = [order[other], order[last]];
  }
  return order;
}
