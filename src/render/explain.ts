/** A number explained, for people: each formula with names, with numbers, and what it comes to. */
import type { Basis, Equation, Explanation, Known, Term } from '../explain/equation.ts';
import type { Topic } from '../explain/topics.ts';
import { inAscii } from './ascii.ts';
import { banded, count } from './format.ts';
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { wrap } from './wrap.ts';

interface View {
  paint: Paint;
  width: number;
  /** No characters beyond ASCII. */
  ascii: boolean;
}

/** Of one number; `when` says of which time or wash. */
export function explainText(explained: Explanation, when: string, view: View): string {
  const told = new Set<string>();
  const parts = [
    view.paint.strong(wrap(printable(`${explained.title}, ${when}`), view.width)),
    ...explained.equations.map((one) => equationText(one, told, view)),
    ...(explained.known.length > 0 ? [explained.known.map((one) => knownText(one, view)).join('\n')] : []),
    explained.remarks.map((one) => wrap(printable(one), view.width)).join('\n'),
    sourcesText(explained, view),
  ];
  const text = parts.filter(Boolean).join('\n\n');
  return view.ascii ? inAscii(text) : text;
}

function equationText(one: Equation, told: Set<string>, view: View): string {
  const { about, symbol, formula, numbers, result, unit, terms } = one;
  const room = view.width - 4;
  const lead = ' '.repeat(symbol.length);
  const unitText = unit === '' ? '' : ` ${unit}`;
  const side = (text: string) => wrap(`  ${lead} = ${text}`, room, `${lead}   `);
  const lines = [
    wrap(printable(`${about[0]!.toUpperCase()}${about.slice(1)}:`), view.width),
    side(formula).replace(`  ${lead}`, `  ${symbol}`),
    ...(numbers === formula ? [] : [side(numbers)]),
    `  ${lead} = ${view.paint.strong(`${result}${unitText}`)}`,
    ...terms.filter((term) => isNew(term, told)).map((term) => termText(term, view)),
  ];
  told.add(keyOf({ symbol, about }));
  return lines.join('\n');
}

function isNew(term: Term, told: Set<string>): boolean {
  const key = keyOf(term);
  if (told.has(key)) return false;
  told.add(key);
  return true;
}

function keyOf({ symbol, about }: Pick<Term, 'symbol' | 'about'>): string {
  return `${symbol} ${about}`;
}

const SYMBOL_WIDTH = 8;

function termText({ symbol, unit, about, basis }: Term, { paint, width }: View): string {
  const lead = `    ${symbol.padEnd(SYMBOL_WIDTH - 1)} `;
  const text = [about, unit, BASIS_WORDS[basis]].filter(Boolean).join(', ');
  return paint.faint(`${lead}${wrap(printable(text), width - lead.length, ' '.repeat(lead.length))}`);
}

const BASIS_WORDS: Record<Basis, string> = {
  'worked out': '',
  default: 'default, not calibrated',
  catalogue: 'from the catalogue',
  ledger: 'set in the ledger',
  logged: 'as logged',
  readings: 'moved by readings',
  measured: 'measured',
};

function knownText({ about, now, unit, atFirst, readings }: Known, { width }: View): string {
  const moved =
    readings === undefined
      ? ''
      : readings > 0
        ? `, moved by ${count(readings, 'reading')}; at first ${banded(atFirst!)}`
        : ', default, not calibrated';
  const unitText = unit === '' || unit === 'loads' ? '' : ` ${unit}`;
  const most = unit === 'g/mL' ? 4 : unit === 'loads' ? 0 : 2;
  const off = readings === undefined && unit === '' && now.p50 === 0;
  const text = `${about[0]!.toUpperCase()}${about.slice(1)}: ${off ? 'switched off in the ledger' : `${banded(now, most)}${unitText}${moved}`}`;
  return wrap(printable(text), width - 2, '  ');
}

function sourcesText({ equations }: Explanation, { paint, width }: View): string {
  const ids = [...new Set(equations.flatMap(({ sources }) => sources))];
  if (ids.length === 0) return '';
  return paint.faint(wrap(`Sources, by their ids in data/SOURCES.md: ${ids.join(', ')}`, width));
}

/** The list of what can be explained. */
export function topicsText(topics: readonly Topic[], view: View): string {
  const longest = Math.max(...topics.map(({ name }) => name.length));
  const lines = topics.map(({ name, about, of }) => {
    const which = { bath: '[bath]', wash: '[id]', solvent: '[solvent]', shop: '' }[of];
    const lead = `  ${`${name} ${which}`.padEnd(longest + 12)}`;
    return `${lead}${wrap(about, view.width - lead.length, ' '.repeat(lead.length))}`;
  });
  const text = [
    'Numbers that can be explained, each with its formula:',
    ...lines,
    '',
    'Type one: bathbook explain resin dirty',
  ].join('\n');
  return view.ascii ? inAscii(text) : text;
}
