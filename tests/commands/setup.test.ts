import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readLedger } from '../../src/ledger/read.ts';
import { scanHeader } from '../../src/ledger/scan-header.ts';
import { bundled, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

describe('setup', () => {
  it('writes what it was told, in a form that another YAML parser reads the same', async () => {
    const cwd = tempFolder();
    const told = [
      '--name',
      'Bench: "two"',
      '--timezone',
      'Europe/Lisbon',
      '--currency',
      'eur',
      '--room',
      '72 F',
    ];
    const baths = [
      '--humidity',
      '60%',
      '--use',
      'body-contact',
      '--mark',
      '1 gal',
      '--tub',
      '300 x 200 x 40 mm',
      '--lid-open',
      '2',
    ];
    expect(run(['setup', '--here', ...told, ...baths], { cwd }).code).toBe(0);
    const text = readFileSync(join(cwd, 'bathbook.yaml'), 'utf8');
    const bath = { mark_ml: 3785.4, length_mm: 300, width_mm: 200, freeboard_mm: 40, lid_open_h: 2 };
    expect(parse(text)).toMatchObject({
      format: 'bathbook/1',
      // 72 °F is 22.2 °C, and a US gallon 3785.41 mL (NIST SP 811, appendix B)
      shop: {
        name: 'Bench: "two"',
        timezone: 'Europe/Lisbon',
        currency: 'EUR',
        room_c: 22.2,
        humidity_pct: 60,
        parts_use: 'body-contact',
      },
      baths: { dirty: bath, clean: bath },
      events: null,
    });
    expect(await readLedger(Buffer.from(text))).toMatchObject({ problems: [], tail: 'whole', slowEvents: 0 });
    expect(scanHeader(text.slice(0, text.indexOf('events:')))).not.toBeNull();
  });

  it('takes usual values for what it was not told, and says which', () => {
    const cwd = tempFolder();
    const { err } = run(['setup', '--here', '--mark', '4 L'], { cwd });
    expect(err).toContain('--tub');
    expect(err).not.toMatch(/Usual values for .*--mark/);
    expect(parse(readFileSync(join(cwd, 'bathbook.yaml'), 'utf8')).baths.dirty.mark_ml).toBe(4000);
  });

  it('leads to a working shop by the commands it names', () => {
    const cwd = tempFolder();
    const { err } = run(['setup', '--here'], { cwd });
    const steps = [...err.matchAll(/^ {2}bathbook (.+)$/gm)].map(([, step]) => step!.split(' '));
    expect(steps.length).toBeGreaterThanOrEqual(4);
    for (const step of steps) expect(run(step, { cwd })).toMatchObject({ code: 0 });
  });

  it.each([
    ['1', ['single']],
    ['3', ['first', 'second', 'third']],
  ])('makes a shop of %s that washes, judges and advises', async (baths, names) => {
    const cwd = tempFolder();
    const { err } = run(['setup', '--here', '--baths', baths], { cwd });
    const text = readFileSync(join(cwd, 'bathbook.yaml'), 'utf8');
    expect(Object.keys(parse(text).baths)).toEqual(names);
    expect(parse(text).shop.defaults.minutes).toEqual(names.map(() => 5));
    expect(await readLedger(Buffer.from(text))).toMatchObject({ problems: [], tail: 'whole', slowEvents: 0 });
    expect(scanHeader(text.slice(0, text.indexOf('events:')))).not.toBeNull();
    expect(err).toContain(`bathbook refill ${names.at(-1)}`);
    for (const [, step] of err.matchAll(/^ {2}bathbook (.+)$/gm))
      expect(run(step!.split(' '), { cwd })).toMatchObject({ code: 0 });
    const state = JSON.parse(run(['baths', '--json'], { cwd }).out).data;
    // Every bath of the route took a share of the resin, less in each than in the one before.
    const grams = state.baths.map((one: { resin_g: { p50: number } }) => one.resin_g.p50);
    expect(grams.every((one: number) => one > 0)).toBe(true);
    expect(grams).toEqual([...grams].sort((one, other) => other - one));
    expect(state.baths.at(-1).limits.resin_wt_pct).toEqual([1.5, 2, 5]);
    expect(state.advice.action).toBe('nothing');
    expect(run(['refill', names.at(-1)!], { cwd }).code).toBe(0);
    const rotate = run(['rotate'], { cwd });
    expect(rotate.code).not.toBe(0);
    expect(rotate.err).toContain('no such pair');
    expect(rotate.err).toContain('bathbook refill BATH');
  });

  it('of three baths names those that are still to be filled', () => {
    const cwd = tempFolder();
    run(['setup', '--here', '--baths', '3'], { cwd });
    const advice = () => JSON.parse(run(['baths', '--json'], { cwd }).out).data.advice.text;
    expect(advice()).toBe('Fill the baths before washing: there is no solvent in them');
    run(['fill', 'first', '4 L', 'ipa99'], { cwd });
    expect(advice()).toBe('Fill the second and third baths before washing: they are empty');
    run(['fill', 'third', '4 L', 'ipa99'], { cwd });
    expect(advice()).toBe('Fill the second bath before washing: it is empty');
  });

  it('has a line of remark on every key of its head', () => {
    const cwd = tempFolder();
    run(['setup', '--here', '--currency', 'CAD'], { cwd });
    const text = readFileSync(join(cwd, 'bathbook.yaml'), 'utf8');
    const { shop, baths } = parse(text);
    const lines = text.split('\n');
    for (const key of Object.keys(shop)) {
      const above = lines[lines.findIndex((line) => line.startsWith(`  ${key}:`)) - 1];
      expect(above, key).toMatch(/^ {2}#/);
    }
    for (const key of [...Object.keys(shop.defaults), ...Object.keys(baths.dirty)])
      expect(text, key).toMatch(new RegExp(`^  #   ${key}( |$)`, 'm'));
  });

  it('never writes over a file', () => {
    const cwd = tempFolder();
    writeFileSync(join(cwd, 'bathbook.yaml'), 'mine');
    const { code, err } = run(['setup'], { cwd });
    expect(code).toBe(73);
    expect(err).toContain('exists already');
    expect(readFileSync(join(cwd, 'bathbook.yaml'), 'utf8')).toBe('mine');
  });

  it.each([
    [['--room', '55'], '10 to 40 °C'],
    [['--mark', '4 gallns'], 'gal'],
    [['--tub', '260x180'], '260x180x50'],
    [['--timezone', 'Mars/Base'], 'America/Halifax'],
    [['--humidity', '101'], '0 to 100 %'],
    [['--lid-open', '25'], '0 to 24'],
    [['--use', 'toys'], 'body-contact'],
    [['--baths', '4'], '1, 2, 3'],
    [['--currency', 'dollars'], 'CAD'],
  ])('refuses %j, says what is allowed and makes nothing', (args, allowed) => {
    const cwd = tempFolder();
    const { code, err } = run(['setup', '--here', ...args], { cwd });
    expect(code).toBe(64);
    expect(err).toContain(allowed);
    expect(existsSync(join(cwd, 'bathbook.yaml'))).toBe(false);
  });
});
