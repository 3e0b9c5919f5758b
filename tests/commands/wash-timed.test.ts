/** `wash --timed` as it is shipped: typed at through a pipe and on a terminal, killed, left, and taken up again. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { KeptWash } from '../../src/timer/kept.ts';
import { bundled, HEAD, ledgerOf, runner, tempFolder } from './bundle.ts';

const main = bundled();
const run = runner(main);
const MIN = 60_000;

interface Bench {
  home: string;
  ledger: string;
  state: string;
}

/** Two full baths, filled a day ago by the clock of this computer, and nothing washed. */
function bench(): Bench {
  const at = new Date(Date.now() - 24 * 60 * MIN).toISOString().replace(/\.\d+Z/, 'Z');
  const fills = ['dirty', 'clean'].map(
    (bath) => `  - {id: "fill${bath[0]}", at: ${at}, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}`,
  );
  const home = tempFolder();
  return { home, ledger: ledgerOf(fills, HEAD), state: join(home, '.local', 'state', 'bathbook') };
}

function envOf({ home, ledger }: Bench): Record<string, string> {
  return { HOME: home, BATHBOOK_LEDGER: ledger };
}

interface Wash {
  minutes: number[];
  baths?: string[];
  at: string;
}

/** Begun, with the parts in the first bath. */
async function inFirstBath(...words: Parameters<typeof through>): Promise<Talk> {
  const talk = through(...words);
  await talk.hears('Enter when they are in');
  talk.type('\n');
  await talk.hears('In the dirty bath');
  return talk;
}

/** The washes that are in the ledger. */
function washesOf(at: Bench): Wash[] {
  const { out } = run(['entries', '--what', 'wash', '--json'], { env: envOf(at) });
  return (JSON.parse(out) as { data: { entries: Wash[] } }).data.entries;
}

function keptOf({ state }: Bench): string[] {
  return existsSync(state) ? readdirSync(state).map((name) => join(state, name)) : [];
}

/** A text, wherever its line may be broken. */
function wherever(text: string): RegExp {
  return new RegExp(text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll(' ', '\\s+'));
}

const talks: Talk[] = [];
afterAll(() => {
  for (const talk of talks) talk.kill('SIGKILL');
});

/** A running program: what it has said, and how to type at it. */
class Talk {
  said = '';
  private readonly child: ChildProcess;
  private readonly closed: Promise<number | null>;

  constructor(child: ChildProcess) {
    this.child = child;
    const hear = (data: Buffer) => {
      this.said += data.toString();
    };
    child.stdout!.on('data', hear);
    child.stderr!.on('data', hear);
    child.stdin!.on('error', () => {});
    this.closed = new Promise((done) => child.on('close', (code) => done(code)));
    talks.push(this);
  }

  /** Waits until so much has been said since the last time; a guard of many seconds, not a measure. */
  async hears(text: string | RegExp): Promise<string> {
    for (let tries = 0; tries < 1200; tries += 1) {
      const found = this.said.search(text instanceof RegExp ? text : wherever(text));
      if (found !== -1) {
        const before = this.said;
        this.said = this.said.slice(found + 1);
        return before;
      }
      await new Promise((done) => setTimeout(done, 20));
    }
    throw new Error(`Never said ${text}: ${this.said}`);
  }

  type(text: string): void {
    this.child.stdin!.write(text);
  }

  hangUp(): void {
    this.child.stdin!.end();
  }

  kill(signal: NodeJS.Signals): void {
    this.child.kill(signal);
  }

  get code(): Promise<number | null> {
    return this.closed;
  }
}

function through(at: Bench, ...words: string[]): Talk {
  return new Talk(spawn(process.execPath, [main, 'wash', ...words], { env: envOf(at) }));
}

describe('before anything is wet', () => {
  it('an unknown part is told at once, and nothing is kept', () => {
    const at = bench();
    const { code, err } = run(['wash', '6', 'modl', '--timed'], { env: envOf(at), input: '\n' });
    expect(code).toBe(64);
    expect(err).toContain('Did you mean "model"?');
    expect(keptOf(at)).toEqual([]);
  });

  it('a wash that cannot be logged is not begun', () => {
    const at = { ...bench(), ledger: ledgerOf([], HEAD) };
    const { code, err } = run(['wash', '6', 'model', '--timed'], { env: envOf(at), input: '\n' });
    expect(code).toBe(65);
    expect(err).not.toContain('Gloves');
    expect(keptOf(at)).toEqual([]);
  });

  it.each([
    [['--timed', '--at', '10:00', '6', 'model'], 'Cannot use --timed with --at'],
    [['--timed', '--as-of', '2026-11-20', '6', 'model'], 'Cannot use --timed with --as-of'],
    [['--timed'], 'no timed wash is unfinished'],
    [['--timed', '6', 'model'], 'nothing can be typed'],
  ])('%j is refused', (words, why) => {
    const at = bench();
    const { code, err } = run(['wash', ...words], { env: envOf(at) });
    expect(code).toBe(64);
    expect(err).toContain(why);
    expect(keptOf(at)).toEqual([]);
    expect(washesOf(at)).toEqual([]);
  });

  it('a dry run shows the steps and writes nothing', () => {
    const at = bench();
    const words = ['wash', '4', 'hollow-model', '--timed', '--prerinse', 'brush', '--dry-run'];
    const { code, out } = run(words, { env: envOf(at) });
    expect(code).toBe(0);
    expect(out).toContain('1. Brush the parts off\n2. Into the dirty bath: 5 min');
    // Hollow parts dry for an hour: common practice, no source.
    expect(out).toContain('5. Dry: at least 60 min');
    expect(washesOf(at)).toEqual([]);
    expect(keptOf(at)).toEqual([]);
  });
});

describe('typed at in lines', () => {
  it('logs the minutes it took, keeps nothing when it is logged, and draws nothing', async () => {
    const at = bench();
    const began = Date.now();
    const talk = through(at, '2', 'model', '--timed', '--minutes', '0.02,0.01', '--case', '26-0117');
    await talk.hears('Gloves and eye protection');
    await talk.hears('Enter when they are in');
    talk.type('\n');
    await talk.hears('Time is up');
    expect(keptOf(at)).toHaveLength(1);
    // Others have no business in it.
    expect(statSync(keptOf(at)[0]!).mode & 0o077).toBe(0);
    talk.type('\n');
    await talk.hears('Enter when they are in');
    talk.type('\n');
    await talk.hears('Time is up');
    talk.type('\n');
    await talk.hears('to undo');
    const took = (Date.now() - began) / MIN;
    expect(keptOf(at)).toEqual([]);
    talk.type('q\n');
    const said = await talk.hears('The wash is logged');
    expect(await talk.code).toBe(0);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: none of them may be there
    expect(said).not.toMatch(/[\u0007\u001b\r]/);
    const [wash] = washesOf(at);
    expect(wash).toMatchObject({ cases: ['26-0117'] });
    expect(wash!.minutes[0]).toBeGreaterThanOrEqual(0.02);
    expect(wash!.minutes[1]).toBeGreaterThanOrEqual(0.01);
    expect(wash!.minutes[0]! + wash!.minutes[1]!).toBeLessThan(took + 0.02);
  });

  it('Ctrl-C keeps what was done, and without a load it is taken up, the time between counted', async () => {
    const at = bench();
    const first = await inFirstBath(at, '2', 'model', '--timed', '--minutes', '0.02,0.02');
    const inMs = Date.now();
    first.kill('SIGINT');
    await first.hears('bathbook wash --timed');
    expect(await first.code).toBe(130);
    expect(washesOf(at)).toEqual([]);
    await new Promise((done) => setTimeout(done, 2000));
    const second = through(at, '--timed');
    await second.hears('A timed wash is unfinished: 2 model');
    await second.hears('Time is up');
    const upMs = Date.now();
    second.type('\n');
    await second.hears('Enter when they are in');
    second.type('\n');
    await second.hears('Time is up');
    second.type('\n');
    await second.hears('to undo');
    second.kill('SIGINT');
    expect(await second.code).toBe(130);
    expect(washesOf(at)[0]!.minutes[0]).toBeGreaterThanOrEqual(
      Number(((upMs - inMs) / MIN).toFixed(2)) - 0.02,
    );
    expect(washesOf(at)[0]!.minutes[0]).toBeGreaterThanOrEqual(0.03);
  });

  it('that runs on another terminal is told, and left alone', async () => {
    const at = bench();
    const first = await inFirstBath(at, '2', 'model', '--timed');
    const second = through(at, '1', 'mask', '--timed');
    await second.hears(/runs already, on another terminal \(process \d+, begun 0 min ago\)/);
    await second.hears('Enter when they are in');
    second.hangUp();
    await second.code;
    const third = through(at, '--timed');
    await third.hears('runs already');
    await third.hears('no timed wash is unfinished');
    expect(await third.code).toBe(64);
    first.hangUp();
    await first.code;
    expect(keptOf(at)).toHaveLength(1);
  });

  it('a terminal that is closed loses nothing', async () => {
    const at = bench();
    const talk = await inFirstBath(at, '2', 'model', '--timed');
    talk.kill('SIGHUP');
    await talk.code;
    const next = through(at, '--timed');
    await next.hears('A timed wash is unfinished: 2 model');
    next.hangUp();
    await next.code;
    expect(keptOf(at)).toHaveLength(1);
  });

  it('a keyboard that goes away loses nothing', async () => {
    const at = bench();
    const talk = await inFirstBath(at, '2', 'model', '--timed');
    talk.hangUp();
    await talk.hears('nothing is logged yet');
    expect(await talk.code).toBe(130);
    expect(keptOf(at)).toHaveLength(1);
    // Another load does not take its place.
    const other = through(at, '1', 'mask', '--timed');
    await other.hears('It is left for later');
    other.hangUp();
    expect(await other.code).toBe(64);
    expect(keptOf(at)).toHaveLength(1);
  });
});

describe('a ledger that cannot be written when the parts come out', () => {
  it('loses nothing: the wash is kept, and logged at its moment when it can be', async () => {
    const at = bench();
    const talk = await inFirstBath(at, '2', 'model', '--timed', '--minutes', '0.01,0.01');
    talk.type('n\n');
    await talk.hears('Enter when they are in');
    renameSync(at.ledger, `${at.ledger}.away`);
    talk.type('\nn\n');
    await talk.hears('The wash is kept');
    expect(await talk.code).toBe(66);
    renameSync(`${at.ledger}.away`, at.ledger);
    expect(washesOf(at)).toEqual([]);
    const again = through(at, '--timed', '--no-input');
    await again.hears('to undo');
    again.kill('SIGINT');
    await again.code;
    expect(washesOf(at)).toHaveLength(1);
    expect(keptOf(at)).toEqual([]);
  });
});

describe('by the clock, with --no-input', () => {
  it('logs the planned minutes, and killed dead in the middle goes on where the clock is', async () => {
    const at = bench();
    const talk = through(at, '2', 'model', '--timed', '--no-input', '--minutes', '0.1,0.02');
    await talk.hears('In the dirty bath');
    talk.kill('SIGKILL');
    await talk.code;
    expect(keptOf(at)).toHaveLength(1);
    const again = through(at, '--timed', '--no-input');
    await again.hears('to undo');
    again.kill('SIGINT');
    expect(await again.code).toBe(130);
    expect(washesOf(at).map(({ minutes }) => minutes)).toEqual([[0.1, 0.02]]);
    expect(keptOf(at)).toEqual([]);
  });
});

describe('what is kept', () => {
  it('damaged is told and left alone', () => {
    const at = bench();
    const kept = leftAt(at, {});
    writeFileSync(kept, readFileSync(kept, 'utf8').slice(0, 40), { mode: 0o600 });
    const { code, err } = run(['wash', '--timed'], { env: envOf(at) });
    expect(code).toBe(64);
    expect(err).toContain(`${kept} and cannot be read`);
    expect(existsSync(kept)).toBe(true);
  });

  it('of a folder that cannot be made is said, and the wash goes on', async () => {
    const at = bench();
    const talk = new Talk(
      spawn(process.execPath, [main, 'wash', '2', 'model', '--timed'], {
        env: { ...envOf(at), XDG_STATE_HOME: '/proc/nowhere' },
      }),
    );
    await talk.hears('cannot be kept in a file');
    await talk.hears('Enter when they are in');
    talk.type('q\n');
    expect(await talk.code).toBe(130);
  });
});

/** A wash whose terminal was closed: the parts went into the dirty bath so many minutes ago. */
function leftAt(
  at: Bench,
  { agoMin = 40, minutes = [5, 5] }: { agoMin?: number; minutes?: number[] },
): string {
  const startedMs = Date.now() - agoMin * MIN;
  const kept: KeptWash & { format: string } = {
    format: 'bathbook timed wash 1',
    ledger: at.ledger,
    body: { what: 'wash', parts: { model: 2 }, minutes },
    plan: {
      soaks: ['dirty', 'clean'].map((bath, place) => ({ bath, plannedMs: minutes[place]! * MIN, rinse: 'none', depthMm: 85 })), // biome-ignore format: one line
      dryMs: 30 * MIN,
    },
    run: { startedMs, marks: [{ key: 'next', atMs: startedMs }] },
    aheadMs: 0,
    keptMs: startedMs,
    pid: 1,
  };
  // The name is of the ledger's path: FNV-1a over UTF-16 units, low byte first (src/checkpoint/ids.ts).
  let hash = 0x811c9dc5;
  for (const unit of Buffer.from(at.ledger, 'utf16le')) hash = Math.imul(hash ^ unit, 0x01000193);
  const name = `${(hash >>> 0).toString(16).padStart(8, '0')}-${startedMs.toString(36)}-1.timed`;
  mkdirSync(at.state, { recursive: true, mode: 0o700 });
  const path = join(at.state, name);
  writeFileSync(path, `${JSON.stringify(kept)}\n`, { mode: 0o600 });
  // Long silent: no process runs it.
  spawnSync('touch', ['-d', '1 hour ago', path]);
  return path;
}

const hasTerminal = spawnSync('script', ['-qec', 'true', '/dev/null']).status === 0;

function onTerminal(at: Bench, words: string[], { after = 'true', env = {} } = {}): Talk {
  const command = [process.execPath, main, 'wash', ...words].map((word) => `'${word}'`).join(' ');
  const shell = `stty cols 60 rows 24; ${command}; code=$?; ${after}; exit $code`;
  return new Talk(
    spawn('script', ['-qec', shell, '/dev/null'], {
      env: { PATH: process.env.PATH, TERM: 'xterm', NO_COLOR: '1', ...envOf(at), ...env },
    }),
  );
}

describe.skipIf(!hasTerminal)('on a terminal', () => {
  it('single keys, a bell, a line drawn anew; the terminal is left as it was', async () => {
    const at = bench();
    const talk = onTerminal(at, ['2', 'model', '--timed', '--minutes', '0.03,0.02'], { after: 'stty -a' });
    await talk.hears('dirty  Enter when the parts are in');
    talk.type('\r');
    const before = await talk.hears('Time is up');
    expect(before).toMatch(/\rdirty {2}[=.]+ {2}0:0\d left/);
    await talk.hears('\u0007');
    talk.type(' ');
    await talk.hears('clean  Enter when');
    talk.type('\r');
    await talk.hears('Time is up');
    talk.type('\r');
    await talk.hears('to undo');
    await talk.hears(/drying {2}\.+ {2}\d\d:\d\d left/);
    talk.type('q');
    await talk.hears('The wash is logged');
    // `-echo` and `-icanon` would be those of a terminal that still gives single keys.
    await talk.hears(/[^-]icanon/);
    expect(await talk.code).toBe(0);
    expect(washesOf(at)).toHaveLength(1);
  });

  it.each([
    ['y', 1],
    ['n', 0],
  ])('Ctrl-C offers to log what happened: %s', async (answer, logged) => {
    const at = bench();
    const talk = onTerminal(at, ['2', 'model', '--timed']);
    await talk.hears('Enter when the parts are in');
    talk.type('\r');
    await talk.hears('left');
    talk.type('\u0003');
    await talk.hears(/Log \d+ s dirty\?/);
    talk.type(`${answer}\r`);
    expect(await talk.code).toBe(130);
    expect(washesOf(at)).toHaveLength(logged);
    expect(washesOf(at).every(({ baths }) => baths?.join() === 'dirty')).toBe(true);
    expect(keptOf(at)).toEqual([]);
  });

  it('Ctrl-C twice keeps it for later', async () => {
    const at = bench();
    const talk = onTerminal(at, ['2', 'model', '--timed']);
    await talk.hears('Enter when the parts are in');
    talk.type('\r');
    await talk.hears('left');
    talk.type('\u0003');
    await talk.hears('Log ');
    talk.type('\u0003');
    await talk.hears('nothing is logged yet');
    expect(await talk.code).toBe(130);
    expect(keptOf(at)).toHaveLength(1);
  });

  it('asks when the parts came out of a soak that is long over', async () => {
    const at = bench();
    leftAt(at, { agoMin: 40 });
    const talk = onTerminal(at, ['--timed']);
    await talk.hears('A timed wash is unfinished');
    await talk.hears('> ');
    talk.type('\r');
    await talk.hears('Out earlier: type when');
    await talk.hears('Out: ');
    talk.type('2 hours ago\r');
    await talk.hears('That is not between');
    await talk.hears('Out: ');
    talk.type('33 minutes ago\r');
    await talk.hears('clean  Enter when');
    talk.type('n');
    await talk.hears('In the clean bath');
    talk.type('n');
    await talk.hears('to undo');
    talk.type('q');
    expect(await talk.code).toBe(0);
    // In 40 min ago, out 33 min ago.
    expect(washesOf(at)[0]!.minutes[0]).toBeCloseTo(7, 0);
  });

  it('logs what happened of one that was left, at the moment it came out', async () => {
    const at = bench();
    leftAt(at, { agoMin: 40 });
    const talk = onTerminal(at, ['--timed']);
    await talk.hears('> ');
    talk.type('l\r');
    await talk.hears('Out: ');
    talk.type('34 minutes ago\r');
    await talk.hears('to undo');
    expect(await talk.code).toBe(0);
    const [wash] = washesOf(at);
    expect(wash!.baths).toEqual(['dirty']);
    expect(wash!.minutes[0]).toBeCloseTo(6, 0);
    expect(Math.abs(Date.parse(wash!.at) - (Date.now() - 34 * MIN))).toBeLessThan(MIN);
    expect(keptOf(at)).toEqual([]);
  });

  it('a dumb terminal gets lines, without a key that is no letter', async () => {
    const at = bench();
    const talk = onTerminal(at, ['2', 'model', '--timed', '--minutes', '0.02,0.02'], {
      env: { TERM: 'dumb' },
    });
    await talk.hears('Enter after each');
    await talk.hears('Enter when they are in');
    talk.type('\r');
    const said = await talk.hears('Time is up');
    expect(said).not.toContain('\u001b');
    expect(said.replaceAll('\r\n', '')).not.toContain('\r');
    talk.type('q\r');
    await talk.hears('Log ');
    talk.type('n\r');
    expect(await talk.code).toBe(130);
  });
});
