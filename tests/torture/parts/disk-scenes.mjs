// Commands that write, on ledgers in the states that make them write in another way.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { HEAD, LINES, ledgerOf } from './sample.mjs';

const TORN = '  - {id: "torn5", at: 2025-03-03T1';
const whole = ledgerOf(LINES);
const WASH = ['wash', '1', 'crown', '--at', '2025-03-04 09:00', '--json'];
const LATER = ['--as-of', '2025-03-04 10:00'];
const NEW = ['new01', 'new02'].map((id) => ({
  id,
  at: '2025-03-04T08:00:00-04:00',
  what: 'inspect',
  result: 'ok',
}));

/**
 * `makes`: the events that are there afterwards and were not before, told from what it printed; `takes`: the one that is gone.
 * `writes`: what else it writes, a file by its place in the shop's folder. `isCold`: with a cache of its own, empty as yet.
 */
export const SCENES = [
  { name: 'wash', text: whole, words: WASH, makes: told },
  { name: 'wash after a torn line', text: whole + TORN, words: WASH, makes: told },
  { name: 'wash after a line without an end', text: whole.trimEnd(), words: WASH, makes: told },
  { name: 'wash past a stale lock', text: whole, words: WASH, makes: told, stale: ['.lock'] },
  {
    name: 'wash past two stale locks',
    text: whole,
    words: WASH,
    makes: told,
    stale: ['.lock', '.lock.break'],
  },
  {
    name: 'amend',
    text: whole,
    words: ['amend', 'wash4', 'minutes=4,5', '--why', 'miscounted', '--json'],
    makes: told,
  },
  { name: 'undo', text: whole, words: ['undo', '--json'], takes: 'wash4' },
  {
    name: 'import',
    text: whole,
    words: ['import', 'new.ndjson', '--json'],
    makes: () => NEW.map(({ id }) => id),
  },
  {
    name: 'import into an empty list',
    text: `${HEAD.trimEnd()} []\n`,
    words: ['import', 'new.ndjson', '--json'],
    makes: () => NEW.map(({ id }) => id),
  },
  { name: 'wash with nothing in the cache', text: whole, words: WASH, makes: told, isCold: true },
  { name: 'setup', words: ['setup', '--json'] },
  { name: 'export', text: whole, words: ['export', 'csv', '--out', 'out.csv', ...LATER], writes: 'out.csv' },
  { name: 'report', text: whole, words: ['report', '--out', 'page.html', ...LATER], writes: 'page.html' },
  { name: 'due', text: whole, words: ['due', '--once-a-day', ...LATER], codes: [0, 1, 2] },
  { name: 'baths', text: whole, words: ['baths', '--json', ...LATER], isCold: true },
].map((scene) => ({ ...scene, prepare: (...on) => prepare(scene, ...on) }));

function told(out) {
  return [JSON.parse(out).data.event.id];
}

function prepare({ text, stale = [] }, shop, path, { dead }) {
  mkdirSync(join(shop, 'state'));
  if (text !== undefined) writeFileSync(path, text);
  for (const end of stale) writeFileSync(path + end, JSON.stringify(dead));
  writeFileSync(join(shop, 'new.ndjson'), NEW.map((event) => `${JSON.stringify(event)}\n`).join(''));
  writeFileSync(join(shop, 'out.csv'), 'of last week\n');
  writeFileSync(join(shop, 'page.html'), 'of last week\n');
}
