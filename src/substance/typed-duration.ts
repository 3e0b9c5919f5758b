/** Durations of more than one piece, as they are typed: `1h30`, `1 h 30 min`, `2m30s`, `1:30:00`. */

/** Minutes; or the two things it may mean, in words that can be typed; or undefined where it is none of these. */
export type TypedDuration = number | { either: readonly [string, string] } | undefined;

const MINUTES = { d: 1440, h: 60, m: 1, s: 1 / 60 };
type Piece = keyof typeof MINUTES;
/** How many of a unit make one of the next larger. */
const FULL = { d: Number.POSITIVE_INFINITY, h: 24, m: 60, s: 60 };

const WORDS: Record<string, Piece> = {
  d: 'd',
  day: 'd',
  days: 'd',
  h: 'h',
  hr: 'h',
  hrs: 'h',
  hour: 'h',
  hours: 'h',
  m: 'm',
  min: 'm',
  mins: 'm',
  minute: 'm',
  minutes: 'm',
  s: 's',
  sec: 's',
  secs: 's',
  second: 's',
  seconds: 's',
};

/**
 * Reads a duration in pieces, the larger first. `1:30` may be hours and minutes or minutes and seconds, and is not guessed at.
 *
 * Example: `1h30` is 90; `2 min 30 s` is 2.5; `1:30` is "1h30" or "1m30s".
 */
export function typedDuration(text: string): TypedDuration {
  const typed = text.trim().toLowerCase();
  const clock = /^(\d{1,3}):([0-5]\d)(?::([0-5]\d))?$/.exec(typed);
  if (clock) {
    const [first, second, third] = clock.slice(1).map((one) => (one === undefined ? undefined : Number(one)));
    if (third !== undefined) return first! * 60 + second! + third / 60;
    return { either: [`${first}h${clock[2]}`, `${first}m${clock[2]}s`] };
  }
  const hours = /^(\d+)\s*h\s*([0-5]?\d)$/.exec(typed);
  if (hours) return Number(hours[1]) * 60 + Number(hours[2]);
  return inPieces(typed);
}

function inPieces(typed: string): number | undefined {
  if (!/^(?:\d+\s*[a-z]+\s*){2,4}$/.test(typed)) return undefined;
  const pieces = [...typed.matchAll(/(\d+)\s*([a-z]+)/g)].map(([, number, word]) => ({
    number: Number(number),
    unit: Object.hasOwn(WORDS, word!) ? WORDS[word!] : undefined,
  }));
  let minutes = 0;
  let larger = Number.POSITIVE_INFINITY;
  for (const [place, { number, unit }] of pieces.entries()) {
    if (!unit || MINUTES[unit] >= larger || (place > 0 && number >= FULL[unit])) return undefined;
    minutes += number * MINUTES[unit];
    larger = MINUTES[unit];
  }
  return minutes;
}
