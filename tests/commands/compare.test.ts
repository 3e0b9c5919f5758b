/** `compare` from a terminal's point of view: documents, determinism, Ctrl-C, refusals, widths. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const DEMO = resolve('data/demo.yaml');
const CLOCK = '2026-11-20T16:00:00-06:00';
const main = bundled();
const run = runner(main);
const FEW = ['--draws', '4'];
const demo = (...words: string[]) => ['compare', '--ledger', DEMO, '--as-of', CLOCK, ...words];
const small = (ledger: string, ...words: string[]) => run(['compare', '--ledger', ledger, '--as-of', NOW, ...FEW, ...words]); // biome-ignore format: one line

/** Fits the schema, key for key. */
function holds(text: string) {
  const closed = (schema: unknown): unknown => {
    if (Array.isArray(schema)) return schema.map(closed);
    if (typeof schema !== 'object' || schema === null) return schema;
    const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
    const named = inner.type === 'object' && 'properties' in inner && !('additionalProperties' in inner);
    return named ? { ...inner, additionalProperties: false } : inner;
  };
  const schema = closed(JSON.parse(run(['schema', 'compare']).out)) as object;
  const validate = new Ajv2020({ strict: false, allErrors: true, validateFormats: false }).compile(schema);
  const document = JSON.parse(text);
  validate(document);
  expect(validate.errors ?? []).toEqual([]);
  return document;
}

describe('the document', () => {
  const { code, out, err } = run(demo('--json', ...FEW));
  const { schema, data } = JSON.parse(out);

  it('fits its schema and has the keys that were promised', () => {
    expect(code).toBe(0);
    expect(err).not.toContain('fault of its own');
    holds(out);
    expect(schema).toBe('bathbook/compare/1');
    for (const policy of data.policies) {
      for (const key of [
        'name',
        'change_at',
        'litres_per_year',
        'cost_per_year',
        'cost_per_part',
        'clean_resin_wt_pct_p95',
        'over_limit_share',
        'washes_between_changes',
      ])
        expect(policy).toHaveProperty(key);
    }
  });

  it('begins with what the shop does, at the limits of its ledger', () => {
    expect(data.policies[0]).toMatchObject({ subject: 'now', change_at: { dirty: 10, clean: 2 } });
    expect(data.basis).toMatchObject({ draws: 4, seed: 1, stopped: false, price_per_l: 7.4, risk: 0.05 });
  });

  it('adds up: cost from litres, washes between changes from the pace', () => {
    const washes = (data.basis.loads_per_week * 365.25) / 7;
    for (const policy of data.policies) {
      expect(policy.cost_per_year).toBeCloseTo(7.4 * policy.litres_per_year, 6);
      expect(policy.washes_between_changes).toBeCloseTo(washes / policy.changes_per_year, 6);
      expect(policy.cost_per_year_band.p05).toBeLessThanOrEqual(policy.cost_per_year_band.p95);
    }
  });

  it('has a best limit that keeps the risk, lower for a smaller risk', () => {
    const at = (risk: string) => holds(run(demo('--json', '--risk', risk, ...FEW)).out).data;
    const [careful, bold] = [at('1'), at('30%')];
    expect([careful.basis.risk, bold.basis.risk]).toEqual([0.01, 0.3]);
    expect(careful.best.over_limit_share).toBeLessThanOrEqual(0.01);
    expect(bold.best.over_limit_share).toBeLessThanOrEqual(0.3);
    expect(careful.best.change_at.clean).toBeLessThan(bold.best.change_at.clean);
    expect(careful.best.litres_per_year).toBeGreaterThan(bold.best.litres_per_year);
  });

  it('never has a best limit at which a bath would be used up to where the ledger says never', () => {
    const { best } = JSON.parse(run(demo('--json', '--risk', '100', ...FEW)).out).data;
    // MODEL 7: never 20 wt% in the dirty bath, 5 in the clean one.
    expect(best.change_at.dirty).toBeLessThan(20);
    expect(best.change_at.clean).toBeLessThan(5);
  });

  it('takes waste and work into the cost', () => {
    const dear = JSON.parse(run(demo('--json', '--disposal', '3', '--per-change', '12.50', ...FEW)).out).data;
    for (const policy of dear.policies)
      expect(policy.cost_per_year).toBeCloseTo(
        7.4 * policy.litres_per_year + 3 * policy.waste_l_per_year + 12.5 * policy.changes_per_year,
        6,
      );
  });
});

describe('the same ledger and seed', () => {
  const once = run(demo('--json', ...FEW)).out;

  it('give the same bytes, another seed others', () => {
    expect(run(demo('--json', ...FEW)).out).toBe(once);
    expect(run(demo('--json', '--seed', '2', ...FEW)).out).not.toBe(once);
  });

  const pins = spawnSync('taskset', ['-c', '0', 'true']).status === 0;
  it.skipIf(!pins)('give the same bytes on one processor, with one worker', () => {
    const args = ['-c', '0', process.execPath, main, ...demo('--json', '--draws', '12')];
    const pinned = spawnSync('taskset', args, { encoding: 'utf8', env: {} });
    expect(pinned.status).toBe(0);
    expect(pinned.stdout).toBe(run(demo('--json', '--draws', '12')).out);
  });

  it('give it from any folder, without an environment, and the ledger stays as it was', () => {
    const before = readFileSync(DEMO);
    expect(run(demo('--json', ...FEW), { cwd: tempFolder() }).out).toBe(once);
    const bare = spawnSync('env', ['-i', process.execPath, main, ...demo('--json', ...FEW)], { cwd: '/', encoding: 'utf8' }); // biome-ignore format: one line
    expect(bare.stdout).toBe(once);
    expect(readFileSync(DEMO).equals(before)).toBe(true);
  });
});

describe('Ctrl-C', () => {
  /** Ends a run after so many pieces of work have come back; none are handed out for 0. */
  function interruptedAfter(pieces: number, ...words: string[]) {
    const hook = join(tempFolder(), 'interrupt.cjs');
    writeFileSync(
      hook,
      `const { isMainThread, Worker } = require('node:worker_threads');
const pieces = ${pieces};
const ctrlC = () => process.kill(process.pid, 'SIGINT');
if (isMainThread) {
  const { emit, postMessage } = Worker.prototype;
  let seen = 0;
  Worker.prototype.emit = function (name, ...rest) {
    if (name === 'message' && ++seen === pieces) ctrlC();
    return emit.call(this, name, ...rest);
  };
  let given = 0;
  Worker.prototype.postMessage = function (...work) {
    if (pieces > 0) return postMessage.apply(this, work);
    if (++given === 1) setTimeout(ctrlC, 20);
  };
}
`,
    );
    return run(demo('--draws', '400', ...words), { env: { NODE_OPTIONS: `--require ${hook}` } });
  }

  it('prints what is done and ends with 130', () => {
    const { code, out, err } = interruptedAfter(60);
    expect(code).toBe(130);
    expect(out).toContain('now: rotate at 10 / 2 wt%');
    const [, worlds] = /Stopped after (\d+) drawn worlds/.exec(out) ?? [];
    expect(Number(worlds)).toBeGreaterThanOrEqual(4);
    expect(Number(worlds)).toBeLessThan(400);
    expect(out).not.toContain('Cheapest');
    expect(err).not.toMatch(/\n\s+at |fault of its own/);
  });

  it('leaves a document that is whole, says that it was stopped, and has the figures of as many draws', () => {
    const { code, out } = interruptedAfter(60, '--json');
    expect(code).toBe(130);
    const { data } = holds(out);
    expect(data.basis.stopped).toBe(true);
    expect(data.best).toBeNull();
    expect(data.basis.draws % 4).toBe(0);
    const whole = JSON.parse(run(demo('--json', '--draws', String(data.basis.draws))).out).data;
    expect(data.policies).toEqual(whole.policies);
  });

  it('before anything is done prints no answer', () => {
    const { code, out, err } = interruptedAfter(0);
    expect({ code, out }).toEqual({ code: 130, out: '' });
    expect(err).not.toMatch(/\n\s+at |fault of its own/);
  });
});

describe('what cannot be compared', () => {
  const ledger = ledgerOf();

  it.each([
    [['--risk', '101'], 'Cannot use --risk "101"', 'Give a number from 0 to 100, like --risk 5'],
    [['--risk', 'low'], 'Cannot use --risk "low"', 'Give a number from 0 to 100'],
    [['--risk', '-1'], 'Cannot use --risk "-1"', 'Give a number from 0 to 100'],
    [['--draws', '3'], 'Cannot use --draws "3"', 'Give a whole number from 4 to 10000'],
    [['--draws', '10001'], 'Cannot use --draws "10001"', 'Give a whole number from 4 to 10000'],
    [['--draws', '8.5'], 'Cannot use --draws "8.5"', 'Give a whole number'],
    [['--seed', '0'], 'Cannot use --seed "0"', 'Give a whole number from 1 to 1000'],
    [['--seed', '1001'], 'Cannot use --seed "1001"', 'Give a whole number from 1 to 1000'],
    [['--disposal', 'free'], 'Cannot use --disposal "free"', 'Give a number from 0 to 1000000'],
    [['--per-change', 'NaN'], 'Cannot use --per-change "NaN"', 'Give a number from 0 to 1000000'],
    [['--per-day', '0'], 'Cannot use --per-day "0"', 'Give a number from 0.01 to 1000'],
    [['--per-day', ''], 'Cannot use --per-day ""', 'Give a number from 0.01 to 1000'],
    [['--rsik', '5'], 'Cannot use the option "--rsik"', 'Did you mean --risk?'],
    [['rotate'], 'Cannot take so many words for "compare"', 'bathbook compare'],
  ])('%j exits with 64 and says what would do', (words, message, help) => {
    const { code, out, err } = small(ledger, ...words);
    expect(err).toContain(message);
    expect(err.slice(err.indexOf('  help: '))).toContain(help);
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(err).not.toMatch(/\n\s+at /);
  });

  it.each(['2 %', '2,0'])('takes a risk written as "%s"', (risk) => {
    const { code, out } = small(ledger, '--json', '--risk', risk);
    expect(code).toBe(0);
    expect(JSON.parse(out).data.basis.risk).toBeCloseTo(0.02, 12);
  });

  it('a shop that has not washed yet is told how to begin', () => {
    for (const lines of [[], LINES.slice(0, 2)]) {
      const { code, out, err } = small(ledgerOf(lines));
      expect({ code, out }).toEqual({ code: 64, out: '' });
      expect(err).toContain('no wash was logged yet');
      expect(err).toMatch(/ {2}help: .*bathbook wash/);
    }
  });

  it('a shop that has not washed lately is asked for its pace', () => {
    const later = ['compare', '--ledger', ledger, '--as-of', '2027-03-01T12:00:00-04:00', ...FEW];
    const { code, out, err } = run(later);
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(err).toContain('no wash was logged in the last 28 days');
    expect(err).toContain('bathbook compare --per-day 3');
    expect(run([...later, '--per-day', '3']).code).toBe(0);
  });

  it.each(['0.01', '40'])('a pace of %s loads a day has finite figures', (perDay) => {
    const { code, out } = small(ledger, '--json', '--per-day', perDay);
    expect(code).toBe(0);
    const { data } = holds(out);
    for (const policy of data.policies) expect(policy.litres_per_year).toBeGreaterThan(0);
  });
});

describe('shops of other kinds', () => {
  it('without a price have no cost', () => {
    const { data } = holds(small(ledgerOf(), '--json').out);
    expect(data.basis.price_per_l).toBeNull();
    for (const { cost_per_year, cost_per_part, cost_per_year_band } of data.policies)
      expect([cost_per_year, cost_per_part, cost_per_year_band]).toEqual([null, null, null]);
  });

  it('with one bath compare a second and a third', () => {
    const head = HEAD.replace(/ {2}dirty:.*\n/, '').replace('clean:', 'tub:');
    const lines = [LINES[1]!.replace('bath: clean', 'bath: tub'), LINES[2]!];
    const { data } = holds(small(ledgerOf(lines, head), '--json').out);
    const names = data.policies.map(({ name }: { name: string }) => name);
    expect(names[0]).toBe('change at 2 wt%');
    expect(names).toEqual(expect.arrayContaining(['two baths in turn', 'three baths in turn']));
  });

  it('with solvent weaker than a limit on water are not told to change after every load', () => {
    // 91 vol% is 12 wt% water; the limit is 8.
    const weak = LINES.slice(0, 3).map((line) => line.replace('ipa99', 'ipa91'));
    const head = HEAD.replace('baths:', 'solvents:\n  ipa91: {ipa_vol_pct: 91}\nbaths:');
    const { data } = holds(small(ledgerOf(weak, head), '--json').out);
    expect(data.policies[0].washes_between_changes).toBeGreaterThan(10);
    expect(data.policies[0].over_limit_share).toBeLessThan(0.5);
    expect(data.best).not.toBeNull();
    expect(data.basis.fresh_water_wt_pct).toBeCloseTo(12.6, 1);
    expect(small(ledgerOf(weak, head)).out).toContain(
      'ipa91 as poured holds 12.6 wt% water, past the limit of 8',
    );
  });
});

describe('on paper', () => {
  it('off a terminal is a record a habit, all columns whatever the width, and no bar', () => {
    const { out, err } = run(demo(...FEW), { env: { COLUMNS: '60' } });
    const records = out
      .split('\n')
      .filter((line) => line.includes('\t'))
      .map((line) => line.split('\t'));
    expect(records[0]).toEqual(['litres a year', 'CAD a year', 'CAD a part', 'waste kg', 'changes a year', 'past limit', 'clean wt%', 'on parts µg/cm²', 'habit']); // biome-ignore format: one line
    for (const record of records) expect(record).toHaveLength(records[0]!.length);
    expect(records.length).toBeGreaterThan(10);
    expect(err).not.toContain('comparing');
  });

  const plain = spawnSync('script', ['-qec', 'true', '/dev/null']).status === 0;

  /** On a terminal of so many columns, what is left on the screen; `press` is given what came so far, and the keyboard. */
  function onTerminal(
    columns: number,
    words: string[],
    press?: (shown: string, type: (key: string) => void) => void,
  ): Promise<{ code: number | null; lines: string[] }> {
    const command = [process.execPath, main, ...words].map((word) => `'${word}'`).join(' ');
    const child = spawn('script', ['-qec', `stty cols ${columns}; ${command}`, '/dev/null'], { env: { PATH: process.env.PATH, TERM: 'xterm', LANG: 'C.UTF-8', NO_COLOR: '1' } }); // biome-ignore format: one line
    let shown = '';
    child.stdout.on('data', (data: Buffer) => {
      shown += data.toString();
      press?.(shown, (key) => child.stdin.write(key));
    });
    return new Promise((done) => {
      child.on('close', (code) => {
        const lines = shown.split(/\r?\r\n/).map((line) => line.split('\r').at(-1)!);
        done({ code, lines });
      });
    });
  }

  it.skipIf(!plain).each([60, 80, 120])('keeps within %d columns of a terminal', async (columns) => {
    const { code, lines } = await onTerminal(columns, demo(...FEW));
    expect(code).toBe(0);
    expect(lines.filter((line) => line.length > columns)).toEqual([]);
    const text = lines.join('\n');
    expect(text).toMatch(/^litres +CAD/m);
    expect(text).toContain('now: rotate at 10');
    expect(text.includes('µg/cm²')).toBe(columns >= 80);
    expect(text).not.toContain('\t');
  });

  it.skipIf(!plain)('a bar is shown while it works, and Ctrl-C ends it with what is done', async () => {
    let pressed = false;
    const { code, lines } = await onTerminal(80, demo('--draws', '10000'), (shown, type) => {
      if (pressed || !/comparing, Ctrl-C prints what is done {2}[=.]+ +[1-9]\d* %/.test(shown)) return;
      pressed = true;
      type('\u0003');
    });
    expect(pressed).toBe(true);
    expect(code).toBe(130);
    const text = lines.join('\n');
    expect(text).toMatch(/Stopped after \d+ drawn worlds/);
    expect(text).toContain('now: rotate at 10');
    expect(text).not.toContain('comparing');
  });
});
