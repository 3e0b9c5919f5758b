import fc from 'fast-check';

/** Characters that matter to YAML, with a few that do not. */
const SIGNS = [
  '{',
  '}',
  '[',
  ']',
  ',',
  ':',
  ' ',
  '"',
  "'",
  '#',
  '-',
  '&',
  '*',
  '!',
  '|',
  '>',
  '%',
  '@',
  '`',
  '?',
  '\\',
  '\t',
  '.',
  '+',
  '_',
  '/',
  '~',
  '=',
  '<',
  '0',
  '7',
  'e',
  'x',
  'o',
  'n',
  'T',
  'Z',
  'é',
  '\u00a0',
  '\u2028',
  '\ufeff',
  '\u0085',
  '😀',
  '\ud83d',
];

const word = fc.oneof(
  fc.constantFrom(
    'dirty',
    'clean',
    'ipa99',
    'top-up',
    'null',
    'true',
    'no',
    'yes',
    'y',
    'Null',
    'NaN',
    'inf',
    '.inf',
    '1e5',
    '0x10',
    '0o7',
    '007',
    '1_000',
    '12:30',
    '+1',
    '-1',
    '-',
    '3.10',
    '1.',
    '.5',
    '-0',
    '1e3',
    '2026-11-02',
    '2026-11-02T07:40:00-04:00',
    '2026-11-02T07:40:00Z',
    '20/20',
    '<<',
    '=',
    'constructor',
    '__proto__',
    'toString',
    "it's",
    'a b',
    'a:b',
    'a#b',
    'a/b',
    'é',
  ),
  fc.stringMatching(/^[A-Za-z][A-Za-z0-9_./-]{0,8}$/),
);
const number = fc.oneof(
  fc.integer({ min: -5000, max: 50000 }).map(String),
  fc.double({ min: -1000, max: 1000, noNaN: true }).map((value) => String(Number(value.toFixed(4)))),
  fc.constantFrom('123456789012345', '1234567890123456', '0.000001', '1e-7', '00', '-0.0'),
);
const quoted = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 12 }).map((text) => JSON.stringify(text)),
  fc.string({ unit: fc.constantFrom(...SIGNS), maxLength: 8 }).map((text) => JSON.stringify(text)),
  fc.string({ unit: fc.constantFrom(...SIGNS), maxLength: 8 }).map((text) => `"${text}"`),
);
const blanks = fc.constantFrom('', '', ' ', '  ');

const { value } = fc.letrec<{ value: string; list: string; map: string }>((tie) => ({
  value: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    word,
    number,
    quoted,
    tie('list'),
    tie('map'),
  ),
  list: fc
    .tuple(blanks, fc.array(tie('value'), { maxLength: 4 }), blanks)
    .map(([a, items, b]) => `[${a}${items.join(`,${b}`)}${a}]`),
  map: fc
    .tuple(blanks, fc.array(fc.tuple(fc.oneof(word, quoted), tie('value')), { maxLength: 4 }), blanks)
    .map(([a, items, b]) => `{${b}${items.map(([key, inner]) => `${key}: ${a}${inner}`).join(`,${a}`)}${b}}`),
}));

/** A value as YAML might write it on one line, often wrong. */
export const flowValue = value;

const comment = fc.oneof(
  fc.constant(''),
  fc.constantFrom(' # a remark', '# stuck', '  #', ' #\ttab', '   '),
  fc.string({ unit: fc.constantFrom(...SIGNS), maxLength: 6 }).map((text) => ` # ${text}`),
);

/** A line of events as a person might write it: mostly maps with the usual keys, in every kind of spacing. */
export const eventLine = fc
  .tuple(
    fc.constantFrom('  - ', '  - ', '- ', '  -  ', ' -', '    - '),
    fc.array(
      fc.tuple(fc.oneof(fc.constantFrom('id', 'at', 'what', 'ml', 'parts', 'minutes', 'note'), word), value),
      { minLength: 1, maxLength: 6 },
    ),
    fc.constantFrom(', ', ', ', ',', ' , '),
    comment,
  )
  .map(
    ([dash, entries, comma, end]) =>
      `${dash}{${entries.map(([key, inner]) => `${key}: ${inner}`).join(comma)}}${end}`,
  );

/** A text with a few characters taken out, put in or exchanged. */
export function mutated(text: fc.Arbitrary<string>): fc.Arbitrary<string> {
  const change = fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    cut: fc.nat({ max: 2 }),
    put: fc.oneof(fc.constant(''), fc.constantFrom(...SIGNS)),
  });
  return fc.tuple(text, fc.array(change, { minLength: 1, maxLength: 3 })).map(([start, changes]) =>
    changes.reduce((now, { at, cut, put }) => {
      const place = Math.floor(at * now.length);
      return now.slice(0, place) + put + now.slice(place + cut);
    }, start),
  );
}
