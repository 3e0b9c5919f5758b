import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS, GLOBAL_OPTIONS } from '../../src/commands/definition.ts';
import { makeLedger } from '../bench/make-ledger.mjs';
import { bundled, HEAD, LINES, ledgerOf, runner, tempFolder } from '../commands/bundle.ts';

const main = bundled();
const run = runner(main);

/** The values offered before a word that is begun. */
function offered(words: string[], typed = '', ledger = ledgerOf()): string[] {
  const { code, out, err } = run(['__complete', 'zsh', typed, ...words], {
    env: { BATHBOOK_LEDGER: ledger },
  });
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return out
    .split('\n')
    .slice(1, -1)
    .map((line) => line.split('\t')[0]!);
}

function how(words: string[], typed = ''): string {
  return run(['__complete', 'zsh', typed, ...words]).out.split('\n')[0]!;
}

describe('what is offered', () => {
  it('is every command, and every option of each', () => {
    expect(offered([])).toEqual(COMMANDS.map(({ name }) => name));
    for (const { name, options } of COMMANDS) {
      const names = [...options, ...GLOBAL_OPTIONS].map(({ flags }) => flags.split(' ')[0]);
      expect(offered([name], '-')).toEqual(expect.arrayContaining(names));
    }
  });

  it('is every choice of an option that has choices, and files where a file is named', () => {
    for (const { name, options } of COMMANDS) {
      for (const { flags, choices } of options) {
        const [option, value = ''] = flags.split(' ');
        if (choices) expect(offered([name, option!])).toEqual(choices);
        if (value.startsWith('FILE')) expect(how([name, option!])).toBe('files');
      }
    }
    expect(how(['baths', '--ledger'])).toBe('files');
    expect(how(['check'])).toBe('files');
    expect(how(['demo'])).toBe('folders');
  });

  it('is an option once, but for those that may be repeated', () => {
    expect(offered(['wash', '--lot', 'R7', '--case', 'x'], '--')).not.toContain('--lot');
    expect(offered(['wash', '--lot', 'R7', '--case', 'x'], '--')).toContain('--case');
  });

  it('is each number to explain, and what the one before can be of', () => {
    expect(offered(['explain'])).toEqual(expect.arrayContaining(['resin', 'carry', 'loads-left']));
    expect(offered(['explain', 'resin'])).toEqual(expect.arrayContaining(['dirty', 'clean']));
    expect(offered(['explain', 'carry'])).toEqual(expect.arrayContaining(['k3f9x', 'wash5']));
    expect(offered(['explain', 'carry'])).not.toContain('clean');
    expect(offered(['explain', 'strength'])).toEqual(expect.arrayContaining(['ipa99', 'ipa91']));
    expect(offered(['explain', 'loads-left'])).toEqual(offered(['explain']));
  });

  it('is what the ledger has', () => {
    expect(offered(['wash', '6'], 'mo')).toContain('hollow-model');
    expect(offered(['wash', '6', 'model'])).not.toContain('model');
    expect(offered(['wash', '--case'])).toEqual(['26-0117']);
    expect(offered(['wash', '--lot'])).toEqual(['R7']);
    expect(offered(['wash', '--by'])).toEqual(['NB', 'TO']);
    expect(offered(['drain'])).toEqual(['dirty', 'clean']);
    expect(offered(['drain', 'dirty', 'to'])).toEqual(['mark']);
    expect(offered(['fill', 'dirty', '4'])).toEqual(['mL', 'L', 'gal']);
    expect(offered(['fill', 'dirty', '4', 'L'])).toEqual(['ipa99', 'ipa91', 'ipa70']);
    expect(offered(['wash', '--in'], 'dirty,')).toEqual(['dirty,clean']);
    expect(offered(['undo'])).toEqual(['wash5', 'tpup4', 'k3f9x', 'fill3', 'fill2']);
    expect(offered(['weighed'])).toEqual(['wash5', 'k3f9x']);
    expect(offered(['amend', 'tpup4'], 'f')).toContain('from=');
    expect(offered(['amend', 'tpup4', 'bath=clean'], 'b')).not.toContain('bath=');
    expect(offered(['rotate'])).toContain('--dry-run');
  });

  it('is files for every mesh of a load, until another option', () => {
    expect(how(['wash', '--mesh', '6'], 'ar')).toBe('files');
    expect(how(['wash', '--mesh', '6', 'arch.stl', '2'])).toBe('files');
    expect(offered(['wash', '--mesh', '6', 'arch.stl'], '--mesh-')).toContain('--mesh-unit');
    expect(offered(['wash', '--mesh', 'a.stl', '--mesh-unit'])).toContain('inch');
    expect(how(['wash', '--lines'])).toBe('files');
  });

  it('is what a number is of, after the number to explain', () => {
    expect(offered(['explain'])).toContain('carry');
    expect(offered(['explain', 'carry'])).toContain('k3f9x');
    expect(offered(['explain', 'resin'])).toEqual(expect.arrayContaining(['dirty', 'clean']));
    expect(offered(['explain', 'strength'])).toContain('ipa70');
  });

  it('leaves out what was voided', () => {
    const voided = '  - {id: "vd006", at: 2026-11-19T17:00:00-04:00, what: void, of: "wash5", why: "twice"}';
    expect(offered(['undo'], '', ledgerOf([...LINES, voided]))).toEqual([
      'vd006',
      'tpup4',
      'k3f9x',
      'fill3',
      'fill2',
    ]);
  });

  it('reads names of any head that a person writes', () => {
    const odd = `format: bathbook/1
shop:
  name: 'It''s ours'   # single quotes are beyond the scanner
baths: {dirty: {mark_ml: 4000}, "007": {mark_ml: 1}}
# parts of ours
parts:
    # deeper than usual
    "no": {shape: solid}

    'keep.sake': {shape: solid}
    ring_9:
        shape: small
resins:
events: # here they are
`;
    const ledger = ledgerOf([...LINES, '  # a comment', '  - what: wash', '    parts: {model: 1}'], odd);
    expect(offered(['drain'], '', ledger)).toEqual(['dirty', '007']);
    expect(offered(['wash', '1'], '', ledger).slice(0, 3)).toEqual(['no', 'keep.sake', 'ring_9']);
    expect(offered(['undo'], 'k', ledger)).toContain('k3f9x');
    expect(
      offered(
        ['drain'],
        '',
        ledgerOf(
          LINES.map((line) => `${line}\r`),
          HEAD.replaceAll('\n', '\r\n'),
        ),
      ),
    ).toEqual(['dirty', 'clean']);
  });

  it('comes out of the ends of a long ledger', () => {
    const { text } = makeLedger(20_000, 0);
    const folder = tempFolder();
    const ledger = join(folder, 'long.yaml');
    writeFileSync(ledger, text);
    expect(statSync(ledger).size).toBeGreaterThan(1_000_000);
    const last = /id: "?([\w-]+)/.exec(text.trimEnd().split('\n').at(-1)!)![1];
    expect(offered(['undo'], '', ledger)[0]).toBe(last);
    expect(offered(['undo'], '', ledger)).toHaveLength(20);
  });
});

describe('a completion that finds nothing', () => {
  it('says nothing, and is no error', () => {
    const folder = tempFolder();
    const odd: Record<string, string | Buffer> = {
      empty: '',
      bytes: Buffer.from(Array.from({ length: 5000 }, (_, at) => (at * 197) % 256)),
      'one-line': 'x'.repeat(300_000),
      'no-events': HEAD.replace('events:\n', ''),
      breaks: '\n'.repeat(300_000),
      utf16: Buffer.from(HEAD, 'utf16le'),
    };
    for (const [name, content] of Object.entries(odd)) writeFileSync(join(folder, name), content);
    mkdirSync(join(folder, 'folder'));
    symlinkSync('loop', join(folder, 'loop'));
    execFileSync('mkfifo', [join(folder, 'pipe')]);
    for (const name of [...Object.keys(odd), 'folder', 'loop', 'pipe', 'nowhere', '/dev/zero']) {
      const ledger = join(folder, name);
      expect(offered(['undo'], 'x', ledger), name).toEqual([]);
      expect(offered(['wash', '6'], 'mo', ledger), name).toContain('model');
    }
  });

  it('whatever it is asked', () => {
    for (const asked of [
      [],
      ['bash'],
      ['bash', 'bathbook'],
      ['tcsh', 'x'],
      ['zsh', '--', '--', '-', ''],
      ['bash', "bathbook 'x"],
      ['zsh', '', '--ledger'],
      ['zsh', '', 'nothing', 'known'],
      ['fish', '--no=', 'constructor'],
    ]) {
      const { code, err } = run(['__complete', ...asked], { env: { BATHBOOK_LEDGER: ledgerOf() } });
      expect({ code, err }, asked.join(' ')).toEqual({ code: 0, err: '' });
    }
  });

  it('has a reader that went away', () => {
    const { status, stderr } = spawnSync(
      'sh',
      ['-c', `"${process.execPath}" "${main}" __complete zsh '' | true`],
      { encoding: 'utf8' },
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });
});

describe('what a press of the key loads', () => {
  it('is three files of ours, and no parser of arguments, of YAML, or check of values', () => {
    const watch = join(tempFolder(), 'watch.cjs');
    writeFileSync(
      watch,
      `process.argv.splice(1, 1); require(process.argv[1]); process.on('exit', () => console.error(JSON.stringify(Object.keys(require.cache))));`,
    );
    const { stderr } = spawnSync(process.execPath, [watch, main, '__complete', 'zsh', '', 'undo'], {
      env: { BATHBOOK_LEDGER: ledgerOf() },
      encoding: 'utf8',
    });
    const files = (JSON.parse(stderr.trim()) as string[]).filter((file) => file !== watch);
    expect(files).toEqual([main, join(dirname(main), 'complete.js')]);
    const bytes = files.reduce((sum, file) => sum + readFileSync(file).length, 0);
    expect(bytes).toBeLessThan(90_000);
  });
});

describe('the command', () => {
  it('prints what a shell reads, that of this login when none is named', () => {
    expect(run(['completion', 'zsh']).out).toMatch(/^#compdef bathbook/);
    expect(run(['completion'], { env: { SHELL: '/usr/bin/fish' } }).out).toBe(
      run(['completion', 'fish']).out,
    );
    expect(run(['completion'], { env: { SHELL: '/bin/odd' } })).toMatchObject({ code: 64, out: '' });
    expect(run(['completion', 'fihs']).err).toContain('bathbook completion fish');
  });

  it('installs by the line that the help names', () => {
    const notes = COMMANDS.find(({ name }) => name === 'completion')!.notes!;
    for (const shell of ['bash', 'zsh', 'fish']) {
      const { install } = JSON.parse(run(['completion', shell, '--json']).out).data;
      expect(notes.split('\n')).toContain(`  ${install}`);
    }
  });
});
