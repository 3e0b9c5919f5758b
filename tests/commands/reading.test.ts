/** `reading` as a person or a program runs it: each instrument, several at once, corrected. */
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { brixFromIndex } from '../../src/substance/brix.ts';
import { mixtureDensity } from '../../src/substance/mixture.ts';
import { solventIndex } from '../../src/substance/refraction.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, type Ran, runner } from './bundle.ts';

const run = runner(bundled());
const WITH_ROOM = HEAD.replace('baths:', '  room_c: 21\nbaths:');
let path: string;
const text = () => readFileSync(path, 'utf8');
const original = WITH_ROOM + LINES.map((line) => `${line}\n`).join('');
const flat = (shown: string) => shown.replaceAll(/\s+/g, ' ');

function said(...args: string[]): Ran {
  return run([...args, '--ledger', path, '--as-of', NOW]);
}

/** The entries that a command would log. */
function would(...args: string[]): Record<string, unknown>[] {
  const { out, err } = said('reading', ...args, '--json', '--dry-run');
  expect(err).not.toContain('Cannot');
  return JSON.parse(out).data.readings.map(({ event }: { event: object }) => {
    const { id: _, at: __, what: ___, ...rest } = event as Record<string, unknown>;
    return rest;
  });
}

beforeEach(() => {
  path = ledgerOf(LINES, WITH_ROOM);
});

describe('each instrument', () => {
  it.each<[string[], object]>([
    [['--density', '0.803', '--temp', '21'], { density_g_ml: 0.803, temp_c: 21 }],
    [['--density', '0.80312 g/mL', '--temp', '72 F'], { density_g_ml: 0.80312, temp_c: 22.2222 }],
    [['--density', '0,803', '--glass', '20'], { density_g_ml: 0.803, t_ref_c: 20 }],
    [['--sg', '0.806'], { sg: 0.806, sg_ref: '20/20' }],
    [
      ['--sg', '0.789', '--ref', '60/60F', '--glass', '60 F', '--temp', '21'],
      { sg: 0.789, sg_ref: '60/60F', temp_c: 21, t_ref_c: 15.5556 },
    ],
    [['--brix', '31.2', '--sd', '0.2'], { brix: 31.2, sd: 0.2 }],
    [['--brix', '31.2 %'], { brix: 31.2 }],
    [['--index', '1.38012', '--temp', '20 °C'], { refractive_index: 1.38012, temp_c: 20 }],
    [['--dry', '0.081', '--sample', '10'], { residue: { sample_ml: 10, dry_g: 0.081 } }],
    [['--dry', '81 mg', '--sample', '1 cL'], { residue: { sample_ml: 10, dry_g: 0.081 } }],
    [['--dry', '0', '--sample', '10 mL', '--sd', '0.1 %'], { residue: { sample_ml: 10, dry_g: 0 }, sd: 0.1 }],
    [['--resin', '5.2'], { resin_wt_pct: 5.2 }],
    [['--resin', '5.2 wt%'], { resin_wt_pct: 5.2 }],
    [['--level', '3.9 L', '--sd', '50 mL'], { level_ml: 3900, sd: 50 }],
    // 1 US gallon = 231 in³ = 3785.411784 mL, NIST SP 811 B.8.
    [['--level', '1 gal'], { level_ml: 3785.4118 }],
    [['--weight', '3100 g'], { weight_g: 3100 }],
    // 1 lb = 453.59237 g, NIST SP 811 B.8.
    [['--weight', '7 lb', '--sd', '5'], { weight_g: 3175.1466, sd: 5 }],
  ])('%j is logged as %j', (args, keys) => {
    expect(would('dirty', ...args)).toEqual([{ bath: 'dirty', ...keys }]);
  });

  it.each<[string[], string]>([
    [['--density', '0.803', '--temp', '21'], 'dirty: density 0.8030 g/mL at 21.0 °C'],
    [['--density', '0.803'], 'dirty: density 0.8030 g/mL at 21.0 °C (room)'],
    [['--sg', '0.806', '--ref', '25/25', '--temp', '77 F'], 'dirty: SG 0.8060 25/25 at 25.0 °C'],
    [['--index', '1.3801', '--sd', '0.0005'], 'dirty: refractive index 1.3801 at 21.0 °C (room), ± 0.0005'],
    [['--dry', '81 mg', '--sample', '10'], 'dirty: residue 0.081 g of 10 mL'],
    [['--level', '3.9 L'], 'dirty: level 3.90 L'],
    [['--weight', '3.1 kg'], 'dirty: weight 3100 g'],
  ])('%j is told as "%s"', (args, words) => {
    const { code, out } = said('reading', 'dirty', ...args);
    expect(code).toBe(0);
    expect(`${flat(out)} `).toContain(`${words} `);
  });

  it('has the ledger line in the order of its keys, which the list of entries shows', () => {
    said('reading', 'Dirty', '--temp', '21', '--density', '0.803', '--by', 'NB', '--note', 'stirred');
    expect(text().slice(original.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: 2026-11-20T17:00:00-04:00, what: reading, bath: dirty, density_g_ml: 0\.803, temp_c: 21, by: "NB", note: "stirred"\}\n$/,
    );
    expect(said('entries', '--what', 'reading').out).toContain('dirty: density 0.8030 g/mL at 21.0 °C');
  });

  it('keeps a temperature only where the reading uses it', () => {
    expect(would('dirty', '--density', '0.803', '--resin', '5', '--weight', '3100', '--temp', '21')).toEqual([
      { bath: 'dirty', density_g_ml: 0.803, temp_c: 21 },
      { bath: 'dirty', resin_wt_pct: 5 },
      { bath: 'dirty', weight_g: 3100 },
    ]);
  });
});

describe('the temperature', () => {
  it('of the room is taken and told, and not written as if it had been measured', () => {
    const { err, out } = said('reading', 'dirty', '--density', '0.803', '--brix', '31.2', '--json');
    expect(err).toContain("taken at the room's 21 °C; 5 °C warmer reads 0.004 g/mL and 1.3 °Brix less");
    expect(JSON.parse(out).data.readings).toMatchObject([
      { temp_c: 21, temp_from: 'room' },
      { temp_c: 21, temp_from: 'room' },
    ]);
    expect(text()).not.toContain('temp_c');
  });

  it('is not asked for where it does not matter', () => {
    path = ledgerOf();
    const { code, err, out } = said('reading', 'dirty', '--level', '3.9 L', '--resin', '2', '--json');
    expect(code).toBe(0);
    expect(err).not.toContain('temperature of the liquid');
    expect(JSON.parse(out).data.readings).toMatchObject([
      { temp_c: null, temp_from: 'none' },
      { temp_c: null, temp_from: 'none' },
    ]);
  });

  it.each([
    ['--density', '0.803'],
    ['--sg', '0.806'],
    ['--brix', '31.2'],
    ['--index', '1.3801'],
  ])('must be given with %s %s where the ledger does not give that of the room', (option, value) => {
    path = ledgerOf();
    const refused = said('reading', 'dirty', option, value);
    expect(refused.code).toBe(64);
    expect(refused.err).toContain(`Cannot log ${option} without the temperature of the liquid`);
    expect(refused.err).toContain('help: Add it, like --temp 21');
    expect(said('reading', 'dirty', option, value, '--temp', '21').code).toBe(0);
  });

  it('that is 5 °C off changes a reading as told', () => {
    const { err } = said(
      ...['reading', 'dirty', '--density', '0.803', '--sg', '0.806', '--brix', '31.2', '--index', '1.3801'],
    );
    const told = /reads (\S+) g\/mL and (\S+) and (\S+) °Brix and (\S+) less/.exec(err)!.slice(1).map(Number);
    const less = (read: (tempC: number) => number) => read(21) - read(26);
    const density = less((tempC) => mixtureDensity(0.995, tempC));
    const index = less((tempC) => solventIndex(0.995, tempC));
    const brix = less((tempC) => brixFromIndex(solventIndex(0.995, tempC)));
    for (const [place, real] of [density, density, brix, index].entries()) {
      expect(Math.abs(told[place]! / real - 1)).toBeLessThan(0.12);
    }
  });
});

describe('several instruments at once', () => {
  const both = ['reading', 'dirty', '--density', '0.803', '--brix', '31.2', '--temp', '21'];

  it('become an entry each, of the same time, in one write', () => {
    const { code, out, err } = said(...both);
    // Hardly anything was washed: both are too far off, and said to be.
    expect(code).toBe(0);
    expect(err.match(/standard deviations from what was expected/g)).toHaveLength(2);
    const lines = text().slice(original.length).trimEnd().split('\n');
    expect(lines).toHaveLength(2);
    const [first, second] = lines.map((line) => /id: "(\w+)", at: 2026-11-20T17:00:00-04:00/.exec(line)![1]!);
    expect(first).not.toBe(second);
    expect(out).toContain(`${first}, ${second} at 2026-11-20 17:00`);
    expect(flat(out)).toContain('dirty: density 0.8030 g/mL at 21.0 °C; 31.2 °Brix at 21.0 °C');
  });

  it('are undone by the commands that are told', () => {
    const { undo } = JSON.parse(said(...both, '--json').out).data;
    expect(undo).toMatch(/^bathbook undo \w+ && bathbook undo \w+$/);
    for (const command of undo.split(' && ')) expect(said(...command.split(' ').slice(1)).code).toBe(0);
    expect(text()).toBe(original);
  });

  it('are logged all or none', () => {
    const refused = said('reading', 'dirty', '--density', '0.803', '--brix', '58', '--temp', '21');
    expect(refused.code).toBe(64);
    expect(text()).toBe(original);
  });

  it('write nothing on a dry run', () => {
    const { out } = said(...both, '--dry-run');
    expect(out).toContain('would log');
    expect(out).toContain('dry run, nothing was written');
    expect(text()).toBe(original);
  });

  it('can be logged for an earlier time, and that is told', () => {
    const { code, err } = said(...both, '--at', '2026-11-18 12:00');
    expect(code).toBe(0);
    expect(err).toContain('The readings lie before others in the ledger');
    const lines = text().slice(original.length).trimEnd().split('\n');
    for (const line of lines)
      expect(line).toMatch(/at: 2026-11-18T12:00:00-04:00.*logged: 2026-11-20T17:00:00/);
  });
});

describe('a reading that is corrected', () => {
  const id = () => /id: "(\w+)"/.exec(text().slice(original.length))![1]!;

  it('is undone as if it had never been', () => {
    said('reading', 'clean', '--level', '3.9 L');
    expect(said('undo').code).toBe(0);
    expect(text()).toBe(original);
  });

  it('takes an amended value, held against the same ranges', () => {
    said('reading', 'dirty', '--density', '0.813', '--temp', '21');
    const good = said('amend', id(), 'density_g_ml=0.803', 'temp_c=70 F', '--why', 'misread');
    expect(good.code).toBe(0);
    expect(flat(good.out)).toContain('density_g_ml 0.813 → 0.803; temp_c 21 → 21.1111');
    expect(said('entries', '--what', 'reading').out).toContain(
      'dirty: density 0.8030 g/mL at 21.1 °C; amended by',
    );
    const bad = said('amend', id(), 'density_g_ml=803', '--why', 'misread');
    expect(bad.code).toBe(65);
    expect(bad.err).toContain('cannot take density_g_ml: 803, allowed is 0.7 to 1.25 g/mL');
    expect(bad.err).toContain('help: 803 is in kg/m³: write density_g_ml: 0.803');
  });

  it('of a level is held against the brim when amended, too', () => {
    said('reading', 'dirty', '--level', '3.9 L');
    const bad = said('amend', id(), 'level_ml=7 L', '--why', 'misread');
    expect(bad.code).toBe(65);
    expect(bad.err).toContain('holds 6340 mL up to the brim');
  });
});
