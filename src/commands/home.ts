import { homedir, userInfo } from 'node:os';
import { isAbsolute } from 'node:path';

/** The user's home folder. None where HOME is not an absolute path and the system knows no such user, as in some containers. */
export function homeFolder(env: NodeJS.ProcessEnv): string | undefined {
  return [() => env.HOME, homedir, () => userInfo().homedir].map(asked).find(isThere);
}

function asked(ask: () => string | undefined): string | undefined {
  try {
    return ask();
  } catch {
    return undefined;
  }
}

function isThere(path: string | undefined): path is string {
  return path !== undefined && isAbsolute(path);
}
