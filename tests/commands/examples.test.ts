import { copyFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/definition.ts';
import { binaryStl, box, torus } from '../mesh/solids.ts';
import { oneObject, threeMf } from '../mesh/three-mf-file.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

/** Words of a command line, with double quotes as in a shell; enough for the examples. */
function words(line: string): string[] {
  return [...line.matchAll(/(?:[^\s"]|"[^"]*")+/g)].map(([word]) => word.replaceAll('"', ''));
}

/** Liquid in a waste container, and a solvent for what is reclaimed of it. */
const DRAINED =
  '  - {id: "drn06", at: 2026-11-20T08:00:00-04:00, what: drain, bath: dirty, ml: 3500, into: "can-1"}';
const WITH_OWN_SOLVENT = HEAD.replace('events:', 'solvents:\n  reclaimed: {ipa_wt_pct: 99}\nevents:');

/** A ledger in which the examples of a command make sense: `fill` needs empty baths, `reclaim` something to reclaim from. */
function ledgerFor(name: string): string {
  if (name === 'waste' || name === 'reclaim' || name === 'stock')
    return ledgerOf([...LINES, DRAINED], WITH_OWN_SOLVENT);
  return ledgerOf(name === 'fill' ? [] : LINES);
}

/** Files that the examples of `import` name. */
const IMPORTED = {
  'events.ndjson': '{"id":"b4n7x","at":"2026-11-19T09:00:00-04:00","what":"wash","parts":{"model":2}}\n',
  'events.csv': 'id,at,what,parts\nb4n7x,2026-11-19T09:00:00-04:00,wash,2 model\n',
  'old.csv': 'date,time,Models,by\n2026-11-18,10:20,4,TO\n2026-11-19,08:15,6,NB\n',
  'past.csv': 'Day,parts,by\n18/11/2026,4 model,TO\n19/11/2026,6 model,NB\n',
};

/** Files that the examples of `wash` name. */
const PRINTED = {
  'arch.stl': binaryStl(torus(20, 5, 30)),
  'die.3mf': threeMf(oneObject(box([0, 0, 0], [10, 10, 15]))),
};

describe('the examples in the help', () => {
  it.each(COMMANDS.flatMap(({ name, examples }) => examples.map(([typed]) => [typed, name])))(
    '%s',
    (typed, name) => {
      const [program, ...args] = words(typed!);
      expect(program).toBe('bathbook');
      const clock = args.includes('--as-of') ? [] : ['--as-of', NOW];
      // Commands that make or check files of their own do so in a folder of their own.
      const cwd = tempFolder();
      const ledger = name === 'setup' ? join(cwd, 'new.yaml') : ledgerFor(name!);
      const options = { cwd, env: { HOME: cwd, BATHBOOK_LEDGER: ledger } };
      if (name === 'check' && args.length > 1) {
        for (const file of args.filter((arg) => arg.endsWith('.yaml')))
          run(['setup', '--ledger', file], options);
      }
      if (name === 'baths' || name === 'due' || name === 'report') {
        for (const file of args.filter((arg) => arg.endsWith('.yaml'))) copyFileSync(ledger, join(cwd, file));
      }
      for (const [file, bytes] of Object.entries(name === 'wash' ? PRINTED : {}))
        writeFileSync(join(cwd, file), bytes);
      for (const [file, text] of Object.entries(name === 'import' ? IMPORTED : {}))
        writeFileSync(join(cwd, file), text);
      const { code, err } = run([...args, ...clock], options);
      expect(err).not.toContain('Cannot');
      expect(code).toBe(0);
    },
  );
});
