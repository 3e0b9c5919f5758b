/**
 * Which ids a ledger has used, in eight bytes each. It may take an id for used that is not, about once in 2^53 times the number of
 * ids; never the other way round.
 */

/** Sorted. */
export type Ids = Float64Array;

/** Ids as they come. */
export function hashesOf(ids: readonly string[]): Float64Array {
  return Float64Array.from(ids, longHashOf);
}

/** All of them, sorted. */
export function idsOf(lists: readonly Float64Array[]): Ids {
  const all = new Float64Array(lists.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const list of lists) {
    all.set(list, at);
    at += list.length;
  }
  return all.sort();
}

/** Whether an id may stand there twice. */
export function holdTwice(ids: Ids): boolean {
  return ids.some((hash, place) => hash === ids[place + 1]);
}

export function mayHold(ids: Ids, id: string): boolean {
  const hash = longHashOf(id);
  let low = 0;
  let high = ids.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ids[middle]! < hash) low = middle + 1;
    else high = middle;
  }
  return ids[low] === hash;
}

/** FNV-1a over the two bytes of each UTF-16 unit, 32 bits. */
export function hashOf(id: string, basis: number = 0x811c9dc5): number {
  let hash = basis;
  for (let at = 0; at < id.length; at += 1) {
    hash = Math.imul(hash ^ (id.charCodeAt(at) & 0xff), 0x01000193);
    hash = Math.imul(hash ^ (id.charCodeAt(at) >>> 8), 0x01000193);
  }
  return hash >>> 0;
}

/** Two of them, from two beginnings, as one whole number of 53 bits. */
function longHashOf(id: string): number {
  return hashOf(id) * 2 ** 21 + (hashOf(id, 0x2545f491) >>> 11);
}
