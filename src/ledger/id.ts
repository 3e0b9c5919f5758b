const LETTERS = '23456789abcdefghjkmnpqrstuvwxyz';
const LENGTH = 5;

/**
 * A fresh event id: five characters without those that look alike (0 o, 1 i l). `random` gives numbers in [0, 1).
 * Ids are drawn and not counted, so that two people's ledgers merge without clashes.
 */
export function newId(taken: (id: string) => boolean, random: () => number): string {
  for (;;) {
    let id = '';
    while (id.length < LENGTH) {
      id += LETTERS[Math.floor(random() * LETTERS.length)];
    }
    if (!taken(id)) {
      return id;
    }
  }
}
