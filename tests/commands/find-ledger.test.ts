import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findLedger } from '../../src/commands/find-ledger.ts';
import { tempFolder } from './bundle.ts';

const top = tempFolder();
const below = join(top, 'a', 'b');
mkdirSync(below, { recursive: true });
const elsewhere = tempFolder();

describe('which ledger a command works on', () => {
  const env = { HOME: '/home/nb', BATHBOOK_LEDGER: 'theirs.yaml' };

  it('the one named, before all else', () => {
    const found = findLedger({ named: 'mine.yaml', env, folder: () => below });
    expect(found).toEqual({ path: join(below, 'mine.yaml'), why: '--ledger' });
  });

  it('that of BATHBOOK_LEDGER', () => {
    expect(findLedger({ named: undefined, env, folder: () => below }).path).toBe(join(below, 'theirs.yaml'));
    const empty = { ...env, BATHBOOK_LEDGER: '' };
    expect(findLedger({ named: undefined, env: empty, folder: () => elsewhere }).why).toBe(
      'your data folder',
    );
  });

  it('the nearest bathbook.yaml here or above; a folder of that name is none', () => {
    writeFileSync(join(top, 'bathbook.yaml'), '');
    const find = (folder: string) =>
      findLedger({ named: undefined, env: { HOME: '/home/nb' }, folder: () => folder });
    expect(find(below)).toEqual({ path: join(top, 'bathbook.yaml'), why: 'a folder above' });
    expect(find(top)).toEqual({ path: join(top, 'bathbook.yaml'), why: 'here' });
    mkdirSync(join(below, 'bathbook.yaml'));
    expect(find(below).path).toBe(join(top, 'bathbook.yaml'));
    writeFileSync(join(top, 'a', 'bathbook.yaml'), '');
    expect(find(below).path).toBe(join(top, 'a', 'bathbook.yaml'));
  });

  it.each([
    [{ HOME: '/home/nb' }, '/home/nb/.local/share/bathbook/bathbook.yaml'],
    [{ HOME: '/home/nb', XDG_DATA_HOME: '/data' }, '/data/bathbook/bathbook.yaml'],
    // XDG Base Directory Specification 0.8: "All paths set in these environment variables must be absolute."
    [{ HOME: '/home/nb', XDG_DATA_HOME: 'data' }, '/home/nb/.local/share/bathbook/bathbook.yaml'],
  ])("else the user's data folder, %j", (bare, path) => {
    expect(findLedger({ named: undefined, env: bare, folder: () => elsewhere })).toEqual({
      path,
      why: 'your data folder',
    });
  });
});
