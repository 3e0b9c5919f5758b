import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, tempFolder } from './bundle.ts';

const main = bundled();

/** `script` of util-linux puts a terminal around a program; that of other systems is told otherwise what to run. */
const hasScript =
  spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout?.includes('util-linux') === true;

const READ = [
  ...LINES,
  '  - {id: "read6", at: 2026-11-19T17:00:00-04:00, what: reading, bath: dirty, density_g_ml: 0.79, temp_c: 21}',
  '  - {id: "drain7", at: 2026-11-19T17:10:00-04:00, what: drain, bath: dirty, ml: 500, into: can-1}',
];

/** What a command shows on a terminal of 60 columns. */
function onTerminal(command: string, env: Record<string, string>, ledger = ledgerOf(READ)): string {
  const typed = `stty cols 60; "${process.execPath}" "${main}" ${command} --ledger "${ledger}" --as-of ${NOW}`;
  const { stdout } = spawnSync('script', ['-qec', typed, '/dev/null'], {
    env: { HOME: dirname(ledger), PATH: process.env.PATH ?? '', TERM: 'xterm', ...env },
    encoding: 'utf8',
    input: '',
  });
  return stdout.replaceAll('\r', '').replaceAll(ledger, 'LEDGER');
}

const COMMANDS = [
  'baths',
  'due',
  'outlook',
  'calibrate',
  'report',
  'entries --states',
  'stock',
  'waste',
  'waste label can-1',
  'tables',
  'tables --wt 91',
  'strength --sg 0.7866 --temp 20 --label 99',
  'vapour',
  'doctor',
  'explain',
  'explain resin carry evaporation',
  'inspect',
  'wash 6 model --dry-run',
  'reading dirty --density 0.803 --temp 21 --dry-run',
  'rotate --dry-run',
  'undo --dry-run',
  'refil dirty',
  'wash --help',
];

/** Colours take no room. The escape begins each. */
function withoutColour(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape that begins every colour
  return text.replaceAll(/\u001b\[[\d;]*m/g, '');
}

/** Commands stay on one line, to be copied. */
const TO_COPY = /^ {2}bathbook |^Not logged: /;

describe.skipIf(!hasScript)(
  'a terminal of 60 columns (skipped where there is no script of util-linux)',
  () => {
    it.each(COMMANDS)('is wide enough for: %s', (command) => {
      const text = withoutColour(onTerminal(command, { LANG: 'C.UTF-8' }));
      const lines = text.split('\n').filter((line) => !TO_COPY.test(line));
      for (const line of lines) expect([...line].length, line).toBeLessThanOrEqual(60);
      expect(text).not.toMatch(/undefined|NaN|\[object/);
    });

    it('keeps a figure with its unit, and a verdict in colour on the line where it has room', () => {
      const fill =
        '  - {id: "fill1", at: 2026-11-16T08:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000}';
      const text = onTerminal('drain dirty all --dry-run', { LANG: 'C.UTF-8' }, ledgerOf([fill]));
      expect(withoutColour(text)).toMatch(/^dirty +0\.00 → empty; .* → 0\.00 L {2}stop \(empty\)$/m);
    });

    it('is given what is to be copied whole, from the first column where it is wider', () => {
      const folder = join(tempFolder(), 'the records of the washing bench');
      mkdirSync(folder);
      const ledger = join(folder, 'bathbook.yaml');
      copyFileSync(ledgerOf(), ledger);
      const washed = withoutColour(onTerminal('wash 6 model', { LANG: 'C.UTF-8' }, ledger));
      expect(washed).toMatch(/^to undo\nbathbook undo \w{5} --ledger "LEDGER"$/m);
      const refused = withoutColour(onTerminal('wash 6 modle', { LANG: 'C.UTF-8' }, ledger));
      expect(refused).toMatch(/\nNot logged:\nbathbook wash 6 modle --ledger "LEDGER" --as-of \S+\n/);
    });

    it('is wide enough for remarks, where the answer goes elsewhere', () => {
      const text = withoutColour(onTerminal('export nothing >/dev/null', { LANG: 'C.UTF-8' }));
      expect(text).toMatch(/The formats are csv, .*\n +.*prometheus/);
      for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(60);
    });

    it.each(['baths', 'report', 'wash 6 model --dry-run'])(
      'is wide enough for three baths: %s',
      (command) => {
        const names = ['first', 'second', 'third'];
        const tub = '{mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}';
        const head = HEAD.replace(/^ {2}(?:dirty|clean): .*\n/gm, '').replace(
          'baths:\n',
          `baths:\n${names.map((name) => `  ${name}: ${tub}\n`).join('')}`,
        );
        const fills = names.map(
          (name) =>
            `  - {id: "${name}", at: 2026-11-16T08:00:00-04:00, what: fill, bath: ${name}, solvent: ipa99, ml: 4000}`,
        );
        const wash = '  - {id: "w1", at: 2026-11-17T11:20:00-04:00, what: wash, parts: {model: 9}}';
        const text = withoutColour(
          onTerminal(command, { LANG: 'C.UTF-8' }, ledgerOf([...fills, wash], head)),
        );
        for (const line of text.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(60);
        for (const name of names) expect(text).toContain(name);
      },
    );

    it.each(COMMANDS)('that shows ASCII alone is given no other sign by: %s', (command) => {
      const text = onTerminal(command, { LANG: 'C', NO_COLOR: '1' });
      // No escape either, as there is no colour.
      expect(text).toMatch(/^[\n\x20-\x7e]*$/);
    });
  },
);
