/**
 * Console transcripts in Markdown: each block fenced with ```console holds commands after "$ " and what they print.
 * The commands run in order, in one folder, with one clock, and what they print is compared with the page.
 *
 * A remark `<!-- clock: 2026-11-20T17:00:00-04:00 -->` sets the clock for the commands after it, and
 * `<!-- terminal: 92 -->` has them write as to a terminal that wide, without colour. Ids of entries are
 * drawn from a fixed seed, the computer is in Halifax, and Node and the program are where a global installation has them. `bathbook` in a command is the program; `cd FOLDER` and `export NAME=VALUE` work as in a shell.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, realpathSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export interface Step {
  /** Line of the page with the command, from 1. */
  line: number;
  command: string;
  /** What the page says it prints. */
  expected: string;
  clock: string | undefined;
  /** Columns of the terminal; a pipe when not given. */
  terminal?: string;
}

/** The commands of a page, in order. */
export function stepsOf(page: string): Step[] {
  const steps: Step[] = [];
  let clock: string | undefined;
  let terminal: string | undefined;
  let inBlock = false;
  page.split('\n').forEach((text, index) => {
    clock = /^<!-- clock: (\S+) -->$/.exec(text)?.[1] ?? clock;
    terminal = /^<!-- terminal: (\d+) -->$/.exec(text)?.[1] ?? terminal;
    if (text.startsWith('```')) inBlock = text === '```console';
    else if (inBlock && text.startsWith('$ '))
      steps.push({
        line: index + 1,
        command: text.slice(2),
        expected: '',
        clock,
        ...(terminal ? { terminal } : {}),
      });
    else if (inBlock && steps.length > 0) steps.at(-1)!.expected += `${text}\n`;
  });
  return steps;
}

/** The page with what the commands printed in place of what it said. */
export function rewritten(page: string, printed: readonly string[]): string {
  const lines: string[] = [];
  let inBlock = false;
  let place = -1;
  for (const text of page.split('\n')) {
    if (text.startsWith('```')) inBlock = text === '```console';
    const isCommand = inBlock && text.startsWith('$ ');
    if (isCommand) place += 1;
    if (inBlock && !isCommand && !text.startsWith('```')) continue;
    lines.push(text);
    if (isCommand && printed[place]) lines.push(printed[place]!.replace(/\n$/, ''));
  }
  return lines.join('\n');
}

/** Loaded before the program: its clock stands at the given time, and its chance is a sequence of its own. */
const STILL = `
const now = Date.parse(process.env.TRANSCRIPT_CLOCK);
const Real = Date;
globalThis.Date = class extends Real {
  constructor(...given) { given.length === 0 ? super(now) : super(...given); }
  static now() { return now; }
};
if (process.env.TRANSCRIPT_TERMINAL) {
  const fs = require('node:fs');
  const real = fs.fstatSync;
  fs.fstatSync = (file, ...more) => (file === 1 ? { isCharacterDevice: () => true } : real(file, ...more));
  process.stdout.isTTY = true;
  process.stdout.columns = Number(process.env.TRANSCRIPT_TERMINAL);
}
let seed = Number(process.env.TRANSCRIPT_STEP) * 7919 + 1;
Math.random = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
`;

export class Shell {
  private folder: string;
  private readonly home: string;
  private readonly env: Record<string, string> = {};
  private step = 0;

  constructor(
    private readonly main: string,
    folder: string,
  ) {
    this.home = folder;
    this.folder = join(folder, 'bench');
    mkdirSync(this.folder);
    writeFileSync(join(folder, 'still.cjs'), STILL);
  }

  /** What a command prints, stdout and stderr as a person sees them, in a plain terminal's stead. */
  run({ command, terminal, clock = '2026-11-20T17:00:00-04:00' }: Step): string {
    this.step += 1;
    const [, folder] = /^cd (\S+)$/.exec(command) ?? [];
    const [, name, value] = /^export (\w+)=(\S+)$/.exec(command) ?? [];
    if (folder) this.folder = join(this.folder, folder);
    if (name) this.env[name] = value!;
    if (folder || name) return '';
    const env = {
      ...this.env,
      HOME: this.home,
      PATH: process.env.PATH ?? '',
      LANG: 'C.UTF-8',
      TZ: 'America/Halifax',
      COLUMNS: '80',
      NODE_OPTIONS: `--require ${join(this.home, 'still.cjs')}`,
      TRANSCRIPT_CLOCK: clock,
      TRANSCRIPT_STEP: String(this.step),
      ...(terminal ? { TRANSCRIPT_TERMINAL: terminal, NO_COLOR: '1' } : {}),
    };
    const script = `bathbook() { '${process.execPath}' '${this.main}' "$@"; }\n${command}`;
    const ran = spawnSync('bash', ['--norc', '-c', `exec 2>&1\n${script}`], {
      cwd: this.folder,
      env,
      encoding: 'utf8',
    });
    return ran.stdout
      .replaceAll(process.execPath, '/usr/bin/node')
      .replaceAll(realpathSync(this.main), '/usr/lib/node_modules/bathbook/bin/bathbook.js')
      .replaceAll(this.home, '~');
  }
}
