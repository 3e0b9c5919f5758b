// Put before the program with `node --require`: lets one call of node:fs fail, or it and all after it, as a disk would.
//   FAULT_WITHIN  the folders whose files count, and open files of them; parted by the path separator. "answer" is the answer and what is said beside it
//   FAULT         "call:nth:fault", or "call:nth+:fault" for all from the nth on; none only counts
//   FAULT_CALLS   a file that each call that counts is noted in, by a line; "!" comes before one that failed
const fs = require('node:fs');
const { delimiter, sep } = require('node:path');

const real = { ...fs };
const within = (process.env.FAULT_WITHIN ?? '').split(delimiter);
const [call, place = '0', fault] = (process.env.FAULT ?? '').split(':');
const first = Number.parseInt(place, 10);
const lasts = place.endsWith('+');
const counts = {};
let isWithinCall = false;
/** The open files that count. */
const open = new Set();
const calls = process.env.FAULT_CALLS ? real.openSync(process.env.FAULT_CALLS, 'a') : undefined;

/** The functions that the program reaches the disk by, by what they do. */
const CALLS = {
  open: ['openSync'],
  read: ['readSync', 'readFileSync'],
  write: ['writeSync', 'writeFileSync'],
  sync: ['fsyncSync'],
  cut: ['ftruncateSync'],
  close: ['closeSync'],
  look: ['statSync', 'lstatSync', 'fstatSync', 'realpathSync', 'existsSync'],
  list: ['readdirSync'],
  link: ['linkSync'],
  unlink: ['unlinkSync', 'rmSync'],
  rename: ['renameSync'],
  folder: ['mkdirSync', 'mkdtempSync'],
};

for (const [kind, names] of Object.entries(CALLS)) for (const name of names) patch(kind, name);

function patch(kind, name) {
  fs[name] = Object.assign((...args) => {
    // Node's own functions call one another, which is one call to the program.
    if (isWithinCall) return real[name](...args);
    isWithinCall = true;
    try {
      return noted(name, args, isStruck(kind, name, args[0]) ? struckCall(name, args) : real[name](...args));
    } finally {
      isWithinCall = false;
    }
  }, real[name]);
}

function isStruck(kind, name, target) {
  const own = ownKind(kind, target);
  if (own === undefined) return false;
  counts[own] = (counts[own] ?? 0) + 1;
  const isStruck = own === call && (lasts ? counts[own] >= first : counts[own] === first);
  if (calls !== undefined) real.writeSync(calls, `${isStruck ? '!' : ''}${own} ${name}\n`);
  return isStruck;
}

/** Undefined for what does not count, as the program's own files. */
function ownKind(kind, target) {
  if (target === 1 || target === 2) return kind === 'write' && within.includes('answer') ? 'say' : undefined;
  const counted = typeof target === 'number' ? open.has(target) : isWithin(String(target));
  return counted ? kind : undefined;
}

function isWithin(path) {
  return within.some((folder) => path === folder || path.startsWith(folder + sep));
}

function noted(name, [target], result) {
  if (name === 'openSync' && isWithin(String(target))) open.add(result);
  if (name === 'closeSync') open.delete(target);
  return result;
}

function struckCall(name, args) {
  switch (fault) {
    case 'short':
      return part(name, args, 0.5);
    case 'nothing':
      return part(name, args, 0);
    case 'false':
      return false;
    default:
      break;
  }
  const [code, when] = fault.split('-');
  // A disk that fails may have taken a part, or all of it.
  if (when === 'half') part(name, args, 0.5);
  if (when === 'after') real[name](...args);
  // The system closes a file whatever it says.
  if (name === 'closeSync') real.closeSync(args[0]);
  if (name === 'existsSync') return false;
  if (name === 'statSync' && code === 'ENOENT' && args[1]?.throwIfNoEntry === false) return undefined;
  throw failure(code, name.replace(/(?:File)?Sync$/, ''), args[0]);
}

/** Writes or reads a part of what was asked; a whole file is written by the system in pieces, of which one failed. */
function part(name, args, share) {
  if (name === 'writeSync' || name === 'readSync') {
    const [file, bytes, from = 0, length = bytes.length - from, position = null] = args;
    return real[name](file, bytes, from, Math.floor(length * share), position);
  }
  if (name === 'writeFileSync') {
    const bytes = Buffer.from(args[1]);
    real.writeFileSync(args[0], bytes.subarray(0, Math.floor(bytes.length * share)), args[2]);
    throw failure('ENOSPC', 'write', args[0]);
  }
  return real[name](...args);
}

function failure(code, syscall, target) {
  const { errno } = require('node:os').constants;
  const error = new Error(`${code}: a fault of the disk, ${syscall} '${target}'`);
  return Object.assign(error, { errno: -errno[code], code, syscall });
}
