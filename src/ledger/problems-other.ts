import type { ProblemRow } from './problems-file.ts';

/** What settling corrections and references can find. */
export const CORRECTION_PROBLEMS = {
  'unknown-id': [
    'Unknown id',
    'A correction, inspection or weighing names an event that is not there, or not a wash.',
    'Look the id up with `bathbook entries`.',
  ],
  'correction-circle': [
    'Corrections in a circle',
    'Corrections that name each other in a circle say nothing.',
    'Delete the one meant for another event.',
  ],
  'amend-breaks-event': [
    'Amend that breaks its event',
    'With the new values the event would not pass the checks of its kind.',
    'Correct the values under `set`.',
  ],
} satisfies Record<string, ProblemRow>;

/** What `check --strict` asks for beyond what the program needs. */
export const STRICT_PROBLEMS = {
  'out-of-order': [
    'Out of order',
    'An event stands below a later one and does not say that it was logged afterwards.',
    'Add `logged`.',
  ],
  'logged-in-future': [
    'Logged in the future',
    'An entry cannot have been typed at a time that is still to come.',
    'Correct `logged`.',
  ],
  'no-initials': ['No initials', 'A record says who made it.', 'Add `by`.'],
  'long-soak': [
    'Long soak',
    'More than 15 minutes of soak in all is held to harm parts (common practice, no source).',
    'Check the minutes and the parts.',
  ],
  'no-lot': ['Delivery without lot', 'Without its lot a delivery cannot be traced.', 'Add `lot`.'],
  'no-container': [
    'Waste without container',
    'Liquid that leaves a bath goes into a named waste container.',
    'Add `into`.',
  ],
  'no-temperature': [
    'Reading without temperature',
    'Density, SG, Brix and index change with the temperature of the liquid, and the head does not give that of the room: 22 °C is assumed.',
    'Add `temp_c` to the reading, or `room_c` to the head.',
  ],
  'no-cases': ['Wash without case', 'Parts for body contact are traced by case.', 'Add `cases`.'],
  'unused-name': [
    'Unused name',
    'A name in the head that no event uses is often a misspelt one.',
    'Take it out or correct the events.',
  ],
  'reclaimed-in-clean': [
    'Reclaimed solvent in the clean bath',
    'Reclaimed solvent brings residue to the last rinse, and water that distilling does not take out: it is for the dirty bath. A move that names no solvent pours the one poured last.',
    'Name the fresh solvent that was poured, or refill the clean bath with fresh solvent.',
  ],
  'weighed-voided': [
    'Weighing of a voided wash',
    'A weighing says what its wash carried over; with the wash voided it teaches nothing.',
    'Name the wash that took its place, or void the weighing as well.',
  ],
} satisfies Record<string, ProblemRow>;

/** What cannot have happened at the bench as written; found when the events are replayed. */
export const BENCH_PROBLEMS = {
  'bath-empty': [
    'Bath empty',
    'A bath is used at a time when it holds no solvent; most often its fill was not logged, or carries a later time.',
    'Log the fill with its time, or correct the time of the event.',
  ],
  'bath-not-empty': [
    'Bath not empty',
    'A fill is for an empty bath. To pour more in is a top-up, to change the liquid a refill.',
    'Void the fill and log what was done.',
  ],
  'bath-holds-less': [
    'Bath holds less',
    'More liquid is taken out of a bath than it holds at that time.',
    'Correct the amount, or write `all: true`.',
  ],
  'bath-runs-dry': [
    'Bath would run dry',
    'A load carries out more liquid than the bath holds.',
    'Check parts and `drag_ml` of the wash, or log the top-up that came before it.',
  ],
  'solvent-weak': [
    'Solvent too weak',
    'The solvent is below 40 wt% IPA, where the density data end; the model does not go on in silence.',
    'Log the refill that was done, or refill the bath.',
  ],
  'no-solvent': [
    'No solvent named',
    'The event names no solvent and none was poured before it, so nobody knows what was.',
    'Add `solvent`.',
  ],
} satisfies Record<string, ProblemRow>;

/** What the disk can refuse, with the exit code. */
export const DISK_PROBLEMS = {
  'no-such-file': [
    66,
    'No such file',
    'There is nothing under this name.',
    'Check the name, or run `bathbook setup`.',
  ],
  'is-a-folder': [66, 'A folder', 'The name is a folder.', 'Name the file inside it.'],
  'not-a-file': [66, 'Not a file', 'The name is a device.', 'Name a ledger file.'],
  'cannot-read': [
    74,
    'Cannot read',
    'The system does not let the file be read.',
    'Ask for permission, check the disk.',
  ],
  'cannot-write': [74, 'Cannot write', 'The system does not let the file be changed.', 'Ask for permission.'],
  'write-failed': [
    74,
    'Write failed',
    'The disk is full or failed in the middle; the ledger was cut back to what it was.',
    'Make room, check the disk, try again.',
  ],
  'cannot-create': [73, 'Cannot create', 'The file cannot be made there.', 'Name another folder.'],
  'already-exists': [
    73,
    'Exists already',
    'A new ledger never takes the place of a file.',
    'Name another file.',
  ],
  'folder-read-only': [
    73,
    'Folder is read-only',
    'The lock is a file beside the ledger and cannot be made.',
    'Move the ledger or ask for permission.',
  ],
  locked: [
    75,
    'Locked',
    'Another program is writing to the ledger. The lock of a program that died on this machine is broken by itself, that of another machine never.',
    'Try again; delete the lock only when its owner is no longer running.',
  ],
  'changed-meanwhile': [
    75,
    'Changed meanwhile',
    'The file was saved by another program between reading and writing.',
    'Try again.',
  ],
  'not-read-back': [
    70,
    'Line not read back',
    'The line about to be written would not be read as the same event.',
    'Report it; nothing was written.',
  ],
  'tail-moved': [
    0,
    'Tail moved aside',
    'An incomplete last line was moved to a file of its own before writing.',
    'Log that event again if it is missing.',
  ],
  'nothing-to-undo': [65, 'Nothing to undo', 'The ledger has no events.', 'Log one first.'],
  'not-last-line': [
    65,
    'Not the last line',
    'Only the very last line can be cut off, and only when nothing refers to it.',
    'Void the event.',
  ],
} satisfies Record<string, readonly [number, ...ProblemRow]>;
