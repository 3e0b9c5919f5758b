import { chmodSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/definition.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

describe('the program', () => {
  it('tells its version', () => {
    expect(run(['--version'])).toEqual({ code: 0, out: `bathbook ${version}\n`, err: '' });
    expect(run(['baths', '--version']).out).toBe(`bathbook ${version}\n`);
  });

  it('lists every command in its help, however it is asked', () => {
    const { code, out } = run(['--help']);
    expect(code).toBe(0);
    for (const { name, summary } of COMMANDS)
      expect(out.replaceAll(/\s+/g, ' ')).toContain(`${name} ${summary}`);
    for (const args of [[], ['-h'], ['help']]) expect(run(args)).toEqual({ code: 0, out, err: '' });
  });

  it.each(COMMANDS.map(({ name }) => name))('starts the help of %s with an example', (name) => {
    const { out } = run([name, '--help']);
    const [title, ...lines] = out.split('\n');
    const example = lines.find((line) => line.startsWith('  '));
    expect(title).toMatch(new RegExp(`^bathbook ${name}: `));
    expect(example).toMatch(new RegExp(`^  bathbook ${name}\\b`));
    expect(run(['help', name]).out).toBe(out);
    expect(run([name, '--json', '-h']).out).toBe(out);
  });

  it('keeps help within the width of the terminal', () => {
    // Notes hold lines that are to be copied.
    const typed = new Set(COMMANDS.flatMap(({ notes = '' }) => notes.match(/^ {2}\S.*/gm) ?? []));
    for (const { name } of COMMANDS) {
      const { out } = run([name, '--help'], { env: { COLUMNS: '60' } });
      const wide = out.split('\n').filter((line) => line.length > 60 && !typed.has(line));
      expect(wide).toEqual([]);
    }
  });
});

describe('what cannot be understood', () => {
  const ledger = ledgerOf();
  const said = (...args: string[]) => run([...args, '--ledger', ledger]);

  it.each([
    [['wsh'], 'Cannot find a command named "wsh"', 'Did you mean "wash"?'],
    [['baths', '--jsn'], 'Cannot use the option "--jsn"', 'Did you mean --json?'],
    [['wash', '2', 'model', '--draned', '30'], 'Cannot use the option "--draned"', 'Did you mean --drained?'],
    [
      ['wash', '2', 'model', '--prerinse', 'spry'],
      'Cannot use "spry" for --prerinse',
      'Did you mean "spray"?',
    ],
    [['wash', '2', 'modle'], 'Cannot find a part named "modle"', 'Did you mean "model"?'],
    [['fill', 'dirty'], 'Cannot fill without the amount', 'bathbook fill dirty 4 L ipa99'],
    [['rotate', 'dirty'], 'Cannot take so many words for "rotate"', 'bathbook rotate'],
    [['void', 'k3f9'], 'Cannot correct an entry without a reason', '--why'],
    [['void', 'k3f9', '--why', 'x'], 'Cannot find an entry with the id "k3f9"', 'Did you mean "k3f9x"?'],
    [
      ['amend', 'k3f9x', 'draned_min=3', '--why', 'x'],
      'Cannot find "draned_min"',
      'Did you mean "drained_min"?',
    ],
    [['schema', 'bath'], 'Cannot find a schema named "bath"', 'Did you mean "baths"?'],
  ])('%j exits with 64 and says what is meant', (args, message, help) => {
    const { code, out, err } = said(...args);
    expect(err).toContain(message);
    expect(err).toMatch(new RegExp(`  help: .*${help.replaceAll(/[?.*+^$[\]\\(){}|]/g, '\\$&')}`));
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(err).not.toMatch(/\n\s+at /);
  });

  it('shows the command that was not logged, ready to be typed again', () => {
    expect(said('wash', '2', 'model', '--note', "it's red", '--dranied', '3').err).toContain(
      `Not logged: bathbook wash 2 model --note "it's red" --dranied 3 --ledger ${ledger}\n`,
    );
    expect(said('baths', '--jsn').err).not.toContain('Not logged');
  });

  it('shows what was not logged as it was typed, to be put right, also once it was understood', () => {
    const { code, err } = run([
      'fill',
      'dirty',
      '4',
      'L',
      'ipa99',
      '--ledger',
      ledger,
      '--at',
      '2026-11-20 16:00',
      '--as-of',
      NOW,
    ]);
    expect(err).toContain(
      `Not logged: bathbook fill dirty 4 L ipa99 --ledger ${ledger} --at "2026-11-20 16:00" --as-of ${NOW}\n`,
    );
    expect(err).not.toContain('- {');
    expect(code).toBe(65);
    expect(readFileSync(ledger, 'utf8')).toBe(HEAD + LINES.map((line) => `${line}\n`).join(''));
  });

  it('refuses a time that is still to come, and offers the day before', () => {
    const at = (time: string) =>
      run(['wash', '1', 'model', '--ledger', ledger, '--as-of', NOW, '--at', time]);
    expect(at('17:30')).toMatchObject({ code: 64, out: '' });
    expect(at('17:30').err).toContain('--at "yesterday 17:30"');
    expect(at('2027-01-01').err).toContain('Cannot log at 2027-01-01 00:00');
    expect(at('2027-01-01').err).not.toContain('yesterday');
    // A clock may be a little fast.
    expect(
      run(['wash', '1', 'model', '--ledger', ledgerOf(), '--as-of', NOW, '--at', '17:04', '--dry-run']).code,
    ).toBe(0);
  });

  it('takes global options before and after the command alike', () => {
    const after = run(['baths', '--ledger', ledger, '--as-of', NOW, '--json']);
    expect(after.code).toBe(0);
    expect(run(['--ledger', ledger, '--as-of', NOW, '--json', 'baths'])).toEqual(after);
    expect(run(['--json', 'baths', '--as-of', NOW, `--ledger=${ledger}`])).toEqual(after);
  });
});

describe('exit codes', () => {
  const empty = tempFolder();

  it('66 when there is no ledger, and the way to one', () => {
    const { code, err } = run(['baths'], { cwd: empty, env: { HOME: empty } });
    expect(code).toBe(66);
    expect(err).toContain('bathbook setup');
  });

  it('66 for a folder, 65 for an invalid ledger, 78 for a zone nobody knows', () => {
    expect(run(['baths', '--ledger', empty]).code).toBe(66);
    expect(run(['baths', '--ledger', ledgerOf([], HEAD.replace('mark_ml: 4000', 'mark_ml: -1'))]).code).toBe(
      65,
    );
    const zone = run(['baths', '--ledger', ledgerOf([], HEAD.replace('Halifax', 'Halifx'))]);
    expect(zone.code).toBe(78);
    expect(zone.err).toContain('"America/Halifx"');
  });

  it('66 for a path that leads through a file', () => {
    const { code, err } = run(['baths', '--ledger', join(ledgerOf(), 'below')]);
    expect(err).toContain('Cannot');
    expect(code).toBe(66);
  });

  it.skipIf(process.getuid?.() === 0)('74 without permission to read', () => {
    const path = ledgerOf();
    chmodSync(path, 0);
    expect(run(['baths', '--ledger', path]).code).toBe(74);
  });

  it('75 while another machine holds the lock, and says who', () => {
    const path = ledgerOf();
    const owner = {
      token: 't',
      pid: 1,
      started: null,
      host: 'front-desk',
      since: NOW,
      command: 'bathbook wash',
    };
    writeFileSync(`${path}.lock`, JSON.stringify(owner));
    const { code, err } = run(['wash', '1', 'model', '--ledger', path, '--as-of', NOW]);
    expect(err).toContain('front-desk');
    expect(err).toContain('Not logged: bathbook wash 1 model');
    expect(code).toBe(75);
  });

  it('70 for a fault of the program: one block, no stack', () => {
    const broken = join(tempFolder(), 'clock.cjs');
    writeFileSync(broken, 'Date.now = () => { throw new Error("the clock has stopped"); };');
    const env = { NODE_OPTIONS: `--require ${broken}` };
    const { code, out, err } = run(['baths', '--ledger', ledgerOf()], { env });
    expect(code).toBe(70);
    expect(out).toBe('');
    expect(err).toContain('the clock has stopped');
    expect(err).toContain(`bathbook ${version}, node ${process.versions.node}, ${process.platform}`);
    expect(err).toContain('report');
    expect(err).not.toMatch(/\n\s+at /);
    expect(run(['baths', '--ledger', ledgerOf()], { env: { ...env, BATHBOOK_DEBUG: '1' } }).err).toMatch(
      /\n\s+at /,
    );
  });

  it('65 for an event that cannot have happened, and the estimate leaves it out', () => {
    const wash = '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}}';
    const { code, err, out } = run(['baths', '--ledger', ledgerOf([wash, ...LINES]), '--as-of', NOW]);
    expect(code).toBe(65);
    expect(err).toMatch(/bathbook\.yaml:9:/);
    expect(out).toContain('dirty\tkeep');
  });

  it('0, 1, 2 of baths --exit-code by the worse verdict', () => {
    const limits = (dirty: string) => HEAD.replace('events:', `limits:\n  dirty_resin: ${dirty}\nevents:`);
    const code = (head: string) =>
      run(['baths', '--exit-code', '--quiet', '--as-of', NOW, '--ledger', ledgerOf(LINES, head)]);
    expect(code(HEAD)).toEqual({ code: 0, out: '', err: '' });
    expect(code(limits('[0.001, 5, 9]')).code).toBe(1);
    expect(code(limits('[0.001, 0.002, 9]')).code).toBe(2);
    expect(code(limits('[0.001, 0.002, 0.003]')).code).toBe(2);
  });

  it('of a command that writes nothing is not told as not logged, whatever word it holds', () => {
    const { code, err } = run(['export', 'csv', '--what', 'wash']);
    expect(code).toBe(64);
    expect(err).not.toContain('Not logged');
  });
});
