import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { COMMANDS, GLOBAL_OPTIONS, GROUPS, WRITE_OPTIONS } from '../../src/commands/definition.ts';
import { EXIT } from '../../src/commands/fault.ts';
import { manPage } from '../../src/render/man.ts';
import { EXITS } from '../../src/render/manual.ts';
import { reference } from '../../src/render/reference.ts';

const DEFINITIONS = {
  commands: COMMANDS,
  groups: GROUPS,
  globalOptions: GLOBAL_OPTIONS,
  writeOptions: WRITE_OPTIONS,
};
const page = manPage(DEFINITIONS, '1.2.3');
const markdown = reference(DEFINITIONS, '1.2.3');

function formatted(program: string, args: string[], input = page) {
  return spawnSync(program, args, {
    input,
    encoding: 'utf8',
    env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8' },
  });
}

const lacks = (program: string) => spawnSync(program, ['--version']).error !== undefined;

/** As a person reads it: no overstriking, one blank between words. */
function read(text: string): string {
  return text.replaceAll(/.[\b]/g, '').replaceAll(/\s+/g, ' ');
}

describe('the man page', () => {
  it('is ASCII, so that it reads the same in every locale', () => {
    expect(page).toMatch(/^[\n -~]*$/);
  });

  it.skipIf(lacks('mandoc'))('has nothing that mandoc warns of, but that it bears no date', () => {
    const { stdout } = formatted('mandoc', ['-Tlint', '-Wwarning']);
    expect(stdout.split('\n').filter((line) => line && !line.includes('missing date'))).toEqual([]);
  });

  it.skipIf(lacks('groff'))('has nothing that groff warns of', () => {
    expect(formatted('groff', ['-man', '-ww', '-Tutf8']).stderr).toBe('');
  });

  it.skipIf(lacks('mandoc'))('says every word of the definitions, once formatted', () => {
    const text = read(formatted('mandoc', ['-Tutf8', '-Owidth=300']).stdout);
    for (const { name, examples, options, notes } of COMMANDS) {
      expect(text).toContain(` ${name} `);
      for (const [typed] of examples) expect(text).toContain(typed);
      for (const { flags, about } of options) {
        expect(text).toContain(flags);
        expect(text).toContain(about);
      }
      if (notes) expect(text).toContain(notes.replaceAll(/\s+/g, ' '));
    }
  });

  it('takes no text for a request, nor for an escape', () => {
    const odd = {
      ...COMMANDS[0]!,
      summary: ".so /etc/passwd \\*x 'sp",
      notes: ".sp 9 \\(aq 'br",
      examples: [],
    };
    const lines = manPage({ ...DEFINITIONS, commands: [odd] }, '1').split('\n');
    expect(lines.filter((line) => /^[.']\s*(?:so|sp|br)/i.test(line))).toEqual([]);
    expect(lines.join('\n')).toContain('\\e(aq');
  });
});

describe('the reference in Markdown', () => {
  it('has a heading for each command, and every option', () => {
    for (const { name, args, options } of COMMANDS) {
      expect(markdown).toContain(`### \`${['bathbook', name, args].filter(Boolean).join(' ')}\``);
      for (const { flags } of options) expect(markdown).toContain(`| \`${flags.replaceAll('|', '\\|')}\` |`);
    }
  });
});

describe('the exit codes of the manual', () => {
  it('are those of the program, and what due and baths say besides', () => {
    expect(EXITS.map(([code]) => code)).toEqual(
      [...new Set([0, 1, 2, 3, ...Object.values(EXIT)])].sort((a, b) => a - b),
    );
  });
});
