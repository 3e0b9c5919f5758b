/** What was told already today, so that a reminder that runs every hour says each thing once. Kept in the state folder. */
import { readFileSync } from 'node:fs';
import { isAbsolute, join } from 'node:path';
import { homeFolder } from './home.ts';
import { keepState } from './keep-state.ts';

/** By ledger and matter: the day on which it was told, 2026-11-20. */
type Told = Record<string, Record<string, string>>;

/**
 * Leaves out what was told today, and keeps the rest as told.
 *
 * @param keys - of the matters
 * @returns those not told yet; all of them, and why, when the state folder cannot be read or written
 */
export function notToldToday(
  keys: readonly string[],
  on: { ledger: string; today: string; env: NodeJS.ProcessEnv },
): { keys: Set<string>; trouble?: string } {
  const folder = stateFolder(on.env);
  if (folder === undefined)
    return { keys: new Set(keys), trouble: 'Cannot keep what was told, there is no home folder' };
  const path = join(folder, 'due.json');
  const told = read(path);
  const own = told[on.ledger] ?? {};
  const fresh = keys.filter((key) => own[key] !== on.today);
  const kept = Object.fromEntries(
    Object.entries(own).filter(([key, day]) => day === on.today || keys.includes(key)),
  );
  told[on.ledger] = { ...kept, ...Object.fromEntries(fresh.map((key) => [key, on.today])) };
  try {
    keepState(path, told);
    return { keys: new Set(fresh) };
  } catch (error) {
    return {
      keys: new Set(keys),
      trouble: `Cannot keep what was told in ${path}: ${(error as Error).message}`,
    };
  }
}

/** Anything that is not as written here counts as nothing told. */
function read(path: string): Told {
  try {
    const found: unknown = JSON.parse(readFileSync(path, 'utf8'));
    return isTold(found) ? found : {};
  } catch {
    return {};
  }
}

function isTold(found: unknown): found is Told {
  return (
    typeof found === 'object' &&
    found !== null &&
    Object.values(found).every((own) => typeof own === 'object' && own !== null)
  );
}

/** By the XDG base directory specification: a relative XDG_STATE_HOME does not count. */
function stateFolder(env: NodeJS.ProcessEnv): string | undefined {
  const xdg = env.XDG_STATE_HOME;
  if (xdg && isAbsolute(xdg)) return join(xdg, 'bathbook');
  const home = homeFolder(env);
  return home && join(home, '.local', 'state', 'bathbook');
}
