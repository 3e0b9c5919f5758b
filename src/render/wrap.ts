const ESCAPE = '\x1b';
/** Colours, which take no room. */
const PAINT = new RegExp(`${ESCAPE}\\[[\\d;]*m`, 'g');
/** What belongs to the number before it: a unit, a band, one more number. */
const UNIT = /^(?:min|h|s|L|mL|kg|mg|g|g\/(?:m?L|h)|sd|wt%|vol%|%|ppm|[mc]?m[²³]?|µg\/cm²|°[CF])[,;:.)]*$/;
const ENDS_IN_NUMBER = /[\d)]$/;
/** No sign of any text. */
const GLUE = '\0';
/**
 * What is made to be copied: a command that a sentence ends in, or one of several, after a colon or an "or", up to the next comma,
 * semicolon, bracket or full stop outside quotes; an option with a quoted value; elsewhere a command by its name alone. No usage
 * line, which has brackets.
 */
const TYPED =
  /(?<=^|: |; or |, or |\()bathbook (?![a-z]+ (?:says|tells) )[a-z-](?!.*? \[)(?:"[^"]*"|'[^']*'|[^"',;:.)]|[,;:.)](?=\S))*|--[a-z-]+ (?:"[^"]*"|'[^']*')|\bbathbook [a-z-]+/g;

/**
 * Breaks at blanks, so that no line is wider than `width` unless one word or one command to be copied is; later lines begin with
 * `indent`, which has room of its own. A number stays with its unit and its band, and what was with what it became.
 */
export function wrap(text: string, width: number, indent = ''): string {
  return text.includes('bathbook ') || text.includes('--')
    ? wrapWhole(text, TYPED, width, indent)
    : fill(text, width, indent);
}

/** As {@link wrap}, but it is what matches that is read as one word. */
export function wrapWhole(text: string, whole: RegExp, width: number, indent = ''): string {
  const glued = text.replace(whole, (part) => part.replaceAll(' ', GLUE));
  return fill(glued, width, indent).replaceAll(GLUE, ' ');
}

/** As {@link wrap}, for columns that must not grow: a command is words like others. */
export function fill(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  const [, lead = ''] = /^( *)/.exec(text)!;
  const room = width - lead.length;
  for (const word of held(text.slice(lead.length).split(' '), room)) {
    if (line && seen(line) + 1 + seen(word) > room) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return lead + [...lines, line].join(`\n${lead}${indent}`);
}

function seen(text: string): number {
  return text.includes(ESCAPE) ? text.replaceAll(PAINT, '').length : text.length;
}

/** Words that are read as one, while they have room on a line. */
function held(words: readonly string[], room: number): string[] {
  const groups: string[] = [];
  let before = '';
  for (const [place, word] of words.entries()) {
    const group = groups.at(-1);
    // What stands apart at the end, as a verdict does, goes with the figure before it.
    const apart = word === '' && group !== undefined ? `${group} ${words.slice(place).join(' ')}` : undefined;
    if (apart !== undefined && seen(apart) <= room) return [...groups.slice(0, -1), apart];
    if (group !== undefined && belong(before, word) && seen(group) + 1 + seen(word) <= room)
      groups[groups.length - 1] = `${group} ${word}`;
    else groups.push(word);
    before = word;
  }
  return groups;
}

function belong(before: string, word: string): boolean {
  if (word === '→' || before === '→') return true;
  if (before === '+') return /^\d/.test(word);
  return ENDS_IN_NUMBER.test(before) && (UNIT.test(word) || word === '+' || /^\(\d/.test(word));
}
