/** What the manual says besides the commands, and the signs of its texts. */

/** What a command can end with. */
export const EXITS: readonly (readonly [number, string])[] = [
  [0, 'done; of due: nothing is due; of baths --exit-code: keep'],
  [1, 'of due and baths --exit-code: soon'],
  [2, 'of due and baths --exit-code: change or stop'],
  [3, 'of due and baths --exit-code: could not judge'],
  [64, 'what was typed cannot be used'],
  [65, 'the ledger or a value cannot be'],
  [66, 'no such file'],
  [70, 'a fault of the program'],
  [73, 'cannot create a file'],
  [74, 'the disk cannot be read or written'],
  [75, 'the ledger is locked; try again'],
  [78, 'configuration'],
  [130, 'interrupted'],
];

export const ENVIRONMENT: readonly (readonly [string, string])[] = [
  ['BATHBOOK_LEDGER', 'the ledger, where --ledger names none'],
  ['BATHBOOK_BY', 'initials of who logs, where --by names none'],
  ['NO_COLOR', 'when not empty: no colour'],
  ['FORCE_COLOR', 'colour off a terminal too, unless 0'],
  ['COLUMNS', 'width to write in, off a terminal'],
];

export const FILES: readonly (readonly [string, string])[] = [
  ['bathbook.yaml', 'the ledger, in this folder or one above'],
  ['~/.local/share/bathbook/bathbook.yaml', 'the ledger where no other is found; in $XDG_DATA_HOME when set'],
  ['~/.cache/bathbook', 'what can be made again; deleting it costs a moment. In $XDG_CACHE_HOME when set'],
];

export const CAUTIONS =
  'IPA is highly flammable: no flame, spark or heater near the baths, lids on, air moving. Spent solvent is ignitable waste: closed and labelled containers, never down the drain, never left to evaporate. The safety data sheets, the resin’s instructions for use, your local codes and your fire authority decide. This program estimates; it never says that a part is clean or safe to use.';
