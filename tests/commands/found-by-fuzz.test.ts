/** Ledgers that drawn and damaged inputs have brought up (tests/torture/fuzz.mjs), made small: each broke the program once. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, tempFolder } from './bundle.ts';

const main = bundled();
const folder = tempFolder();
/** Far more than any of them takes; a guard against what goes on for ever. */
const FOR_EVER_MS = 25_000;

function run(args: readonly string[], lines: readonly string[]): { code: number | null; out: string } {
  const ledger = join(folder, 'bathbook.yaml');
  writeFileSync(ledger, `${HEAD}${lines.join('\n')}\n`);
  const asked = [...args, '--ledger', ledger, '--no-input', '--as-of', '2026-11-20T09:00:00-04:00'];
  const ran = spawnSync(process.execPath, [main, ...asked], {
    env: {},
    encoding: 'utf8',
    timeout: FOR_EVER_MS,
  });
  return { code: ran.status, out: ran.stdout };
}

describe('a report with curves', () => {
  const [dirty, clean, ...later] = LINES;
  const reading =
    '  - {id: "red1", at: 2026-11-16T08:02:00-04:00, what: reading, bath: clean, weight_g: 3266}';

  it('ends where a reading was taken of a bath that was empty', () => {
    const { code, out } = run(['report', '--format', 'html'], [dirty!, reading, clean!, ...later]);
    expect(out).toContain('red1');
    expect(out).toMatch(/<\/html>\s*$/);
    expect(code).toBe(65);
  });
});

describe('a time zone that this computer does not know', () => {
  const zone = 'Nowhere/At_All';
  const ledgers = ['one.yaml', 'two.yaml'].map((name) => {
    const path = join(folder, name);
    writeFileSync(path, `${HEAD.replace('America/Halifax', zone)}${LINES.join('\n')}\n`);
    return path;
  });
  const started = (env: Record<string, string>, ...args: string[]) =>
    spawnSync(process.execPath, [main, ...args], { env, encoding: 'utf8', timeout: FOR_EVER_MS });

  it('is told of each ledger that names it', () => {
    const { stdout, stderr, status } = started({}, 'check', ...ledgers);
    for (const path of ledgers)
      expect(stdout + stderr).toContain(`${path}: Cannot use the time zone "${zone}"`);
    expect(status).toBe(65);
  });

  it('is told where the computer is set to it as well', () => {
    const { stderr, status } = started({ TZ: zone }, 'baths', '--ledger', ledgers[0]!);
    expect(stderr).toContain(`Cannot use the time zone "${zone}"`);
    expect(status).toBe(78);
  });
});

describe('an id with signs that colour a terminal', () => {
  it('colours nothing where a note names its reading', () => {
    const ledger = join(folder, 'coloured.yaml');
    const odd =
      '  - {id: "\\u001b[31mred\\u001b[0m", at: 2026-11-16T08:02:00-04:00, what: reading, bath: clean, level_ml: 900}';
    writeFileSync(ledger, `${HEAD}${[...LINES, odd].join('\n')}\n`);
    const asked = ['calibrate', '--ledger', ledger, '--as-of', '2026-11-20T09:00:00-04:00'];
    const { stderr } = spawnSync(process.execPath, [main, ...asked], { env: {}, encoding: 'utf8' });
    expect(stderr).toContain('[31mred');
    expect(stderr).not.toContain('\u001b');
  });
});
