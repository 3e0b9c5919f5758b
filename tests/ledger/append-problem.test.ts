/** What the system says no with, in words: POSIX names of errors, each with what a person can do about it. */
import { describe, expect, it } from 'vitest';
import {
  type Doing,
  diskProblem,
  linkRefused,
  refuseDevice,
  refusePipe,
} from '../../src/ledger/append-problem.ts';
import { exitCodeOf } from '../../src/ledger/problems.ts';

const PATH = '/shop/bathbook.yaml';
const DOING: Doing[] = ['read', 'write', 'create', 'lock'];
const VERB = { read: 'read', write: 'write to', create: 'create', lock: 'lock' };
const told = (doing: Doing, code: string, message = `${code}: said the system, open '${PATH}'`) =>
  diskProblem(doing, PATH, Object.assign(new Error(message), { code }));

/** By doing: the code of the problem; then what it says and what helps. */
type Expected = [codes: Record<Doing, string>, why: string, help: RegExp];
const same = (code: string): Record<Doing, string> => ({ read: code, write: code, create: code, lock: code });
const ELSE: Record<Doing, string> = {
  read: 'cannot-read',
  write: 'write-failed',
  create: 'cannot-create',
  lock: 'write-failed',
};
const PERMISSION: Record<Doing, string> = {
  read: 'cannot-read',
  write: 'cannot-write',
  create: 'cannot-create',
  lock: 'folder-read-only',
};
const noFile: Record<Doing, string> = { ...same('no-such-file'), create: 'cannot-create' };

const TABLE: Record<string, Expected> = {
  EISDIR: [same('is-a-folder'), 'it is a folder', /^Name the ledger file inside it$/],
  ENOTFILE: [same('not-a-file'), 'it is a device or a pipe and not a file', /^Name a ledger file$/],
  ENOTDIR: [noFile, 'part of the path is a file and not a folder', /^Check the path$/],
  EEXIST: [same('already-exists'), 'the file exists already', /^Name another file; nothing is ever written over$/],
  EPLANTED: [same('write-failed'), 'it is a link to another file', /^Take the link away and try again; the ledger is as it was$/],
  ELOOP: [noFile, 'its links lead in a ring', /^Check the path$/],
  ENAMETOOLONG: [noFile, 'the name is too long', /^Check the path$/],
  EACCES: [PERMISSION, 'there is no permission', /permission|may write/],
  EPERM: [PERMISSION, 'there is no permission', /permission|may write/],
  EROFS: [PERMISSION, 'the disk is read-only', /permission|may write/],
  ENOSPC: [same('write-failed'), 'the disk is full', /^Make room and try again; the ledger is as it was$/],
  EDQUOT: [same('write-failed'), 'the disk is full', /^Make room and try again; the ledger is as it was$/],
  EFBIG: [same('write-failed'), 'the disk is full', /^Make room and try again; the ledger is as it was$/],
  EIO: [ELSE, 'said the system', /^Check the disk and try again$/],
  EMFILE: [ELSE, 'said the system', /^Check the disk and try again$/],
}; // biome-ignore format: a table

describe.each(Object.entries(TABLE))('%s', (errno, [codes, why, help]) => {
  it.each(DOING)('to %s', (doing) => {
    const problem = told(doing, errno);
    const more =
      doing === 'lock' && codes === PERMISSION ? ' to write in its folder, where the lock goes' : '';
    expect(problem).toEqual({
      code: codes[doing],
      message: `Cannot ${VERB[doing]} "${PATH}": ${why}${more}`,
      help: expect.stringMatching(help),
      severity: 'error',
    });
  });
});

it('a file that is not there is to be made or named, and a folder that is not there to be made', () => {
  for (const doing of ['read', 'write', 'lock'] as const)
    expect(told(doing, 'ENOENT')).toMatchObject({
      code: 'no-such-file',
      message: `Cannot ${VERB[doing]} "${PATH}": there is no such file`,
      help: 'Make one: bathbook setup; or name one: --ledger FILE',
    });
  expect(told('create', 'ENOENT')).toMatchObject({
    code: 'cannot-create',
    message: `Cannot create "${PATH}": the folder does not exist`,
    help: 'Make the folder first, or name another file',
  });
});

it('who may not is told whom to ask, or where to go', () => {
  const help = (doing: Doing) => told(doing, 'EACCES').help;
  expect(help('read')).toBe('Ask the owner of the file for permission to read it');
  expect(help('write')).toBe('Ask the owner of the file for permission to write to it');
  expect(help('create')).toBe('Name a file in a folder you may write to');
  expect(help('lock')).toBe('Move the ledger to a folder you may write to, or ask for permission');
});

it('what has no name of its own is told in the words of the system, without its call and paths', () => {
  expect(told('read', 'EIO', `EIO: i/o error, read\nat line 2`).message).toBe(
    `Cannot read "${PATH}": i/o error`,
  );
  expect(told('read', 'EXX', 'no more files').message).toBe(`Cannot read "${PATH}": no more files`);
  expect(diskProblem('write', PATH, 'odd').message).toBe(`Cannot write to "${PATH}": odd`);
});

it('each has an exit code of sysexits.h: no input 66, cannot create 73, input and output 74, permission too', () => {
  expect(exitCodeOf([told('read', 'ENOENT')])).toBe(66);
  expect(exitCodeOf([told('create', 'ENOENT')])).toBe(73);
  expect(exitCodeOf([told('write', 'EIO')])).toBe(74);
  expect(exitCodeOf([told('write', 'EACCES')])).toBe(74);
});

it('devices are no files to read, and pipes and sockets none to write', () => {
  const is = (kind: string) => Object.fromEntries(
    ['isCharacterDevice', 'isBlockDevice', 'isFIFO', 'isSocket'].map((one) => [one, () => one === kind]),
  ) as never; // biome-ignore format: one line
  const refusal = (check: (stats: never) => void, kind: string) => {
    try {
      check(is(kind));
    } catch (error) {
      return diskProblem('read', PATH, error).code;
    }
    return 'taken';
  };
  expect(['isCharacterDevice', 'isBlockDevice', 'isFIFO'].map((kind) => refusal(refuseDevice, kind))).toEqual(['not-a-file', 'not-a-file', 'taken']);
  expect(['isFIFO', 'isSocket', 'isBlockDevice'].map((kind) => refusal(refusePipe, kind))).toEqual(['not-a-file', 'not-a-file', 'taken']);
}); // biome-ignore format: one line

it('a link in the way is told apart from links that lead in a ring', () => {
  const error = (code: string) => Object.assign(new Error('it failed'), { code });
  expect(linkRefused(error('ELOOP'))).toMatchObject({ code: 'EPLANTED', message: 'it failed' });
  expect(linkRefused(error('EIO'))).toMatchObject({ code: 'EIO' });
});
