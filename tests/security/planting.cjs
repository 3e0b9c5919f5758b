// Loaded before the program: the moment before it makes a file, a link to another file is planted under that very name, as nobody could
// do better who watches the folder. PLANT_NTH tells which of the files, PLANT_VICTIM where the link leads, PLANT_WITHIN in which folder.
const fs = require('node:fs');
const { basename, resolve } = require('node:path');

const { PLANT_NTH, PLANT_VICTIM, PLANT_WITHIN, PLANT_LOG } = process.env;
const { existsSync, lstatSync, symlinkSync, appendFileSync } = fs;
let made = 0;

function plant(path) {
  const full = resolve(String(path));
  if (!full.startsWith(PLANT_WITHIN) || full.startsWith(PLANT_LOG)) return;
  if (existsSync(full) || lstatSync(full, { throwIfNoEntry: false })) return;
  made += 1;
  if (made !== Number(PLANT_NTH)) return;
  symlinkSync(PLANT_VICTIM, full);
  appendFileSync(PLANT_LOG, `${basename(full)}\n`);
}

const makes = (flags) =>
  typeof flags === 'string' ? /[wa]/.test(flags) : (flags & fs.constants.O_CREAT) !== 0;

for (const [name, at, isMade] of [
  ['openSync', 0, ([, flags = 'r']) => makes(flags)],
  ['writeFileSync', 0, ([path]) => typeof path !== 'number'],
  ['copyFileSync', 1, () => true],
  ['linkSync', 1, () => true],
  ['renameSync', 1, () => true],
  ['mkdirSync', 0, () => true],
]) {
  const original = fs[name];
  fs[name] = (...args) => {
    if (isMade(args)) plant(args[at]);
    return original.apply(fs, args);
  };
}
