import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/definition.ts';
import { commandTable, withCommandTable } from './command-table.ts';

describe('the table of commands', () => {
  it('has a row for each', () => {
    for (const { name } of COMMANDS) expect(commandTable()).toContain(`| \`${name}\` |`);
  });

  it('goes between its marks and nowhere else', () => {
    const page = 'a\n<!-- commands -->\nold\n<!-- /commands -->\nb';
    const made = withCommandTable(page)!;
    expect(made).toBe(`a\n<!-- commands -->\n${commandTable()}<!-- /commands -->\nb`);
    expect(withCommandTable(made)).toBe(made);
    expect(withCommandTable('no marks')).toBeUndefined();
  });

  it.runIf(existsSync('README.md'))('in the README is current', () => {
    const page = readFileSync('README.md', 'utf8');
    const current = withCommandTable(page);
    if (process.env.UPDATE && current !== undefined) writeFileSync('README.md', current);
    else expect(page).toBe(current ?? page);
  });
});
