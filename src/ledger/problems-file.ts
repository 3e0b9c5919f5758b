/** A problem in words: its title, why the program minds, what to do about it. */
export type ProblemRow = readonly [title: string, meaning: string, remedy: string];

/** What reading the file can find. */
export const FILE_PROBLEMS = {
  'empty-file': [
    'Empty file',
    'The file holds nothing but blanks and remarks.',
    'Delete it and make a ledger with `bathbook setup`.',
  ],
  'not-text': [
    'Not text',
    'The file holds zero bytes, as pictures, spreadsheets and UTF-16 files do.',
    'Name the ledger with `--ledger`, or save the file as UTF-8.',
  ],
  'bad-utf8': [
    'Not UTF-8',
    'A character was saved in another encoding, so nobody can tell what it was.',
    'Save the file as UTF-8 and type that character again.',
  ],
  'control-character': [
    'Control character',
    'A character that no YAML file can hold, like one byte of a damaged file, or a carriage return inside a line.',
    'Delete it, and look whether it took the place of another character.',
  ],
  'missing-format': [
    'No format line',
    'The first key says which format the rest has; without it the program does not guess.',
    'Begin the file with `format: bathbook/1`.',
  ],
  'unknown-format': [
    'Unknown format',
    'The format named is none that ever existed.',
    'Write `format: bathbook/1` if the file is a ledger.',
  ],
  'newer-format': [
    'Newer format',
    'The ledger was made by a later version. This one neither reads nor writes it, so as to spoil nothing.',
    'Update the program.',
  ],
  'missing-events': [
    'No events key',
    'The line `events:` divides the head from the events; it must stand at the very left.',
    'Add the line `events:` after the head.',
  ],
  'events-not-a-list': [
    'Events not on lines of their own',
    'Events are appended line by line, so `events:` must have nothing after it.',
    'Put each event on a line below it.',
  ],
  'conflict-marker': [
    'Unfinished merge',
    'A version control program left both sides of a conflict in the file.',
    'Keep the right lines of both sides, delete the marker lines. With the line `*.yaml merge=union` in `.gitattributes`, git keeps the lines of both sides by itself.',
  ],
  'key-after-events': [
    'Key after the events',
    'Events are appended at the end of the file, so nothing else may come after them.',
    'Move the key above `events:`.',
  ],
  'stray-line': [
    'Stray line',
    'A line among the events is neither an event, nor blank, nor a remark.',
    'Put `#` before it, or write it as an event.',
  ],
  'uneven-dash': [
    'Uneven dash',
    'YAML wants the dashes of one list below each other.',
    'Give the line as many blanks as the others.',
  ],
  'tab-indent': ['Tab', 'YAML does not allow tabs before a line.', 'Use blanks.'],
  'several-documents': [
    'Several documents',
    'A line `---` or `...` begins a second document; a ledger is one.',
    'Take the line out, or make two files.',
  ],
  'too-deep': [
    'Values within values within values',
    'Lists and maps lie in one another to a depth that nothing of a ledger has. Reading on would take long and tell nothing.',
    'Write one event on one line, with its values as the format has them.',
  ],
  'event-not-one-line': [
    'Event on several lines',
    'One event is one line, so that an interrupted write or a merge can never leave half an event that still reads as a whole one.',
    'Write it as `- {key: value, …}` on one line.',
  ],
  'event-not-a-map': [
    'Not an event',
    'The line is a list entry, but holds no keys.',
    'Write `- {id: …, at: …, what: …}`.',
  ],
  'bad-yaml': [
    'Not YAML',
    'A bracket, quote, comma or colon is missing or stands where it has another meaning.',
    'Put free text in quotes, close what was opened.',
  ],
  'duplicate-key': [
    'Key twice',
    'A key stands twice in one map, so one of the values would be lost.',
    'Keep the right one.',
  ],
  anchor: [
    'Anchor',
    'Anchors let one line change the meaning of another; a ledger has none.',
    'Write the value out.',
  ],
  alias: [
    'Alias',
    'Aliases let one line change the meaning of another; a ledger has none.',
    'Write the value out.',
  ],
  tag: ['Tag', 'Tags change how a value is read; a ledger has none.', 'Take the tag out.'],
  'odd-number': [
    'Number that is no plain decimal',
    'Hexadecimal, octal, exponents, leading zeros and infinities are read as other numbers than they seem to say.',
    'Write a plain decimal.',
  ],
  'text-needs-quotes': [
    'Text without quotes',
    'YAML would read this id, lot, case or name as a number or as true, false or nothing: `007` becomes 7, `1e5` becomes 100000.',
    'Put it in quotes.',
  ],
  'torn-tail': [
    'Interrupted write',
    'The last line was left incomplete by a crash or a power cut. It is ignored.',
    'Nothing; the next command that writes moves it aside. Log the event again if it is missing.',
  ],
  'duplicate-id': [
    'Id twice',
    'Two events have the same id, so a correction of one could hit the other.',
    'Delete the double or change one id.',
  ],
  'unknown-key': [
    'Unknown key',
    'A key that means nothing here is most often a misspelt one, and its value would be lost in silence.',
    'Correct the key.',
  ],
  'missing-key': ['Missing key', 'A key is needed that is not there.', 'Add it.'],
  'unknown-event': [
    'Unknown event',
    'The word under `what` is no event.',
    'Use one of the events of the ledger format.',
  ],
  'unknown-word': [
    'Unknown word',
    'The key takes one of a few words, and this is none of them.',
    'Use one of those named.',
  ],
  'wrong-type': [
    'Wrong kind of value',
    'The value is a text, list or map where another kind is wanted, or nothing at all.',
    'Write the kind named, or take the key out.',
  ],
  'wrong-unit': [
    'Value with a unit',
    'Values in the file are bare numbers in the unit that the key names.',
    'Convert the value and leave the unit out.',
  ],
  'out-of-range': [
    'Out of range',
    'The value is outside what can happen at a bench, or outside what the data behind the model support.',
    'Check digits and unit.',
  ],
  'not-whole': ['Not a whole number', 'Parts are counted.', 'Write a whole number.'],
  'bad-text': [
    'Unusable text',
    'The text is empty, too long or not of the form wanted.',
    'Write the form named.',
  ],
  'bad-name': [
    'Unusable name',
    'Names of baths, solvents, resins and parts must be easy to type on a command line.',
    'Rename it.',
  ],
  empty: [
    'Empty list or map',
    'A list or map that must name something is empty.',
    'Fill it or take the key out.',
  ],
  'no-such-date': [
    'No such date',
    'The calendar does not have this day, or the year is far off.',
    'Correct the date.',
  ],
  'no-offset': [
    'No offset from UTC',
    'Without an offset the instant is not known, and would shift with the season or the machine.',
    'Add the offset that was in force, like `-04:00`.',
  ],
  'bad-time': [
    'Unreadable time',
    'Times have one form: date, `T`, time with seconds, offset.',
    'Write it like `2026-11-02T07:40:00-04:00`.',
  ],
  'logged-before-at': [
    'Logged before it happened',
    '`logged` is when a back-dated entry was typed, so it cannot be before `at`.',
    'Correct the one that is wrong.',
  ],
  'not-one-of': [
    'One of several is needed',
    'Exactly one of a few keys must be given, and none is.',
    'Add one.',
  ],
  'not-together': [
    'Keys that exclude each other',
    'Two keys say the same thing in two ways, so one of them would be ignored.',
    'Keep one.',
  ],
  'wrong-count': [
    'List of the wrong length',
    'The list has one value for each bath of the wash.',
    'Write as many values as baths.',
  ],
  'bath-twice': ['Bath named twice', 'A load goes through a bath once in one wash.', 'Log two washes.'],
  'clean-from-clean': [
    'Clean bath from itself',
    'A bath cannot be topped up from itself.',
    'Name the solvent.',
  ],
  'weighed-backwards': [
    'Washed load is heavier',
    'Washing takes resin off, so the washed and dried load cannot weigh more.',
    'Exchange or correct the weights.',
  ],
  'residue-too-heavy': [
    'Residue heavier than its sample',
    'A sample of neat resin leaves about 1.1 g for each mL, 1.6 g with much filler; no sample leaves more.',
    'Give the dry weight without the dish in g, and the sample in mL.',
  ],
  'wrong-level': [
    'Level or weight that the tub cannot have',
    'The tub holds no more than up to its brim, and less than a hundredth of it is a slip of the unit.',
    'Check the unit; weigh the liquid without the tub; correct `tub_ml` or `freeboard_mm` when the tub is larger.',
  ],
  'amend-fixed-key': [
    'Key that cannot be amended',
    'Id, kind and target of an event stay as they are, so that corrections keep their meaning.',
    'Void the event and log it anew.',
  ],
  'brim-below-mark': [
    'Brim below the mark',
    'A tub cannot hold less up to the brim than up to the mark.',
    'Correct `tub_ml` or `mark_ml`.',
  ],
  'falling-limits': ['Limits out of order', 'Limits are soon, change, never, in this order.', 'Sort them.'],
  'unknown-bath': ['Unknown bath', 'The bath is not in the head.', 'Correct the name or add the bath.'],
  'unknown-solvent': [
    'Unknown solvent',
    'The solvent is neither in the head nor in the catalogue, so its strength is not known.',
    'Correct the name or add the solvent.',
  ],
  'unknown-resin': [
    'Unknown resin',
    'The resin is neither in the head nor in the catalogue.',
    'Correct the name or add the resin.',
  ],
  'unknown-part': [
    'Unknown part',
    'The part is neither in the head nor in the catalogue, so its area is not known.',
    'Correct the name or add the part.',
  ],
} satisfies Record<string, ProblemRow>;
