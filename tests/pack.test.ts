/** Compiled code and checkpoints are kept where they can be, believed when they fit, and never missed. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { makeLedger } from './bench/make-ledger.mjs';
import { bundled, tempFolder } from './commands/bundle.ts';

const program = bundled();
const { text, lastAt } = makeLedger(200, 20);

let folder: string;
let cache: string;
let ledger: string;

beforeEach(() => {
  folder = tempFolder();
  cache = join(folder, 'cache');
  ledger = join(folder, 'bathbook.yaml');
  writeFileSync(ledger, text);
});

function baths(env: Record<string, string> = { XDG_CACHE_HOME: cache }, args: string[] = ['--json']) {
  const ran = spawnSync(
    process.execPath,
    [program, 'baths', ...args, '--ledger', ledger, '--as-of', lastAt],
    {
      env,
      encoding: 'utf8',
      cwd: folder,
    },
  );
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

const plain = () => baths({});

function kept(kind: 'code' | 'checkpoints'): string[] {
  const within = join(cache, 'bathbook', kind);
  return readdirSync(within).map((name) => join(within, name));
}

describe('the cache', () => {
  it('holds code of the command and a checkpoint of the ledger, for nobody else to read', () => {
    expect(baths()).toEqual(plain());
    expect(kept('code')).toHaveLength(1);
    expect(kept('code')[0]).toMatch(/-baths$/);
    expect(kept('checkpoints')).toHaveLength(1);
    for (const file of [...kept('code'), ...kept('checkpoints')]) expect(statSync(file).mode & 0o077).toBe(0);
    expect(statSync(join(cache, 'bathbook', 'code')).mode & 0o077).toBe(0);
    expect(baths()).toEqual(plain());
  });

  it('is in the home folder where no other is named, and nowhere where none is', () => {
    expect(baths({ HOME: folder })).toEqual(plain());
    expect(readdirSync(join(folder, '.cache', 'bathbook')).sort()).toEqual(['checkpoints', 'code']);
    for (const env of [{ XDG_CACHE_HOME: 'cache' }, { HOME: 'here' }, { XDG_CACHE_HOME: '', HOME: '' }])
      expect(baths(env as Record<string, string>)).toEqual(plain());
    expect(readdirSync(folder).sort()).toEqual(['.cache', 'bathbook.yaml']);
  });

  it.each(['code', 'checkpoints'] as const)('with odd %s changes nothing that is said', (kind) => {
    const expected = plain();
    baths();
    const [file] = kept(kind);
    const whole = readFileSync(file!);
    const flipped = Buffer.from(whole);
    flipped[60] = flipped[60]! ^ 0xff;
    const odd = [
      Buffer.alloc(0),
      Buffer.alloc(whole.length),
      whole.subarray(0, whole.length / 2),
      Buffer.concat([whole, whole]),
      Buffer.from('something else'),
      ...(kind === 'checkpoints' ? [flipped] : []),
    ];
    for (const bytes of odd) {
      writeFileSync(file!, bytes);
      expect(baths()).toEqual(expected);
    }
  });

  it.each(['code', 'checkpoints'] as const)('takes no %s that others could have written', (kind) => {
    baths();
    const [file] = kept(kind);
    writeFileSync(file!, 'planted');
    chmodSync(file!, 0o666);
    expect(baths()).toEqual(plain());
  });

  it('that cannot be written is done without', () => {
    writeFileSync(join(folder, 'file'), '');
    mkdirSync(join(cache, 'bathbook'), { recursive: true });
    writeFileSync(join(cache, 'bathbook', 'code'), '');
    symlinkSync('/nowhere/at/all', join(cache, 'bathbook', 'checkpoints'));
    for (const XDG_CACHE_HOME of [join(folder, 'file'), '/dev/null', '/proc', cache])
      expect(baths({ XDG_CACHE_HOME })).toEqual(plain());
  });

  it('follows no symlink to write', () => {
    const victim = join(folder, 'victim');
    writeFileSync(victim, 'precious');
    baths();
    const [file] = kept('checkpoints');
    spawnSync('ln', ['-sf', victim, file!]);
    expect(baths()).toEqual(plain());
    expect(readFileSync(victim, 'utf8')).toBe('precious');
  });

  it('is swept of what was not written for two months, and of drafts', () => {
    baths();
    const code = join(cache, 'bathbook', 'code');
    const longAgo = Date.now() / 1000 - 90 * 86_400;
    for (const name of ['old', 'x.123.draft']) {
      writeFileSync(join(code, name), '');
      utimesSync(join(code, name), longAgo, longAgo);
    }
    writeFileSync(join(code, 'young'), '');
    spawnSync(process.execPath, [program, 'tables', '--wt', '91'], { env: { XDG_CACHE_HOME: cache } });
    expect(readdirSync(code).filter((name) => !/-(?:baths|tables)$/.test(name))).toEqual(['young']);
  });

  it('holds no less code of a command because its help was asked for, or a name mistyped, before', () => {
    const sizeAfter = (...before: string[][]) => {
      const XDG_CACHE_HOME = join(folder, `cache-${before.length}`);
      const asked = [...before, ['wash', '6', 'model']];
      for (const args of asked)
        spawnSync(process.execPath, [program, ...args, '--ledger', ledger, '--as-of', lastAt], {
          env: { XDG_CACHE_HOME },
        });
      const code = join(XDG_CACHE_HOME, 'bathbook', 'code');
      const name = readdirSync(code).find((one) => one.endsWith('-wash'));
      return statSync(join(code, name!)).size;
    };
    const alone = sizeAfter();
    expect(sizeAfter(['wash', '--help'])).toBeGreaterThan(0.9 * alone);
    expect(sizeAfter(['wash', '6', 'modl'], ['wash', '--minutes'])).toBeGreaterThan(0.9 * alone);
  });

  it('holds code that the next run takes: what is refused would be made anew after a day', () => {
    baths();
    const [file] = kept('code');
    const daysAgo = Math.floor(Date.now() / 1000) - 3 * 86_400;
    utimesSync(file!, daysAgo, daysAgo);
    baths();
    expect(Math.floor(statSync(file!).mtimeMs / 1000)).toBe(daysAgo);
    writeFileSync(file!, 'refused');
    utimesSync(file!, daysAgo, daysAgo);
    baths();
    expect(Math.floor(statSync(file!).mtimeMs / 1000)).toBeGreaterThan(daysAgo);
  });

  it('is made anew for an engine with other flags, once a day at most', () => {
    baths();
    const [file] = kept('code');
    const made = readFileSync(file!);
    const flags = { XDG_CACHE_HOME: cache, NODE_OPTIONS: '--max-old-space-size=300 --stack-trace-limit=50' };
    expect(baths(flags)).toEqual(plain());
    expect(readFileSync(file!).equals(made)).toBe(true);
  });
});
