/** Shells on a terminal, with the program's completion installed as its help says; keys are typed, and what the program is called with is read. */
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { tempFolder } from '../commands/bundle.ts';

type Shell = 'bash' | 'zsh' | 'fish';

/** Why these tests cannot be made here; undefined where they can. */
export function missing(shell: Shell): string | undefined {
  const absent = [shell, 'script'].filter((name) => spawnSync(name, ['--version']).error !== undefined);
  return absent.length > 0 ? `${absent.join(' and ')} not installed` : undefined;
}

const PROMPT = 'READY> ';
const LONGEST_WAIT_MS = 25_000;

const SHELLS: Record<Shell, { start: (rc: string) => string; rc: string; text: string }> = {
  bash: {
    start: (rc) => `bash --noprofile --rcfile ${rc} -i`,
    rc: 'bashrc',
    text: `PS1='${PROMPT}'; eval "$(bathbook completion bash)"\n`,
  },
  zsh: {
    start: () => 'zsh -d -i',
    rc: '.zshrc',
    text: `PROMPT='${PROMPT}'; unsetopt prompt_cr prompt_sp; eval "$(bathbook completion zsh)"\n`,
  },
  fish: {
    start: (rc) => `fish --no-config --init-command "source ${rc}"`,
    rc: 'init.fish',
    text: `function fish_prompt; echo -n '${PROMPT}'; end\nset -g fish_greeting\nbathbook completion fish | source\n`,
  },
};

export class Terminal {
  /** Where the shell is; what runs there could leave files. */
  readonly folder = tempFolder();
  private readonly called: string;
  private readonly child: ChildProcess;
  private seen = '';

  constructor(shell: Shell, on: { main: string; ledger: string }) {
    const bin = join(this.folder, 'bin');
    this.called = join(bin, 'called');
    mkdirSync(bin);
    writeFileSync(join(bin, 'bathbook'), shim(on.main, this.called));
    chmodSync(join(bin, 'bathbook'), 0o755);
    const { start, rc, text } = SHELLS[shell];
    writeFileSync(join(bin, rc), text);
    const env = {
      PATH: `${bin}:${process.env.PATH}`,
      HOME: bin,
      ZDOTDIR: bin,
      TERM: 'xterm',
      LANG: 'C.UTF-8',
      BATHBOOK_LEDGER: on.ledger,
    };
    const command = `stty cols 100 rows 30; exec ${start(join(bin, rc))}`;
    this.child = spawn('script', ['-qec', command, '/dev/null'], { cwd: this.folder, env });
    this.child.stdout!.on('data', (bytes: Buffer) => {
      this.seen += bytes.toString();
    });
  }

  /** What the program is called with when the keys are pressed, and then return. */
  async run(keys: string): Promise<string[]> {
    await this.until(() => this.seen.includes(PROMPT), 'a prompt');
    rmSync(this.called, { force: true });
    this.seen = '';
    this.child.stdin!.write(`${keys}\r`);
    await this.until(() => existsSync(`${this.called}.done`), `a call after ${JSON.stringify(keys)}`);
    rmSync(`${this.called}.done`);
    return readFileSync(this.called, 'utf8').split('\0').slice(0, -1);
  }

  /** What is on the screen once the keys were pressed, when it holds a text; the line is then given up. */
  async look(keys: string, text: string): Promise<string> {
    await this.until(() => this.seen.includes(PROMPT), 'a prompt');
    this.seen = '';
    this.child.stdin!.write(keys);
    await this.until(() => this.seen.includes(text), `"${text}" after ${JSON.stringify(keys)}`);
    const { seen } = this;
    this.seen = '';
    this.child.stdin!.write('\u0003');
    return seen;
  }

  close(): void {
    this.child.kill('SIGKILL');
  }

  private async until(isSo: () => boolean, what: string): Promise<void> {
    const end = Date.now() + LONGEST_WAIT_MS;
    while (!isSo()) {
      if (Date.now() > end)
        throw new Error(`Waited for ${what}; on the screen: ${JSON.stringify(this.seen)}`);
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }
}

/** Answers shells as the program does, and writes down what else it is called with. */
function shim(main: string, called: string): string {
  return `#!/bin/sh
case $1 in
  __complete|completion) exec "${process.execPath}" "${main}" "$@" ;;
esac
printf '%s\\0' "$@" > "${called}"
: > "${called}.done"
`;
}

/** What bash takes a line for, without running anything in it. */
export function wordsOfBash(line: string): string[] {
  const out = execFileSync('bash', ['--norc', '-c', `printf '%s\\0' ${line}`], { encoding: 'utf8' });
  return out.split('\0').slice(0, -1);
}
