/** A ledger in a git repository of its own, and two people who log on branches of it. */
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { HEAD, LINES, tempFolder } from './bundle.ts';

/** Why tests with git cannot be run here, if they cannot. */
export const noGit = spawnSync('git', ['--version']).status === 0 ? undefined : 'git is not installed';

export interface GitLedger {
  path: string;
  text(): string;
  lines(): string[];
  write(text: string): void;
  /** @throws unless it ends with 0 */
  git(...args: string[]): string;
  commit(why: string): void;
  /** Merges a branch into this one; the exit code. */
  merge(branch: string): number | null;
}

/** One commit on the branch "bench"; `attributes` is what `.gitattributes` says of it. */
export function gitLedger({ attributes = '*.yaml merge=union\n', text = ledgerText(LINES) } = {}): GitLedger {
  const cwd = tempFolder();
  const path = join(cwd, 'bathbook.yaml');
  const who = { name: 'Tester', email: 'tester@example.org' };
  const env = {
    PATH: process.env.PATH ?? '',
    HOME: cwd,
    GIT_CONFIG_GLOBAL: '/dev/null',
    GIT_CONFIG_NOSYSTEM: '1',
    GIT_AUTHOR_NAME: who.name,
    GIT_AUTHOR_EMAIL: who.email,
    GIT_COMMITTER_NAME: who.name,
    GIT_COMMITTER_EMAIL: who.email,
  };
  const run = (args: string[]) => spawnSync('git', args, { cwd, env, encoding: 'utf8' });
  const git = (...args: string[]) => {
    const ran = run(args);
    if (ran.status !== 0) throw new Error(`git ${args.join(' ')}: ${ran.stdout}${ran.stderr}`);
    return ran.stdout;
  };
  const commit = (why: string) => void git('commit', '-q', '-a', '--allow-empty', '-m', why);
  git('init', '-q', '-b', 'bench');
  writeFileSync(join(cwd, '.gitattributes'), attributes);
  writeFileSync(path, text);
  git('add', '.');
  commit('Begin');
  return {
    path,
    text: () => readFileSync(path, 'utf8'),
    lines: () => linesOf(readFileSync(path, 'utf8')),
    write: (changed) => writeFileSync(path, changed),
    git,
    commit,
    merge: (branch) => run(['merge', '-q', '--no-edit', branch]).status,
  };
}

export function ledgerText(lines: readonly string[]): string {
  return HEAD + lines.map((line) => `${line}\n`).join('');
}

export function linesOf(text: string): string[] {
  return text.split(/\r?\n/).filter((line) => line.startsWith('  - {'));
}
