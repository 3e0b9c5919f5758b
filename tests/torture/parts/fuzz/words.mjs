// The words that drawn inputs are made of: ordinary ones, and those that programs have stumbled over.
import { oneOf, wholeBelow } from '../random.mjs';

/** A sign of markup that no page of ours writes; where it comes out as it went in, it was not escaped. */
export const MARK = '<fz';

const ORDINARY = ['NB', 'Zoë', 'two trays', 'L-9', 'can 3', '26-0117', 'counted again', 'dripped a lot'];

export const HOSTILE = [
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'prototype',
  '=1+1',
  '@SUM(A1)',
  '-2+3|cmd',
  '\u001b[31mred\u001b[0m',
  '\u001b]52;c;Zm9v\u0007',
  '\u001b]8;;http://a.invalid\u001b\\link',
  '\u009b2J',
  '\u202eevila',
  '\u2066x\u2069',
  'zero\u200bwidth\ufeff',
  'nul\u0000',
  'line\nbreak',
  'carriage\rreturn\u0085next\u2028line',
  `${MARK} onload=1>`,
  `"${MARK} "'`,
  ']]>',
  '-->',
  '</script></style></title></svg>',
  '[a](javascript:b)',
  '`a` | b | *c* # d',
  '%0A%00',
  '$(id) `id` ;id',
  '../../x',
  '\ud83d\ude00\u0301\u0301\u0301',
  'a'.repeat(90),
  '\ud83d',
  '',
  ' ',
  'null',
  '~',
  'NO',
  '1e5',
  '0x10',
  '007',
];

/** Those that a text of a ledger may be. */
const SOUND_HOSTILE = HOSTILE.filter((one) => /\S/.test(one) && one.length <= 80);

const EDGES = [
  '0',
  '-0',
  '0.0',
  '1e309',
  '-1e309',
  '1e-320',
  '1e300',
  '9007199254740993',
  '123456789012345678901234567890',
  '0.1e1',
  '.inf',
  '-.inf',
  '.nan',
  'NaN',
  'Infinity',
  '0x7fffffff',
  '0o17',
  '1_000',
  '1,5',
  '+5',
  '-1',
  '00012',
  '0.00001',
  '1000000',
  '999999.99',
  '12:30',
  `${'9'.repeat(400)}`,
  `0.${'0'.repeat(400)}1`,
];

const DATE_EDGES = [
  '0000-01-01T00:00:00Z',
  '0001-01-01T00:00:00-23:59',
  '1582-10-10T00:00:00Z',
  '1969-12-31T23:59:59Z',
  '1970-01-01T00:00:00Z',
  '2026-02-29T10:00:00Z',
  '2024-02-29T10:00:00Z',
  '2026-03-08T02:30:00-04:00',
  '2026-11-01T01:30:00-03:00',
  '2026-12-31T23:59:60Z',
  '2026-11-31T10:00:00Z',
  '2026-11-02T24:00:00Z',
  '2026-11-02T10:00:00+14:00',
  '2026-11-02T10:00:00-25:00',
  '2026-11-02T10:00:00.123456789Z',
  '9999-12-31T23:59:59Z',
  '9999-12-31T23:59:59-14:00',
  '10000-01-01T00:00:00Z',
  '+275760-09-13T00:00:00Z',
  '2026-11-02',
  '2026-11-02 10:00',
  '2038-01-19T03:14:08Z',
];

/** Pieces of YAML and of events, to be put anywhere. */
export const PIECES = [
  '&a ',
  '*a',
  '!!str ',
  '!<tag:x> ',
  '!!js/function ',
  '<<: *a',
  '---\n',
  '...\n',
  '%YAML 1.1\n',
  '? ',
  '| \n',
  '>-\n',
  '#',
  ' #',
  '\t',
  '\r\n',
  '\n',
  '\u0000',
  '\ufeff',
  '\u2028',
  '\u0085',
  ', ',
  ': ',
  '{',
  '}',
  '[',
  ']',
  '"',
  "'",
  '\\',
  '\\u0000',
  '\\x1b',
  '{__proto__: 1}',
  ', __proto__: {polluted: 1}',
  ', constructor: {prototype: {polluted: 1}}',
  ', toString: 1',
  ', note: ',
  ', amend: 1',
  '<<<<<<< HEAD\n',
  '=======\n',
  '>>>>>>> x\n',
  'events:\n',
  'events: []\n',
  'format: bathbook/2\n',
  '  - ',
  '  - {id: "zz", at: 2026-11-02T16:05:00-04:00, what: wash, parts: {model: 1}}\n',
];

/** Mostly an ordinary word; one in so many is a hostile one. */
export function text(random, hostileIn = 6) {
  const isHostile = wholeBelow(random, hostileIn) === 0;
  return oneOf(random, isHostile ? (random.isCalm ? SOUND_HOSTILE : HOSTILE) : ORDINARY);
}

/** Draws from here on are of sound values alone. */
export function calm(random, isCalm) {
  random.isCalm = isCalm;
}

/** A number as it is typed: within the range, or now and then at an edge. */
export function number(random, least, most, { edgeIn = 40, whole = false } = {}) {
  if (!random.isCalm && wholeBelow(random, edgeIn) === 0) return oneOf(random, EDGES);
  const value = least + random() * (most - least);
  return whole ? String(Math.round(value)) : String(Number(value.toPrecision(4)));
}

export function edgeNumber(random) {
  return oneOf(random, EDGES);
}

export function edgeDate(random) {
  return oneOf(random, DATE_EDGES);
}

/** An instant so many minutes after 2026-09-01, in a zone three hours behind. */
export function timeAt(minute) {
  return new Date(Date.UTC(2026, 8, 1) + minute * 60_000).toISOString().replace('.000Z', '-03:00');
}
