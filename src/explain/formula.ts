/**
 * Formulas as they are shown: what stands in them, and what they come to once numbers are put in. So the digits that are shown
 * can be chosen such that anybody who types them into a calculator gets the result that is shown.
 *
 * Names, numbers, + − × / ^ and brackets; sqrt, exp, min and max.
 */

export type Values = Readonly<Record<string, number>>;

const TOKEN = /\s*(?:(\d+(?:\.\d+)?)|(\p{L}[\p{L}\d_]*)|([+−×/^(),]))/uy;

const FUNCTIONS: Readonly<Record<string, (...of: number[]) => number>> = {
  sqrt: Math.sqrt,
  exp: Math.exp,
  min: Math.min,
  max: Math.max,
};

/** The names in a formula, functions left out, each once and in order. */
export function namesIn(formula: string): string[] {
  const words = formula.match(/\p{L}[\p{L}\d_]*/gu) ?? [];
  return [...new Set(words)].filter((word) => !Object.hasOwn(FUNCTIONS, word));
}

/** The formula with texts in the place of names. */
export function withNumbers(formula: string, texts: Readonly<Record<string, string>>): string {
  return formula.replaceAll(/\p{L}[\p{L}\d_]*/gu, (word) => texts[word] ?? word);
}

/** @throws Error when it is no formula, or names what has no value: a fault of the program */
export function worthOf(formula: string, values: Values): number {
  const reader = new Reader(formula, values);
  const value = reader.sum();
  reader.end();
  return value;
}

class Reader {
  private readonly tokens: string[];
  private at = 0;

  constructor(
    private readonly formula: string,
    private readonly values: Values,
  ) {
    this.tokens = tokensOf(formula);
  }

  sum(): number {
    let value = this.product();
    for (;;) {
      if (this.take('+')) value += this.product();
      else if (this.take('−')) value -= this.product();
      else return value;
    }
  }

  end(): void {
    if (this.at < this.tokens.length) this.fail();
  }

  private product(): number {
    let value = this.signed();
    for (;;) {
      if (this.take('×')) value *= this.signed();
      else if (this.take('/')) value /= this.signed();
      else return value;
    }
  }

  private signed(): number {
    return this.take('−') ? -this.signed() : this.power();
  }

  private power(): number {
    const base = this.single();
    return this.take('^') ? base ** this.signed() : base;
  }

  private single(): number {
    if (this.take('(')) return this.closed(this.sum());
    const token = this.tokens[this.at] ?? '';
    this.at += 1;
    if (/^\d/.test(token)) return Number(token);
    if (Object.hasOwn(FUNCTIONS, token)) return FUNCTIONS[token]!(...this.list());
    return this.values[token] ?? this.fail();
  }

  private list(): number[] {
    if (!this.take('(')) this.fail();
    const values = [this.sum()];
    while (this.take(',')) values.push(this.sum());
    this.closed(0);
    return values;
  }

  private closed(value: number): number {
    return this.take(')') ? value : this.fail();
  }

  private take(token: string): boolean {
    if (this.tokens[this.at] !== token) return false;
    this.at += 1;
    return true;
  }

  private fail(): never {
    throw new Error(`Cannot work out "${this.formula}"`);
  }
}

function tokensOf(formula: string): string[] {
  const tokens: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < formula.trimEnd().length) {
    const found = TOKEN.exec(formula);
    if (!found) throw new Error(`Cannot read "${formula}"`);
    tokens.push(found[1] ?? found[2] ?? found[3]!);
  }
  return tokens;
}
