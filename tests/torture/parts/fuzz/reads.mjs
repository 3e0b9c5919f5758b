// Texts that are only read, which takes a thousandth of a second where a whole case takes twenty: a reader is given bytes, and tells
// what it took and what it found wrong. One more (say, of meshes) is one more entry.

import { isDeepStrictEqual } from 'node:util';
import { CORE_SCHEMA, load } from 'js-yaml';
import { oneOf } from '../random.mjs';
import { damaged } from './damage.mjs';
import { drawImport } from './draw-import.mjs';
import { drawLedger } from './draw-ledger.mjs';
import { drawMesh } from './draw-mesh.mjs';

const MOST_MS = 1000;

/** By reader: texts of its kind, and what must hold of what it tells; gives what is broken, in words. */
const READERS = {
  ledger: {
    share: 0.5,
    draw: drawLedger,
    broken: ({ problems, told, file, lines }) =>
      placeless(problems, lines) ?? steering(told) ?? otherwise(file, problems),
  },
  rows: {
    share: 0.2,
    draw: (random) => drawImport(random).text,
    broken: ({ rows, lines }) => {
      const odd = rows.find(({ line }) => !(line >= 1 && line <= lines));
      return odd ? `a row of line ${odd.line} of ${lines}` : null;
    },
  },
  mesh: {
    share: 0.3,
    drawBytes: drawMesh,
    broken: (measured) => {
      if ('message' in measured) return measured.message ? null : 'refused without a word';
      const odd = [...numbersIn(measured)].find((value) => !Number.isFinite(value));
      if (odd !== undefined) return `a number is ${odd}`;
      return (measured.volumeMl ?? 0) < 0 || measured.areaCm2 < 0 ? 'less than nothing' : null;
    },
  },
};

function* numbersIn(value) {
  if (typeof value === 'number') yield value;
  else if (typeof value === 'object' && value !== null)
    for (const inner of Object.values(value)) yield* numbersIn(inner);
}

/** So many of damaged texts of one kind, all made of the same one. */
export function drawReads(random, count) {
  const kinds = Object.keys(READERS);
  const at = random();
  const kind = kinds.find((_, nth) => at < sum(kinds.slice(0, nth + 1))) ?? kinds.at(-1);
  const { drawBytes } = READERS[kind];
  if (drawBytes) return Array.from({ length: count }, () => ({ kind, bytes: drawBytes(random) }));
  const text = READERS[kind].draw(random);
  const other = READERS[kind].draw(random);
  return Array.from({ length: count }, () => ({
    kind,
    bytes: damaged(random, text, () => oneOf(random, [text, other])),
  }));
}

const sum = (kinds) => kinds.reduce((all, kind) => all + READERS[kind].share, 0);

/** What is broken, or null. */
export async function brokenRead(room, one) {
  const { kind, bytes } = one;
  const began = performance.now();
  try {
    const read = await room.read[kind](bytes);
    const isSlow = performance.now() - began > MOST_MS && (await cpuMsOf(room, one)) > MOST_MS;
    const why = isSlow ? 'took more than a second of processor time' : READERS[kind].broken(read);
    return why ? { law: `reading ${kind}`, why } : null;
  } catch (error) {
    return { law: `reading ${kind}`, why: `threw ${error.stack}` };
  }
}

/** Once more, by the clock of the process: on a busy machine the one on the wall says nothing. */
async function cpuMsOf(room, { kind, bytes }) {
  const began = process.cpuUsage();
  await room.read[kind](bytes);
  const { user, system } = process.cpuUsage(began);
  return (user + system) / 1000;
}

function placeless(problems, lines) {
  const bad = problems.find(({ line, code }) => !(line >= 1 && line <= lines) && code !== 'unknown-timezone');
  return bad ? `no line of ${lines} in ${bad.code} ${bad.line}, ${bad.message}` : null;
}

function steering(told) {
  const bad = told
    .map((text) => /[^\P{Cc}\n]|[\u200b\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/u.exec(text))
    .find(Boolean);
  return bad ? `U+${bad[0].codePointAt(0).toString(16)} in ${JSON.stringify(bad.input)}` : null;
}

/** What is taken is what another parser reads; one that calls less of it YAML says nothing. */
function otherwise(file, problems) {
  if (problems.some(({ severity }) => severity === 'error') || file.tail === 'torn') return null;
  let whole;
  try {
    whole = load(file.text, { schema: CORE_SCHEMA });
  } catch {
    return null;
  }
  const { events, ...head } = whole;
  const taken = {
    head: file.header,
    events: file.events.map(({ event }) => event),
  };
  return isDeepStrictEqual(plain(taken), plain({ head, events: events ?? [] }))
    ? null
    : 'another parser reads it otherwise';
}

const plain = (value) => JSON.parse(JSON.stringify(value));
