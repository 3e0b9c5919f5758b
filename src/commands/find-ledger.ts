/** Which ledger a command works on, and why. */
import { existsSync, statSync } from 'node:fs';
import { homedir, userInfo } from 'node:os';
import { dirname, isAbsolute, join, resolve } from 'node:path';

export interface Found {
  path: string;
  why: '--ledger' | 'BATHBOOK_LEDGER' | 'here' | 'a folder above' | 'your data folder';
}

export const FILE_NAME = 'bathbook.yaml';

/** The ledger named, or found; the one in the user's data folder when there is none, whether it exists or not. */
export function findLedger(given: {
  named: string | undefined;
  env: NodeJS.ProcessEnv;
  folder: string;
}): Found {
  if (given.named !== undefined) return { path: resolve(given.folder, given.named), why: '--ledger' };
  const fromEnv = given.env.BATHBOOK_LEDGER;
  if (fromEnv) return { path: resolve(given.folder, fromEnv), why: 'BATHBOOK_LEDGER' };
  return above(given.folder) ?? { path: join(dataFolder(given.env), FILE_NAME), why: 'your data folder' };
}

function above(folder: string): Found | undefined {
  let here = folder;
  for (;;) {
    const path = join(here, FILE_NAME);
    if (existsSync(path) && statSync(path).isFile())
      return { path, why: here === folder ? 'here' : 'a folder above' };
    const parent = dirname(here);
    if (parent === here) return undefined;
    here = parent;
  }
}

/** By the XDG base directory specification: a relative XDG_DATA_HOME does not count. */
function dataFolder(env: NodeJS.ProcessEnv): string {
  const xdg = env.XDG_DATA_HOME;
  const home = [env.HOME, homedir()].find((path) => path && isAbsolute(path)) ?? userInfo().homedir;
  return join(xdg && isAbsolute(xdg) ? xdg : join(home, '.local', 'share'), 'bathbook');
}
