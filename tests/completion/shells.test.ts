import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf } from '../commands/bundle.ts';
import { missing, Terminal } from './terminal.ts';

/** Names of containers that a shell could take for something else, each with a first letter of its own. */
const HOSTILE = [
  'a b',
  'c$HOME',
  'd"e',
  "f'g",
  'h`touch pwned`',
  'i$(touch pwned)',
  'j:k',
  'l;touch pwned',
  'm\\n',
  'o*',
  'p!x',
  'q{1,2}',
  'r~s',
  't#u',
  'v&touch pwned',
  'w=x',
  'y%F{red}(e)',
  'z[1-9]',
  'A|touch pwned',
  'B>pwned',
  'Ü é',
  'C  D',
  "E' $(touch pwned) '",
  'F" $(touch pwned) "',
];
/** Never offered: they would steer the terminal, or end the line. */
const UNSEEN = ['5\u001b[2J', '6\ntouch pwned', '7\u202e', '8\r'];

const drains = [...HOSTILE, ...UNSEEN].map(
  (name, nth) =>
    `  - {id: "drn${nth}", at: 2026-11-20T08:00:00-04:00, what: drain, bath: dirty, ml: 10, into: ${JSON.stringify(name)}}`,
);
const OTHER = HEAD.replace('events:', 'parts:\n  stackable: {shape: solid, volume_ml: 20}\nevents:');
const main = bundled();
const ledger = ledgerOf([...drains, ...LINES]);
const other = ledgerOf([], OTHER);

describe.each(['bash', 'zsh', 'fish'] as const)('completion in %s', (shell) => {
  const lacking = missing(shell);
  if (lacking) {
    it.skip(`left out: ${lacking}`, () => {});
    return;
  }
  let terminal: Terminal;
  beforeAll(() => {
    terminal = new Terminal(shell, { main, ledger });
    writeFileSync(join(terminal.folder, 'table of it.csv'), '');
  });
  afterAll(() => terminal.close());

  it.each([
    ['bathbook cal\t', ['calibrate']],
    ['bathbook wash 6 hol\t', ['wash', '6', 'hollow-model']],
    [
      'bathbook wash 6 hol\t2 cro\t--agi\tstir\t',
      ['wash', '6', 'hollow-model', '2', 'crown', '--agitation', 'stirred'],
    ],
    ['bathbook wash --in=dir\t', ['wash', '--in=dirty']],
    ['bathbook wash --in dirty,\t', ['wash', '--in', 'dirty,clean']],
    ['bathbook wash 6 model --case 26\t', ['wash', '6', 'model', '--case', '26-0117']],
    ['bathbook top-up clean t\tm\t', ['top-up', 'clean', 'to', 'mark']],
    ['bathbook undo k3\t', ['undo', 'k3f9x']],
    ['bathbook amend k3\tagit\tstir\t', ['amend', 'k3f9x', 'agitation=stirred']],
    [`bathbook --ledger ${other} wash 2 sta\t`, ['--ledger', other, 'wash', '2', 'stackable']],
    ['bathbook export csv --out tab\t', ['export', 'csv', '--out', 'table of it.csv']],
  ])('%j', async (keys, args) => {
    expect(await terminal.run(keys)).toEqual(args);
  });

  it('writes every name so that the shell hands it on as it is, and runs nothing in it', async () => {
    for (const name of HOSTILE) {
      expect(await terminal.run(`bathbook rotate --into ${name.charAt(0)}\t`)).toEqual([
        'rotate',
        '--into',
        name,
      ]);
      expect(existsSync(join(terminal.folder, 'pwned')), name).toBe(false);
    }
  });

  it.each(['"', "'"])('goes on within %s', async (quote) => {
    for (const name of HOSTILE.filter((one) => !(shell === 'zsh' && /^p!/.test(one)))) {
      const args = await terminal.run(`bathbook rotate --into ${quote}${name.charAt(0)}\t`);
      expect(args).toEqual(['rotate', '--into', name]);
      expect(existsSync(join(terminal.folder, 'pwned')), name).toBe(false);
    }
  });

  it('does not offer names that would steer the terminal', async () => {
    for (const name of UNSEEN) {
      const letter = name.charAt(0);
      expect(await terminal.run(`bathbook rotate --into ${letter}\t`)).toEqual(['rotate', '--into', letter]);
    }
  });

  it('tells what a value means', async () => {
    expect(await terminal.look('bathbook undo \t\t', '6 model, 2 mask')).toContain('wash 2026-11-17 11:20');
  });
});
