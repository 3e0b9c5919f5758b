import { familiar } from './plain-word.ts';
import { isBreak, isDigit, isPlainSign, isPrintable } from './signs.ts';
import { parseTime } from './time.ts';

const COMMA = 44;
const COLON = 58;
const OPEN_LIST = 91;
const CLOSE_LIST = 93;
const OPEN_MAP = 123;
const CLOSE_MAP = 125;
const SPACE = 32;
const QUOTE = 34;
const HASH = 35;

// Runs of characters are left to the engine of regular expressions, which needs no warming up: a ledger of a thousand events
// is read before the loops that would do the same are compiled.
const KEY = /[A-Za-z][A-Za-z0-9_-]*/y;
const WORD = /[A-Za-z][A-Za-z0-9_./-]*/y;
const TO_BREAK = /[^, \]}\n]*/y;
const SHORT_WHOLE = /0|[1-9][0-9]{0,14}/y;
/** Printable ASCII without a quote or a backslash inside. */
const SIMPLE_QUOTED = /"[ !#-[\]-~]*"/y;

/** YAML allows 1024 characters; longer keys are somebody else's business. */
const LONGEST_KEY = 200;

/** Deeper nesting than any event has goes to the full parser. */
const DEEPEST = 8;

/**
 * Reads values in the narrow form the program writes: flow maps and lists on one line, JSON strings, plain decimals,
 * RFC 3339 times, `true`, `false`, and plain words that no YAML schema reads as anything else.
 *
 * Each method returns undefined for everything else: "not mine", and the caller hands the text to the `yaml` package.
 * What it does accept must be what `yaml` gives for the same text; a property test holds the two together.
 */
export class FlowScanner {
  readonly text: string;
  readonly end: number;
  at: number;

  constructor(text: string, at: number, end: number) {
    this.text = text;
    this.at = at;
    this.end = end;
  }

  skipSpaces(): void {
    while (this.at < this.end && this.text.charCodeAt(this.at) === SPACE) {
      this.at++;
    }
  }

  /** True when nothing is left but blanks and a comment, which YAML wants a blank before. */
  atRest(): boolean {
    const from = this.at;
    this.skipSpaces();
    if (this.at === this.end) {
      return true;
    }
    return (
      this.at > from && this.text.charCodeAt(this.at) === HASH && isPrintable(this.text, this.at, this.end)
    );
  }

  value(depth = 0): unknown {
    const code = this.code();
    if (code === QUOTE) {
      return this.quoted();
    }
    if (code === OPEN_MAP) {
      return this.map(depth);
    }
    if (code === OPEN_LIST) {
      return this.list(depth);
    }
    return isDigit(code) || code === 45 ? this.numberOrTime() : this.word();
  }

  map(depth = 0): Record<string, unknown> | undefined {
    const found: Record<string, unknown> = {};
    this.at++;
    this.skipSpaces();
    if (this.code() === CLOSE_MAP) {
      this.at++;
      return found;
    }
    while (depth < DEEPEST) {
      const key = this.key();
      // Inherited names such as "constructor" look taken here as well and go to the full parser.
      if (key === undefined || found[key] !== undefined) {
        return undefined;
      }
      const value = this.value(depth + 1);
      if (value === undefined) {
        return undefined;
      }
      found[key] = value;
      const next = this.separator(CLOSE_MAP);
      if (next !== COMMA) {
        return next === CLOSE_MAP ? found : undefined;
      }
    }
    return undefined;
  }

  private list(depth: number): unknown[] | undefined {
    const found: unknown[] = [];
    this.at++;
    this.skipSpaces();
    if (this.code() === CLOSE_LIST) {
      this.at++;
      return found;
    }
    while (depth < DEEPEST) {
      const value = this.value(depth + 1);
      if (value === undefined) {
        return undefined;
      }
      found.push(value);
      const next = this.separator(CLOSE_LIST);
      if (next !== COMMA) {
        return next === CLOSE_LIST ? found : undefined;
      }
    }
    return undefined;
  }

  /** Passes a comma or the closing bracket with the blanks around it and says which it was; 0 for anything else. */
  private separator(close: number): number {
    this.skipSpaces();
    const code = this.code();
    if (code === close) {
      this.at++;
      return close;
    }
    if (code !== COMMA) {
      return 0;
    }
    this.at++;
    this.skipSpaces();
    return COMMA;
  }

  /** A key with its colon and the blank after it. */
  private key(): string | undefined {
    const key = this.code() === QUOTE ? this.quoted() : this.plainKey();
    if (key === undefined || key.length > LONGEST_KEY) {
      return undefined;
    }
    if (this.code() !== COLON || this.text.charCodeAt(this.at + 1) !== SPACE) {
      return undefined;
    }
    this.at++;
    this.skipSpaces();
    return key;
  }

  private plainKey(): string | undefined {
    const from = this.at;
    const to = this.run(KEY);
    if (to === from) {
      return undefined;
    }
    this.at = to;
    return familiar(this.text.slice(from, to));
  }

  private quoted(): string | undefined {
    const from = this.at;
    const { text, end } = this;
    const to = this.run(SIMPLE_QUOTED);
    if (to > from) {
      this.at = to;
      return text.slice(from + 1, to - 1);
    }
    let escaped = false;
    for (let at = from + 1; at < end; at++) {
      const code = text.charCodeAt(at);
      if (code === QUOTE) {
        this.at = at + 1;
        return escaped ? fromJson(text.slice(from, at + 1)) : text.slice(from + 1, at);
      }
      if (code === 92) {
        escaped = true;
        at++;
      }
      if (code < SPACE || (code > 126 && !isPlainSign(code))) {
        return undefined;
      }
    }
    return undefined;
  }

  private numberOrTime(): number | string | undefined {
    const from = this.at;
    const { text } = this;
    const whole = this.run(SHORT_WHOLE);
    if (whole > from && (whole === this.end || isBreak(text.charCodeAt(whole)))) {
      this.at = whole;
      return Number(text.slice(from, whole));
    }
    let dots = 0;
    let digits = 0;
    let at = text.charCodeAt(from) === 45 ? from + 1 : from;
    const first = at;
    for (; at < this.end; at++) {
      const code = text.charCodeAt(at);
      if (isDigit(code)) {
        digits++;
      } else if (code === 46 && dots === 0 && digits > 0) {
        dots = 1;
      } else {
        break;
      }
    }
    if (at < this.end && !isBreak(text.charCodeAt(at))) {
      return this.time();
    }
    const leadingZero = text.charCodeAt(first) === 48 && digits > 1 && text.charCodeAt(first + 1) !== 46;
    // Longer whole numbers may be rounded in different ways by different readers.
    const isLong = digits > (dots === 0 ? 15 : 30);
    if (digits === 0 || isLong || leadingZero || text.charCodeAt(at - 1) === 46) {
      return undefined;
    }
    this.at = at;
    return Number(text.slice(from, at));
  }

  private time(): string | undefined {
    const from = this.at;
    const at = this.run(TO_BREAK);
    const text = this.text.slice(from, at);
    if (Number.isNaN(parseTime(text))) {
      return undefined;
    }
    this.at = at;
    return text;
  }

  private word(): string | boolean | undefined {
    const from = this.at;
    const at = this.run(WORD);
    if (at === from) {
      return undefined;
    }
    if (at < this.end && !isBreak(this.text.charCodeAt(at))) {
      return undefined;
    }
    const word = this.text.slice(from, at);
    this.at = at;
    if (word === 'true' || word === 'false') {
      return word === 'true';
    }
    return familiar(word);
  }

  /** Where a run of the pattern's characters from here ends, within the line; here itself when there is none. */
  private run(pattern: RegExp): number {
    pattern.lastIndex = this.at;
    return pattern.test(this.text) && pattern.lastIndex <= this.end ? pattern.lastIndex : this.at;
  }

  private code(): number {
    return this.at < this.end ? this.text.charCodeAt(this.at) : 0;
  }
}

function fromJson(text: string): string | undefined {
  try {
    return JSON.parse(text) as string;
  } catch {
    return undefined;
  }
}
