/** `weighed`: which wash a weighed load belongs to, and what is refused. */
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, type Ran, runner } from './bundle.ts';

const run = runner(bundled());
let path: string;
const text = () => readFileSync(path, 'utf8');
const original = HEAD + LINES.map((line) => `${line}\n`).join('');
const WEIGHTS = ['--wet', '412.3', '--clean', '409.1'];

function said(...args: string[]): Ran {
  return run([...args, '--ledger', path, '--as-of', NOW]);
}

/** The wash that a weighing would belong to. */
function washOf(...args: string[]): string {
  const { out, err } = said('weighed', ...args, ...WEIGHTS, '--json', '--dry-run');
  expect(err).not.toContain('Cannot');
  return JSON.parse(out).data.event.wash;
}

beforeEach(() => {
  path = ledgerOf();
});

describe('weighed', () => {
  it('belongs to the last wash, and says which that is and what came off', () => {
    const { code, out } = said('weighed', ...WEIGHTS, '--by', 'NB');
    expect(code).toBe(0);
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /wash wash5 of 2026-11-19 16:40 \(3 splint, .*\): 412\.3 g wet, 409\.1 g clean, 3\.2 g came off/,
    );
    expect(text().slice(original.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: 2026-11-20T17:00:00-04:00, what: weighed, wash: "wash5", wet_g: 412\.3, clean_g: 409\.1, by: "NB"\}\n$/,
    );
    expect(said('entries', '--what', 'weighed').out).toContain(
      'wash wash5: 412.3 g wet, 409.1 g clean, 3.2 g came off',
    );
  });

  it('takes weights in other units, and gives the difference to programs', () => {
    const { out } = said('weighed', 'k3f9x', '--wet', '0.4123 kg', '--clean', '409100 mg', '--json');
    const { data } = JSON.parse(out);
    expect(data.event).toMatchObject({ wash: 'k3f9x', wet_g: 412.3, clean_g: 409.1 });
    expect(data).toMatchObject({ came_off_g: 3.2, wash: { id: 'k3f9x', drained_min: 30 }, dry_run: false });
  });

  it('belongs to no wash from memory, unless that is named', () => {
    path = ledgerOf([
      ...LINES,
      LINES.at(-1)!.replace('wash5', 'guess').replace('16:40', '16:50').replace(/}$/, ', estimated: true}'),
    ]);
    expect(text()).toMatch(/"guess".*estimated: true/);
    expect(washOf()).toBe('wash5');
    expect(washOf('guess')).toBe('guess');
  });

  it('belongs to the last wash before its own time, that counts', () => {
    expect(washOf()).toBe('wash5');
    expect(washOf('--at', '2026-11-18 12:00')).toBe('k3f9x');
    expect(washOf('k3f9x')).toBe('k3f9x');
    said('void', 'wash5', '--why', 'entered twice');
    expect(washOf()).toBe('k3f9x');
  });

  it('goes by the time of a wash as amended', () => {
    said('amend', 'k3f9x', 'at=2026-11-20 09:00', '--why', 'wrong day');
    expect(washOf()).toBe('k3f9x');
  });

  it('is undone as if it had never been, and notes a load weighed twice', () => {
    const first = JSON.parse(said('weighed', ...WEIGHTS, '--json').out).data.event.id;
    expect(said('weighed', ...WEIGHTS, '--dry-run').err).toContain(
      `The load of wash5 was weighed already, as ${first}`,
    );
    said('undo');
    expect(text()).toBe(original);
  });

  it('takes an amended weight', () => {
    const { id } = JSON.parse(said('weighed', ...WEIGHTS, '--json').out).data.event;
    expect(said('amend', id, 'wet_g=413 g', '--why', 'misread').code).toBe(0);
    const bad = said('amend', id, 'clean_g=420', '--why', 'misread');
    expect(bad.code).toBe(65);
    expect(bad.err).toContain('the washed load weighs more than the wet one');
  });

  it.each<[string[], string, string]>([
    [['k3f9', ...WEIGHTS], 'Cannot find a wash with the id "k3f9"', 'Did you mean "k3f9x"?'],
    [['zzz', ...WEIGHTS], 'Cannot find a wash with the id "zzz"', 'bathbook entries --what wash'],
    [['fill2', ...WEIGHTS], 'id "fill2", that entry is a fill', 'bathbook entries --what wash'],
    [
      ['wash5', ...WEIGHTS, '--at', '2026-11-19 16:00'],
      'at 2026-11-19 16:00, its wash "wash5" was at 2026-11-19 16:40',
      'after the wash',
    ],
    [[...WEIGHTS, '--at', '2026-11-16 12:00'], 'no wash was logged before it', 'bathbook wash'],
    [['--wet', '412.3'], 'without --clean', 'Both weights'],
    [['--clean', '412.3'], 'without --wet', 'Both weights'],
    [
      ['--wet', '400', '--clean', '409.1'],
      'the washed load weighs more than the wet one (400 g)',
      'dry until',
    ],
    [['--wet', '40.91', '--clean', '412.3'], 'weighs more than the wet one', 'exchanged?'],
    [
      ['--wet', '0.4123', '--clean', '409.1'],
      'weighs more than the wet one',
      '0.4123 kg is 412.3 g: write --wet "0.4123 kg"',
    ],
    [['--wet', '0', '--clean', '0'], 'Cannot use --wet "0", allowed is above 0', 'unit'],
    [['--wet', '4 L', '--clean', '409'], 'Cannot read "4 L" as a mass', 'Units are'],
  ])('%j is refused: %s', (args, message, help) => {
    const { code, out, err } = said('weighed', ...args);
    expect(err).toContain(message);
    expect(err.split('help: ')[1]).toContain(help);
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(text()).toBe(original);
  });

  it('teaches no more once its wash is voided, and teaches again when the void is', () => {
    const factors = () => JSON.parse(said('calibrate', '--json').out).data;
    const before = factors();
    said('weighed', ...WEIGHTS);
    const taught = factors();
    expect(taught.readings).toHaveLength(1);
    expect(taught.factors).not.toEqual(before.factors);
    const voided = said('void', 'wash5', '--why', 'entered twice', '--json');
    expect(voided.code).toBe(0);
    expect(factors()).toMatchObject({ readings: [], factors: before.factors });
    expect(said('calibrate').out).toContain('The factors are default, not calibrated.');
    // The weighing itself still stands in the list.
    expect(said('entries', '--what', 'weighed').out).toContain('wash wash5');
    expect(said('void', JSON.parse(voided.out).data.event.id, '--why', 'was no duplicate').code).toBe(0);
    expect(factors()).toEqual(taught);
  });

  it('refuses a wash that no longer counts, with the void that says so', () => {
    said('void', 'wash5', '--why', 'entered twice');
    const { code, err } = said('weighed', 'wash5', ...WEIGHTS);
    expect(code).toBe(64);
    expect(err).toContain('it no longer counts since the void');
  });
});
