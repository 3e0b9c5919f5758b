/**
 * Which ids a ledger has used, in four bytes each. It may take an id for used that is not, once in four thousand million times
 * the number of ids; never the other way round.
 */

/** Sorted. */
export type Ids = Uint32Array;

/** The ids of both. */
export function withIds(ids: Ids, more: readonly string[]): Ids {
  const all = new Uint32Array(ids.length + more.length);
  all.set(ids);
  all.set(Uint32Array.from(more, hashOf), ids.length);
  return all.sort();
}

export function mayHold(ids: Ids, id: string): boolean {
  const hash = hashOf(id);
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
export function hashOf(id: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < id.length; at += 1) {
    hash = Math.imul(hash ^ (id.charCodeAt(at) & 0xff), 0x01000193);
    hash = Math.imul(hash ^ (id.charCodeAt(at) >>> 8), 0x01000193);
  }
  return hash >>> 0;
}
