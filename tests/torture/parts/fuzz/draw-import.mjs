// Files to import: events as NDJSON or as a table, and tables as people keep them.
import { oneOf, shuffled, wholeBelow } from '../random.mjs';
import { drawEvents } from './draw-events.mjs';
import { edgeDate, number, text } from './words.mjs';

const chance = (random, share) => random() < share;

/** Text and options of an import. */
export function drawImport(random) {
  return oneOf(random, [ndjson, ownTable, anyTable])(random);
}

function ndjson(random) {
  const lines = drawEvents(random, wholeBelow(random, 10)).map((event) => {
    const fields = Object.entries(event).map(([key, value]) => `${JSON.stringify(key)}:${jsonOf(value)}`);
    return `{${fields.join(',')}}`;
  });
  return { name: 'events.ndjson', text: `${lines.join('\n')}\n`, options: [] };
}

/** A value of a ledger as JSON, where that is not far: bare words and times in quotes. */
function jsonOf(value) {
  return value.replaceAll(/"(?:[^"\\]|\\.)*"|[A-Za-z_\d+.-][\w.:+-]*/g, (word) =>
    word.startsWith('"') || /^(?:-?(?:0|[1-9]\d*)(?:\.\d+)?|true|false)$/.test(word)
      ? word
      : JSON.stringify(word),
  );
}

/** A table as the program exports it: values without quotes, lists as JSON. */
function ownTable(random) {
  const events = drawEvents(random, wholeBelow(random, 10));
  const columns = [...new Set(events.flatMap((event) => Object.keys(event)))];
  const rows = events.map((event) => columns.map((key) => cellOf(event[key] ?? '')));
  return {
    name: 'events.csv',
    text: table(random, [columns, ...rows]),
    options: [],
  };
}

function cellOf(value) {
  return value.startsWith('"') ? JSON.parse(value) : jsonOf(value).replace(/^"|"$/g, '');
}

const HEADINGS = {
  date: (random) => dateOf(random),
  time: (random) => oneOf(random, ['09:30', '9:30 pm', '24:00', '02:30', '9.30', '']),
  at: (random) =>
    chance(random, 0.8) ? `2026-09-0${1 + wholeBelow(random, 9)}T10:00:00-03:00` : edgeDate(random),
  what: (random) => oneOf(random, ['wash', 'reading', 'fill', '', 'top-up', 'void']),
  'parts.model': (random) => number(random, 0, 9, { whole: true }),
  parts: (random) =>
    oneOf(random, ['model: 3', '{"model": 3}', '6 model 2 mask', 'model=2', '{"__proto__": 1}']),
  'Drained (h)': (random) => oneOf(random, ['1,5 h', '0.5', '90 min', '1.5', '1,500', '']),
  drained_min: (random) => number(random, 0, 90),
  minutes: (random) => oneOf(random, ['5, 5', '[5, 4]', '5;5', '5']),
  bath: (random) => oneOf(random, ['dirty', 'clean', 'both', '__proto__']),
  ml: (random) => number(random, 0, 900),
  density_g_ml: (random) => number(random, 0.79, 0.85),
  note: (random) => text(random, 2),
  by: (random) => text(random, 3),
  cases: (random) => text(random, 3),
  Wer: (random) => text(random),
  constructor: (random) => text(random),
  __proto__: (random) => text(random),
  '': (random) => text(random),
};

function dateOf(random) {
  const [day, month] = [1 + wholeBelow(random, 31), 1 + wholeBelow(random, 12)];
  return oneOf(random, [
    `2026-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`,
    `${day}/${month}/2026`,
    `${day}.${month}.26`,
    '46266',
    '',
    'yesterday',
  ]);
}

function anyTable(random) {
  const columns = shuffled(random, Object.keys(HEADINGS)).slice(0, 1 + wholeBelow(random, 8));
  if (chance(random, 0.7) && !columns.includes('at')) columns.push('date');
  const rows = Array.from({ length: wholeBelow(random, 8) }, () =>
    columns.map((heading) => HEADINGS[heading](random)),
  );
  const options = [
    ['--map', `by=${oneOf(random, ['Wer', 'Who', 'note', '__proto__', ''])}`],
    ['--map', 'parts.model=ml'],
    ['--map', 'parts.__proto__=ml'],
    ['--set', oneOf(random, ['resin=standard', 'what=wash', '__proto__=1', 'minutes=5,5', 'x'])],
    ['--ignore', oneOf(random, columns)],
    ['--date-style', oneOf(random, ['d/m/y', 'm/d/y', 'iso'])],
    ['--decimal', oneOf(random, ['point', 'comma'])],
    ['--format', oneOf(random, ['csv', 'ndjson'])],
  ].filter(() => chance(random, 0.2));
  return {
    name: 'washes.csv',
    text: table(random, [columns, ...rows]),
    options: options.flat(),
  };
}

/** Cells parted and quoted in one of the ways that programs do; now and then a row is ragged. */
function table(random, rows) {
  const separator = oneOf(random, [',', ',', ',', ';', '\t']);
  const end = oneOf(random, ['\n', '\n', '\r\n', '\r']);
  const quotesAll = chance(random, 0.2);
  const lines = rows.map((cells) => {
    const ragged = chance(random, 0.03) ? oneOf(random, [cells.slice(1), [...cells, 'more'], []]) : cells;
    return ragged.map((cell) => quotedCell(cell, separator, quotesAll)).join(separator);
  });
  return (chance(random, 0.1) ? '\ufeff' : '') + lines.join(end) + end;
}

function quotedCell(cell, separator, always) {
  const needs = always || cell.includes(separator) || /["\r\n]/.test(cell);
  return needs ? `"${cell.replaceAll('"', '""')}"` : cell;
}
