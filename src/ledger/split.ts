/** Where the events begin: the line `events:`. Offsets are positions in the text. */
export interface Split {
  /** The line `events:`. */
  start: number;
  end: number;
  /** The line after it. */
  next: number;
  line: number;
  /** What stands on that line after the colon. */
  form: 'open' | 'empty-list' | 'other';
}

/** Finds the line `events:`, or null when there is none. */
export function findEvents(text: string): Split | null {
  let line = 1;
  for (let start = 0; start < text.length; line++) {
    const nextBreak = text.indexOf('\n', start);
    const next = nextBreak < 0 ? text.length : nextBreak + 1;
    if (text.startsWith('events:', start)) {
      const whole = text.slice(start, nextBreak < 0 ? next : nextBreak).replace(/\r$/, '');
      const form = formOf(whole.slice('events:'.length));
      if (form !== null) {
        return { start, end: start + whole.length, next, line, form };
      }
    }
    start = next;
  }
  return null;
}

function formOf(rest: string): Split['form'] | null {
  if (/^ *( #.*)?$/.test(rest)) {
    return 'open';
  }
  if (/^ +\[ *\] *( #.*)?$/.test(rest)) {
    return 'empty-list';
  }
  return /^\s/.test(rest) ? 'other' : null;
}
