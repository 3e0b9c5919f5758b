/** Which ledger a command works on, and why. */
import { statSync } from 'node:fs';
import { dirname, isAbsolute, join, resolve } from 'node:path';
import { EXIT, Fault } from './fault.ts';
import { homeFolder } from './home.ts';

export interface Found {
  path: string;
  why: '--ledger' | 'BATHBOOK_LEDGER' | 'here' | 'a folder above' | 'your data folder';
}

export const FILE_NAME = 'bathbook.yaml';

/** The ledger named, or found; the one in the user's data folder when there is none, whether it exists or not. */
export function findLedger(given: {
  named: string | undefined;
  env: NodeJS.ProcessEnv;
  /** Asked for only where it matters: a folder can be removed while somebody is in it. */
  folder: () => string;
}): Found {
  const from = (path: string) => (isAbsolute(path) ? resolve(path) : resolve(given.folder(), path));
  if (given.named !== undefined) return { path: from(given.named), why: '--ledger' };
  const fromEnv = given.env.BATHBOOK_LEDGER;
  if (fromEnv) return { path: from(fromEnv), why: 'BATHBOOK_LEDGER' };
  return above(given.folder()) ?? { path: join(dataFolder(given.env), FILE_NAME), why: 'your data folder' };
}

function above(folder: string): Found | undefined {
  let here = folder;
  for (;;) {
    const path = join(here, FILE_NAME);
    if (isFile(path)) return { path, why: here === folder ? 'here' : 'a folder above' };
    const parent = dirname(here);
    if (parent === here) return undefined;
    here = parent;
  }
}

function isFile(path: string): boolean {
  try {
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/**
 * By the XDG base directory specification: a relative XDG_DATA_HOME does not count.
 *
 * @throws Fault, configuration, where there is no home either
 */
function dataFolder(env: NodeJS.ProcessEnv): string {
  const xdg = env.XDG_DATA_HOME;
  if (xdg && isAbsolute(xdg)) return join(xdg, 'bathbook');
  const home = homeFolder(env);
  if (home !== undefined) return join(home, '.local', 'share', 'bathbook');
  const message = 'Cannot tell where the ledger is, there is no home folder';
  const help = 'name it: --ledger FILE; or set HOME';
  throw new Fault([{ code: 'configuration', message, help, severity: 'error' }], EXIT.configuration);
}
