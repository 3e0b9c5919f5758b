import type { Stats } from 'node:fs';
import type { Problem } from './problem.ts';

/** What was being done to the file when the system said no. */
export type Doing = 'read' | 'write' | 'create' | 'lock';

interface Failure {
  code: string;
  why: string;
  help: string;
}

/** A refusal of the operating system as a problem, with the path and the way out. */
export function diskProblem(doing: Doing, path: string, error: unknown): Problem {
  const errno = (error as NodeJS.ErrnoException).code ?? '';
  const { code, why, help } = failure(doing, errno, error);
  return {
    code,
    message: `Cannot ${doing === 'write' ? 'write to' : doing} "${path}": ${why}`,
    help,
    severity: 'error',
  };
}

function failure(doing: Doing, errno: string, error: unknown): Failure {
  switch (errno) {
    case 'ENOENT':
      return doing === 'create'
        ? {
            code: 'cannot-create',
            why: 'the folder does not exist',
            help: 'Make the folder first, or name another file',
          }
        : {
            code: 'no-such-file',
            why: 'there is no such file',
            help: 'Make one: bathbook setup; or name one: --ledger FILE',
          };
    case 'EISDIR':
      return { code: 'is-a-folder', why: 'it is a folder', help: 'Name the ledger file inside it' };
    case 'ENOTFILE':
      return {
        code: 'not-a-file',
        why: 'it is a device or a pipe and not a file',
        help: 'Name a ledger file',
      };
    case 'ENOTDIR':
      return {
        code: doing === 'create' ? 'cannot-create' : 'no-such-file',
        why: 'part of the path is a file and not a folder',
        help: 'Check the path',
      };
    case 'EEXIST':
      return {
        code: 'already-exists',
        why: 'the file exists already',
        help: 'Name another file; nothing is ever written over',
      };
    case 'EPLANTED':
      return {
        code: 'write-failed',
        why: 'it is a link to another file',
        help: 'Take the link away and try again; the ledger is as it was',
      };
    case 'ELOOP':
    case 'ENAMETOOLONG':
      return {
        code: doing === 'create' ? 'cannot-create' : 'no-such-file',
        why: errno === 'ELOOP' ? 'its links lead in a ring' : 'the name is too long',
        help: 'Check the path',
      };
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return noPermission(doing, errno);
    case 'ENOSPC':
    case 'EDQUOT':
    case 'EFBIG':
      return {
        code: 'write-failed',
        why: 'the disk is full',
        help: 'Make room and try again; the ledger is as it was',
      };
    default: {
      const why =
        error instanceof Error ? error.message.replace(/^\w+: /, '').replace(/, \w+.*$/s, '') : String(error);
      const code = doing === 'read' ? 'cannot-read' : doing === 'create' ? 'cannot-create' : 'write-failed';
      return { code, why, help: 'Check the disk and try again' };
    }
  }
}

function noPermission(doing: Doing, errno: string): Failure {
  const why = errno === 'EROFS' ? 'the disk is read-only' : 'there is no permission';
  switch (doing) {
    case 'read':
      return { code: 'cannot-read', why, help: 'Ask the owner of the file for permission to read it' };
    case 'write':
      return { code: 'cannot-write', why, help: 'Ask the owner of the file for permission to write to it' };
    case 'create':
      return { code: 'cannot-create', why, help: 'Name a file in a folder you may write to' };
    case 'lock':
      return {
        code: 'folder-read-only',
        why: `${why} to write in its folder, where the lock goes`,
        help: 'Move the ledger to a folder you may write to, or ask for permission',
      };
    default:
      return doing satisfies never;
  }
}

/** Devices such as /dev/zero never end, so only files, and pipes for reading, are opened. */
export function refuseDevice(stats: Pick<Stats, 'isCharacterDevice' | 'isBlockDevice'>): void {
  if (stats.isCharacterDevice() || stats.isBlockDevice()) {
    throw notAFile();
  }
}

/** Only to a file can a line be added. */
export function refusePipe(stats: Pick<Stats, 'isFIFO' | 'isSocket'>): void {
  if (stats.isFIFO() || stats.isSocket()) {
    throw notAFile();
  }
}

/** What the system said where a link must not be followed, in words of its own. */
export function linkRefused(error: unknown): Error {
  const { code } = error as NodeJS.ErrnoException;
  return Object.assign(error as Error, code === 'ELOOP' ? { code: 'EPLANTED' } : {});
}

function notAFile(): Error {
  return Object.assign(new Error('not a file'), { code: 'ENOTFILE', errno: 0 });
}

/** True where it is the disk that has no links from one name to another. */
export function knowsNoLinks(error: unknown): boolean {
  return ['EPERM', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP'].includes((error as NodeJS.ErrnoException).code ?? '');
}
