/** What `reading` refuses, and why: values that no bath has, options that do not fit, a bath that holds nothing. */
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, type Ran, runner } from './bundle.ts';

const run = runner(bundled());
const WITH_ROOM = HEAD.replace('baths:', '  room_c: 21\nbaths:');
let path: string;
const text = () => readFileSync(path, 'utf8');
const original = WITH_ROOM + LINES.map((line) => `${line}\n`).join('');

function said(...args: string[]): Ran {
  return run([...args, '--ledger', path, '--as-of', NOW]);
}

beforeEach(() => {
  path = ledgerOf(LINES, WITH_ROOM);
});

describe('what cannot be a reading', () => {
  it.each<[string[], string, string]>([
    [['--density', '803'], '--density "803", allowed is 0.7 to 1.25 g/mL', 'in kg/m³: write --density 0.803'],
    [['--density', '0.4'], '--density "0.4", allowed is 0.7 to 1.25', 'Nothing in a bath is as light'],
    [['--density', '1.3801'], '--density "1.3801"', 'looks like a refractive index: write --index 1.3801'],
    [['--density', '31.2'], '--density "31.2"', 'in °Brix: write --brix 31.2'],
    [['--sg', '806'], '--sg "806", allowed is 0.7 to 1.25', 'write --sg 0.806'],
    [['--brix', '46'], '--brix "46", allowed is 10 to 40 °Brix', 'A scale for honey'],
    [['--brix', '3'], '--brix "3", allowed is 10 to 40 °Brix', 'a scale for salt'],
    [['--index', '1.333'], '--index "1.333", allowed is 1.34 to 1.5', 'Water reads 1.333'],
    [
      ['--density', '0.803', '--temp', '72'],
      '--temp "72", allowed is 10 to 40 °C',
      '72 °F is 22.2 °C: write --temp "72 F"',
    ],
    [['--density', '0.803', '--temp', '120 F'], '--temp "120 F"', 'Let the liquid come to room temperature'],
    [
      ['--sg', '0.806', '--glass', '60'],
      '--glass "60", allowed is 0 to 40 °C',
      '60 °F is 15.6 °C: write --glass "60 F"',
    ],
    [
      ['--dry', '81', '--sample', '10'],
      'a sample of 10 mL leaves at most 16 g',
      '81 mg is 0.081 g: write --dry "0.081 g"',
    ],
    [['--dry', '0.081', '--sample', '0.01'], 'a sample of 0.01 mL leaves', 'write --sample "10 mL"'],
    [
      ['--level', '3.9'],
      '--level 3.9 mL, the dirty bath holds 6340 mL up to the brim',
      'write --level "3900 mL"',
    ],
    [['--level', '6.4 L'], 'allowed is 63 to 6340 mL', 'tub_ml'],
    [['--weight', '3.1'], 'allowed is 63 to 7925 g', 'write --weight "3100 g"'],
    [['--weight', '9 kg'], '--weight 9000 g', 'take the weight of the tub off'],
    [['--resin', '120'], '--resin "120", allowed is 0 to 100 wt%', 'Check the value'],
    [['--density', '0.803', '--sd', '0'], '--sd "0", allowed is above 0', 'Check the value'],
    [
      ['--density', 'about 0.8'],
      'Cannot read "about 0.8" as a number (--density)',
      'Write it like --density 0.803',
    ],
    [['--level', '3.9 kg'], 'Cannot read "3.9 kg" as a volume', 'Units are'],
    [[], 'Cannot log a reading without a value', 'Add --density'],
    [['--dry', '81 mg'], 'Cannot use --dry without --sample', '--sample "10 mL"'],
    [['--sample', '10'], 'Cannot use --sample without --dry', '--dry "81 mg"'],
    [['--brix', '31', '--ref', '20/20'], 'Cannot use --ref without --sg', 'specific gravity'],
    [['--brix', '31', '--glass', '20'], 'Cannot use --glass without --density or --sg', 'hydrometer'],
    [['--weight', '3100', '--temp', '21'], 'Cannot use --temp with --weight alone', 'Leave it out'],
    [
      ['--brix', '31', '--index', '1.38', '--sd', '0.1'],
      'Cannot use --sd with --brix and --index',
      'its own --sd',
    ],
    [['--sg', '0.8', '--ref', '15/15'], 'Cannot use "15/15" for --ref', '20/20, 25/25, 60/60F'],
  ])('%j is refused with what is allowed and what was likely meant', (args, message, help) => {
    const { code, out, err } = said('reading', 'dirty', ...args);
    expect(err).toContain(message);
    expect(err.split('help: ')[1]).toContain(help);
    expect(err).toContain('Not logged: bathbook reading dirty');
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(text()).toBe(original);
  });

  it('is also a bath that is not there, or none', () => {
    expect(said('reading', 'dirt', '--density', '0.8').err).toContain('Did you mean "dirty"?');
    expect(said('reading', '--density', '0.8')).toMatchObject({
      code: 64,
      err: expect.stringContaining('Cannot log a reading without the bath'),
    });
  });
});

describe('readings of a bath that holds nothing', () => {
  const both = ['reading', 'dirty', '--density', '0.803', '--brix', '31.2', '--temp', '21'];

  it('of an empty bath are refused once, with what was typed', () => {
    path = ledgerOf([], WITH_ROOM);
    const { code, err } = said(...both);
    expect(code).toBe(65);
    expect(err.match(/which is empty/g)).toHaveLength(1);
    expect(err).toContain('Not logged: bathbook reading dirty');
    expect(err).not.toContain('- {');
    expect(text()).toBe(WITH_ROOM);
  });

  it('of a bath whose solvent is gone are refused with what to do', () => {
    // 300 mL in an open tub, left for half a year.
    const open = WITH_ROOM.replace('mark_ml: 4000, length', 'lid_open_h: 24, mark_ml: 300, length');
    const poured =
      '  - {id: "fill2", at: 2026-05-16T08:00:00-03:00, what: fill, bath: dirty, solvent: ipa99, ml: 300}';
    path = ledgerOf([poured], open);
    const { code, out, err } = said(...both);
    expect({ code, out }).toEqual({ code: 65, out: '' });
    expect(err).toContain('uses the dirty bath, whose solvent has evaporated\n');
    expect(err).toContain('help: Log the top-up or refill that was done');
    expect(text()).toBe(`${open}${poured}\n`);
  });

  it.each(['bath-empty-3', 'bath-empty-4'])('in a ledger are what check stops at (%s)', (fixture) => {
    const { code, out } = run(['check', `tests/faults/${fixture}.yaml`, '--as-of', NOW]);
    expect(code).toBe(65);
    expect(out).toMatch(
      /\(reading\) uses the (clean|dirty) bath, (which is empty|whose solvent has evaporated)/,
    );
  });
});
