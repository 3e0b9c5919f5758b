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
    [['--currency', 'dollars'], 'CAD'],
  ])('refuses %j, says what is allowed and makes nothing', (args, allowed) => {
    const cwd = tempFolder();
    const { code, err } = run(['setup', '--here', ...args], { cwd });
    expect(code).toBe(64);
    expect(err).toContain(allowed);
    expect(existsSync(join(cwd, 'bathbook.yaml'))).toBe(false);
  });
});
