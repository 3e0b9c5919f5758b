// What must hold whatever the input. A law is given what a case was run on and what came of it, and gives what is broken, in words.
import { MARK } from './words.mjs';

const MOST_MS = 1000;
/** 64 usage, 65 data, 66 no such file, 75 locked, 78 configuration; others only for the commands below. */
const CODES = [0, 64, 65, 78];
const OWN_CODES = {
  'wash --mesh': [66, ...CODES],
  due: [0, 1, 2, 3, ...CODES],
  'baths --exit-code': [0, 1, 2, 3, ...CODES],
};
/** For people and terminals: no sign that steers either. */
const STEERS = /[^\P{Cc}\t\n]|[\u061c\u200b\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/u;
const COLOUR = /\p{Cc}\[\d*(?:;\d+)*m/gu;
/** A number that is beyond all is told as it was read. */
const BEYOND = /e\+?\d{3}|\d{300}|\.inf/i;
const WORDLESS = /\bNaN\b|\bundefined\b|\bInfinity\b|\[object /;

/** By run: its exit code is one it may have, it took its time, it said nothing it must not say. */
const OF_RUN = {
  'no fault of its own': ({ code, err }) => (code === 70 ? `exit code 70: ${err.slice(0, 1500)}` : null),
  'exit code': ({ code, args }) => {
    const codes = OWN_CODES[`${args[0]} ${args[1]}`] ?? OWN_CODES[args[0]] ?? CODES;
    return code === 70 || codes.includes(code) ? null : `exit code ${code}`;
  },
  'no hang': ({ cpuMs }) => (cpuMs > MOST_MS ? `${Math.round(cpuMs)} ms of processor time` : null),
  'a refusal says why': ({ code, err, out }) =>
    code >= 64 && err === '' && out === '' ? `exit code ${code} and not a word` : null,
  'numbers are numbers': ({ data }) => data.map((one) => oddNumber(one, 'data')).find(Boolean) ?? null,
  'no sign steers a terminal': ({ args, out, err, code }) => {
    const told = [args[0] === 'export' && code === 0 ? '' : out, err];
    const bad = told.map((text) => STEERS.exec(plain(text, args))).find(Boolean);
    return bad ? `U+${bad[0].codePointAt(0).toString(16)} in ${JSON.stringify(around(bad))}` : null;
  },
  'markup is escaped': ({ args, out }) =>
    /html|markdown/.test(args.join(' ')) && out.replaceAll(/\\./g, '').includes(MARK)
      ? `${MARK} came out as it went in`
      : null,
};

const plain = (text, args) => (args.includes('always') ? text.replaceAll(COLOUR, '') : text);
const around = ({ input, index }) => input.slice(Math.max(0, index - 40), index + 40);

/** Where a document holds a number that JSON cannot. */
function oddNumber(value, where) {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${where} is ${value}`;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, inner] of Object.entries(value)) {
    const found = oddNumber(inner, `${where}.${key}`);
    if (found) return found;
  }
  return null;
}

/** By case. */
const OF_CASE = {
  'no wordless words': ({ files, ran }) => {
    const given = Object.values(files).some((bytes) =>
      [WORDLESS, BEYOND].some((sign) => sign.test(bytes.toString('latin1'))),
    );
    const bad = given ? null : ran.map(({ out, err }) => WORDLESS.exec(out + err)).find(Boolean);
    return bad ? `${bad[0]} in ${JSON.stringify(around(bad))}` : null;
  },
  'each problem has its place': ({ files, ran }) => {
    const check = ran.find(({ args }) => args[0] === 'check' && args.includes('--json'));
    if (!check?.out) return null;
    const lines = files['bathbook.yaml'].toString('latin1').split('\n').length;
    const placeless = JSON.parse(check.out).data.files[0].problems.find(
      ({ line, code }) => !(line >= 1 && line <= lines) && !PLACELESS.includes(code),
    );
    return placeless ? `no line in ${JSON.stringify(placeless)}` : null;
  },
  'exit codes agree': ({ ran }) => {
    const [check, other] = ran;
    if (check.args[0] !== 'check' || !other) return null;
    const sound = check.out ? JSON.parse(check.out).data.files[0] : null;
    if (sound && sound.sound !== (check.code === 0))
      return `check says sound: ${sound.sound}, and exits ${check.code}`;
    if (sound && !isUnreadable(sound) && other.code < 4) return null;
    // A file is at fault where a zone is misspelt; a command that needs it says that it is a matter of this computer.
    if (sound?.problems.some(({ code }) => code === 'unknown-timezone') && other.code === 78) return null;
    return agree(check.code, other) ? null : `check exits ${check.code}, ${other.args[0]} ${other.code}`;
  },
  'documents fit their schemas': ({ ran, unfit }) => ran.map((one) => unfit(one)).find(Boolean) ?? null,
  'pages of others are well formed': ({ ran, readers }) =>
    ran.map((one) => illFormed(one, readers)).find(Boolean) ?? null,
  'the ledger only grows': ({ files, after, ran }) => {
    const before = files['bathbook.yaml'];
    const done = ran.some(({ args, code }) => (code === 0 && args[0] !== 'check') || isPartly(args, code));
    if (after.equals(before)) return null;
    if (!done) return 'it was changed by commands that failed';
    return grew(before, after, ran) ? null : 'bytes that were in it are no longer';
  },
  'what was sound stays sound': ({ ran }) => {
    const check = ran.at(-1);
    if (!['import', 'wash'].includes(ran[0].args[0]) || check.args[0] !== 'check' || check.code === 0)
      return null;
    return `after ${ran[0].args[0]} check exits ${check.code}: ${check.out.slice(0, 600)}`;
  },
  'importing again adds nothing': ({ ran }) => {
    const [one, two] = ran;
    if (one.args[0] !== 'import' || two?.args[0] !== 'import' || !two.out) return null;
    const { new: added } = JSON.parse(two.out).data;
    return one.code !== two.code || added > 0
      ? `exit ${one.code}, then ${two.code}, and added ${added} again`
      : null;
  },
};

/** What an import can take of a file is added, whatever it cannot. */
const isPartly = ([command], code) => command === 'import' && code === 65;

/** Of the whole file, or of this computer. */
const PLACELESS = ['unknown-timezone'];

const IMPOSSIBLE = [
  'bath-empty',
  'solvent-weak',
  'bath-runs-dry',
  'bath-not-empty',
  'bath-holds-less',
  'no-solvent',
  'unknown-bath',
];

/** Whether it is more than that something cannot have happened, which commands tell and go on. */
const isUnreadable = ({ problems }) =>
  problems.some(({ code, severity }) => severity === 'error' && !IMPOSSIBLE.includes(code));

/** A sound ledger is read; one that is not is refused, by all commands alike. */
function agree(checked, { args, code, err }) {
  if (code === 70 || code === 64) return true;
  if (args[0] === 'vapour' && err.includes('no bath of the ledger holds solvent')) return true;
  if (args[0] === 'check') return checked === 0 || code === checked;
  if (args[0] === 'cron') return true;
  return checked === 0 ? code < 64 : code === checked;
}

/** With the blanks in the place of `[]`, the last line ended, a torn one moved aside, the last one taken back. */
function grew(before, after, ran) {
  if (ran.some(({ args }) => args[0] === 'undo')) return true;
  const emptied = before
    .toString('latin1')
    .replace(/^events:( *)\[( *)\]/m, (all) => `events:${' '.repeat(all.length - 7)}`);
  const text = after.toString('latin1');
  return text.startsWith(emptied) || text.startsWith(emptied.slice(0, emptied.lastIndexOf('\n') + 1));
}

function illFormed({ args: [command, format], code, out }, readers) {
  if (command !== 'export' || code !== 0) return null;
  const read = {
    ics: 'readCalendar',
    openmetrics: 'readOpenMetrics',
    prometheus: 'readTextMetrics',
  }[format];
  // The shipped program is run without them.
  if (!readers[read]) return null;
  if (format === 'ics' && !out.includes('BEGIN:VEVENT')) return null;
  try {
    readers[read](out);
    return null;
  } catch (error) {
    return `${format}: ${error.message}`;
  }
}

/** The names of the laws that a case breaks, each with how. */
export function broken(outcome) {
  const runs = outcome.ran.flatMap((run) =>
    Object.entries(OF_RUN).map(([law, holds]) => [law, holds(run), run.args.join(' ')]),
  );
  const whole = Object.entries(OF_CASE).map(([law, holds]) => [
    law,
    holds(outcome),
    outcome.ran[1]?.args.join(' ') ?? '',
  ]);
  return [...runs, ...whole].flatMap(([law, why, command]) => (why ? [{ law, why, command }] : []));
}
