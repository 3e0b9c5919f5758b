/** For terminals that can show ASCII alone. */

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Whether only ASCII can be shown: the terminal is dumb, or the locale is not of UTF-8. Of LC_ALL, LC_CTYPE and LANG the first that
 * is set decides (POSIX, XBD 8.2).
 */
export function wantsAscii(env: Environment): boolean {
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG || '';
  return env.TERM === 'dumb' || !/utf-?8/i.test(locale);
}

/** What this program writes beyond ASCII, and how it is written without. */
const PLAIN: Readonly<Record<string, string>> = {
  '–': '-',
  '−': '-',
  '→': '->',
  '←': '<-',
  '…': '...',
  '’': "'",
  '×': '*',
  '÷': '/',
  '·': ' ',
  '°': '',
  '±': '+/-',
  '≥': '>=',
  '≤': '<=',
  '²': '2',
  '³': '3',
  '½': '1/2',
  κ: 'k',
  ρ: 'rho',
  η: 'eta',
  τ: 'tau',
  φ: 'phi',
  γ: 'gamma',
  σ: 'sigma',
};

/** The same in ASCII, but for names of the ledger. A micro sign is u before a unit, and mu where it stands for a viscosity. */
export function inAscii(text: string): string {
  return text
    .replaceAll(/µ(?=[gLm]\b)/g, 'u')
    .replaceAll('µ', 'mu')
    .replaceAll(/[–−→←…’×÷·°±≥≤²³½κρητφγσ]/g, (sign) => PLAIN[sign]!);
}
