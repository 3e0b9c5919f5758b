/** The commands of the bench as a person or a program runs them: numbers against the golden cases, notes, bad input. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
const folder = tempFolder();
const golden = new URL('../golden/', import.meta.url);
const MOVING = ['fill', 'wash', 'top-up', 'drain', 'rotate', 'refill'];
const CLOCK = '2026-11-20T17:00:00-04:00';

const HEAD = `format: bathbook/1
shop:
  name: Test Bench
  timezone: America/Halifax
baths:
  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}
`;
const FILLED = `events:
  - {id: "fill1", at: 2026-11-16T07:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000}
  - {id: "fill2", at: 2026-11-16T07:01:00-04:00, what: fill, bath: clean, solvent: ipa99, ml: 4000}
`;

let made = 0;
function ledger(text: string): string {
  made += 1;
  const path = join(folder, `bench-${made}.yaml`);
  writeFileSync(path, text);
  return path;
}

function on(path: string, ...args: string[]) {
  return run([...args, '--ledger', path, '--as-of', CLOCK]);
}

describe('entries --states --json against the golden cases (an independent implementation)', () => {
  it.each(readdirSync(golden).filter((name) => name.endsWith('.yaml')))('%s', (name) => {
    const expected = JSON.parse(
      readFileSync(new URL(name.replace('.yaml', '.expected.json'), golden), 'utf8'),
    );
    const path = new URL(name, golden).pathname;
    const { out, code } = run(['entries', '--states', '--json', '--ledger', path, '--as-of', expected.as_of]);
    expect(code).toBe(0);
    const { entries } = JSON.parse(out).data;
    const moving = entries.filter(({ what }: { what: string }) => MOVING.includes(what));
    expect(moving.map(({ id }: { id: string }) => id)).toEqual(
      expected.after.map(({ id }: { id: string }) => id),
    );
    for (const [place, wanted] of expected.after.entries()) {
      for (const bath of ['dirty', 'clean']) {
        for (const [key, value] of Object.entries(moving[place].state[bath])) {
          const goal = wanted[bath][key];
          if (goal === null) expect(value).toBeNull();
          else {
            const gap = Math.abs((value as number) - goal) / Math.max(Math.abs(goal), 0.001);
            expect(gap, `${wanted.id} ${bath} ${key}`).toBeLessThanOrEqual(expected.tolerance_relative);
          }
        }
      }
    }
  });
});

describe('wash', () => {
  it('says what it understood, and the ledger line can be read by another parser', () => {
    const path = ledger(HEAD + FILLED);
    const { out, code } = on(
      path,
      'wash',
      '6',
      'models',
      '2',
      'mask',
      '--drained',
      'overnight',
      '--case',
      '007',
    );
    expect(code).toBe(0);
    expect(out).toContain('6 model + 2 mask');
    expect(out).toContain('drained 12 h');
    expect(readFileSync(path, 'utf8').trimEnd().split('\n').at(-1)).toMatch(
      /what: wash, parts: \{model: 6, mask: 2\}, drained_min: 720, cases: \["007"\]\}$/,
    );
  });

  it.each([
    [['6model', '2mask'], { model: 6, mask: 2 }],
    [['model=6'], { model: 6 }],
    [['model', '6', 'mask', '2'], { model: 6, mask: 2 }],
    [['4', 'hollow', 'models'], { 'hollow-model': 4 }],
    [['Model'], { model: 1 }],
    [['2', 'model', '3', 'model'], { model: 5 }],
  ])('reads the load %j', (words, parts) => {
    const { out } = on(ledger(HEAD + FILLED), 'wash', ...words, '--json', '--dry-run');
    expect(JSON.parse(out).data.event.parts).toEqual(parts);
  });

  it.each([
    [['6'], 'no part comes with "6"'],
    [['6', '2', 'mask'], '"6" is no count'],
    [['0', 'model'], '"0" is no count'],
    [['2.5', 'model'], '"2.5" is no count'],
    [['6', 'modle'], 'named "modle"'],
    [[], 'without a load'],
  ])('refuses the load %j and says why', (words, why) => {
    const path = ledger(HEAD + FILLED);
    const { err, code } = on(path, 'wash', ...words);
    expect(code).toBe(64);
    expect(err).toContain(why);
    expect(err).toContain('Not logged: ');
    expect(readFileSync(path, 'utf8')).toBe(HEAD + FILLED);
  });

  it('notes a load logged twice, a long soak, thin parts, an overflow and an odd way through the baths', () => {
    const path = ledger(HEAD + FILLED);
    on(path, 'wash', '4', 'model');
    expect(on(path, 'wash', '4', 'model').err).toContain('The same load was logged as');
    expect(on(path, 'wash', '4', 'mask', '--minutes', '9,9').err).toMatch(
      /18 min of soak[\s\S]*mask: thin parts/,
    );
    expect(on(path, 'wash', '100', 'model').err).toMatch(
      /3\.20 L of parts in the dirty bath would overflow its 6\.34 L/,
    );
    expect(on(path, 'wash', '1', 'die', '--in', 'clean,dirty').err).toContain('The dirty bath is the last');
    expect(on(path, 'wash', '1', 'die', '--in', 'clean').err).toContain('without the dirty one');
  });

  it.each([
    ['6 g', { carry_g: 6 }],
    ['2 fl oz', { carry_ml: 59.1471 }],
    ['1 litre', { carry_ml: 1000 }],
    ['5', { carry_g: 5 }],
  ])('takes a measured carry-over of %s', (amount, keys) => {
    const { out } = on(ledger(HEAD + FILLED), 'wash', '6', 'model', '--carry', amount, '--json', '--dry-run');
    expect(JSON.parse(out).data.event).toMatchObject(keys);
  });
});

describe('moves', () => {
  it.each([
    ['1', '500', 'mL'],
    ['1', 'L', '500', 'mL'],
    ['1', 'gal', '1', 'qt'],
    ['4', 'L', 'ipa99', 'ipa91'],
  ])('refuse two amounts or two solvents: %s %s %s %s', (...words) => {
    const path = ledger(`${HEAD}events:\n`);
    const { code } = on(path, 'fill', 'dirty', ...words.filter((word) => word !== undefined), 'ipa99');
    expect(code).toBe(64);
  });

  it('note what flows over, stands far below the mark, or is watery as poured', () => {
    const empty = ledger(`${HEAD}events:\n`);
    expect(on(empty, 'fill', 'dirty', '5', 'gal', 'ipa99').err).toContain('would overflow its 6.34 L');
    expect(on(empty, 'fill', 'clean', '4', 'ipa99').err).toContain('4 mL is far below the mark');
    const filled = ledger(HEAD + FILLED);
    expect(on(filled, 'refill', 'clean', '--solvent', 'ipa91').err).toMatch(/ipa91 holds 12\.6 wt% water/);
    expect(on(ledger(HEAD + FILLED), 'rotate').err).toContain('Nothing was washed since the last change');
  });

  it('note what is poured beyond the stock, once more was poured than came in', () => {
    const received =
      '  - {id: "stock1", at: 2026-11-16T06:00:00-04:00, what: stock, solvent: ipa99, received_ml: 10000}\n';
    const path = ledger(`${HEAD}${FILLED.replace('events:\n', `events:\n${received}`)}`);
    // 10 L came in, 8 L were poured; another litre is left of the next one, and 4 L then lack 3.
    expect(on(path, 'top-up', 'dirty', '1', 'L').err).not.toContain('more ipa99');
    expect(on(path, 'refill', 'clean').err).toContain(
      'With this, 3.00 L more ipa99 is poured than the ledger knows of; log what came in (bathbook stock received ipa99 10 L) or a count',
    );
    // Without any stock logged nothing is known.
    expect(on(ledger(HEAD + FILLED), 'refill', 'clean').err).not.toContain('more ipa99');
  });

  it('note a container that takes less than is put in, and one that is named like another', () => {
    const opened =
      '  - {id: "open1", at: 2026-11-16T06:00:00-04:00, what: waste, container: "can-1", action: opened, capacity_l: 3}\n';
    const path = ledger(`${HEAD}${FILLED.replace('events:\n', `events:\n${opened}`)}`);
    const drained = (amount: string, into: string) =>
      on(path, 'drain', 'dirty', amount, '--into', into, '--dry-run').err;
    expect(drained('2.9 L', 'can-1')).toBe('');
    expect(drained('3.2 L', 'can-1')).toContain('can-1 takes 3.00 L and would hold 3.20 L with this');
    for (const slip of ['can1', 'Can-1', 'cann-1'])
      expect(drained('1 L', slip), slip).toContain(
        `No container "${slip}" was in use, and so it is a new one; did you mean "can-1"?`,
      );
    for (const own of ['can-2', 'drum-1']) expect(drained('1 L', own), own).toBe('');
  });

  it('note what stands far above the mark, and how to take it off', () => {
    const { err } = on(ledger(HEAD + FILLED), 'top-up', 'dirty', '1.5', 'L');
    expect(err).toMatch(
      /5\.\d\d L stands 1\.\d\d L above the mark of the dirty bath; to take it off: bathbook drain dirty to mark/,
    );
    expect(on(ledger(HEAD + FILLED), 'top-up', 'dirty', '0.3', 'L').err).toBe('');
  });

  it('are refused with the day that was understood', () => {
    expect(on(ledger(HEAD + FILLED), 'wash', '1', 'model', '--at', 'sunday 9:10').err).toContain(
      'empty at that time, Sun 2026-11-15 09:10',
    );
  });

  it('say that the baths are shown as they are now, where an entry is of an earlier time', () => {
    const at = (time: string) =>
      on(ledger(HEAD + FILLED), 'top-up', 'dirty', '100', 'mL', '--at', time).out.replaceAll(/\s+/g, ' ');
    expect(at('2026-11-18 08:00')).toContain(
      'now the baths as of now, without it → with it dirty 0.00 wt%; 3.91 →',
    );
    expect(at('2026-11-20 16:30')).not.toContain('as of now');
  });

  it('tell apart what a rotation pours into each bath', () => {
    const { out } = on(ledger(HEAD + FILLED), 'rotate', '--ml', '3.8 L', '--dry-run');
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /clean becomes dirty \(and \S+ m?L of ipa99 up to its mark\), clean filled with 3\.80 L/,
    );
  });

  it('write names in the capitals of the ledger', () => {
    const { out } = on(ledger(`${HEAD}events:\n`), 'fill', 'Dirty', '4', 'L', 'IPA99', '--json', '--dry-run');
    expect(JSON.parse(out).data.event).toMatchObject({ bath: 'dirty', solvent: 'ipa99', ml: 4000 });
  });
});

describe('baths', () => {
  it('exits with 3 when a bath cannot be judged', () => {
    expect(on(ledger(`${HEAD}events:\n`), 'baths', '--exit-code', '--quiet')).toMatchObject({
      code: 3,
      out: '',
    });
    const wash = '  - {id: "early", at: 2026-11-15T07:00:00-04:00, what: wash, parts: {model: 6}}\n';
    expect(on(ledger(HEAD + FILLED + wash), 'baths', '--exit-code').code).toBe(3);
  });

  it('tells no more than twenty problems', () => {
    const voids = Array.from(
      { length: 500 },
      (_, n) => `  - {id: "v${n}", at: 2026-11-17T07:00:00-04:00, what: void, of: "none${n}", why: "x"}\n`,
    );
    const { err, code } = on(ledger(HEAD + FILLED + voids.join('')), 'baths');
    expect(code).toBe(65);
    expect(err.match(/the ledger has no event/g)).toHaveLength(20);
    expect(err).toContain('and 480 more');
  });

  it('lets nothing from the ledger steer the terminal', () => {
    const wash =
      '  - {id: "w1", at: 2026-11-17T07:00:00-04:00, what: wash, parts: {model: 6}, cases: ["\\u001b[5m"], by: "\\u001b]0;x\\u0007", note: "\\u202e"}\n';
    const path = ledger(HEAD.replace('Test Bench', '"\\u001b[31mBench"') + FILLED + wash);
    for (const args of [
      ['entries'],
      ['entries', '--states'],
      ['baths'],
      ['undo', 'w1', '--why', 'x', '--dry-run'],
    ]) {
      const { out, err } = on(path, ...args);
      expect(out.length).toBeGreaterThan(0);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
      expect(out + err).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
    }
  });
});

describe('what was logged for an earlier time', () => {
  it('is shown by what it makes of the baths now', () => {
    const { out } = on(
      ledger(`${HEAD}events:\n`),
      'fill',
      'clean',
      '2',
      'L',
      'ipa99',
      '--at',
      '2026-10-01 08:00',
    );
    const [, now] = /^clean +empty → \S+ wt%.*0\.00 → (\S+) L/m.exec(out)!;
    // Seven weeks take more than a tenth of two litres: about 12 mL a day for half the surface (DEFAULTEVAP in data/SOURCES.md).
    expect(Number(now)).toBeLessThan(1.8);
  });
});

describe('a clock behind the last event', () => {
  it('is told, and the entry is kept', () => {
    const path = ledger(HEAD + FILLED);
    on(path, 'wash', '2', 'model');
    const late = run(['wash', '1', 'die', '--ledger', path, '--as-of', '2026-11-18T09:00:00-04:00']);
    expect(late.code).toBe(0);
    expect(late.err).toContain(
      'events up to 2026-11-20 17:00, after the clock of this command (2026-11-18 09:00)',
    );
    expect(readFileSync(path, 'utf8')).toContain('parts: {die: 1}');
  });
});

describe('hints', () => {
  it('name the ledger that was named', () => {
    const path = ledger(HEAD + FILLED);
    expect(on(path, 'wash', '1', 'die').out).toMatch(/to undo\s+bathbook undo \S+ --ledger \S+\.yaml/);
  });
});

describe('entries', () => {
  it('has the baths as they stood at entries that move nothing, too', () => {
    const reading =
      '  - {id: "r1", at: 2026-11-18T07:00:00-04:00, what: reading, bath: dirty, density_g_ml: 0.79, temp_c: 22}\n';
    const { out } = on(ledger(HEAD + FILLED + reading), 'entries', '--states', '--json');
    const { entries } = JSON.parse(out).data;
    expect(entries[2].state.dirty.ipa_g).toBeLessThan(entries[1].state.dirty.ipa_g);
    // Fresh solvent of 99.5 wt% has 0.785 g/mL at 22 °C (CHU1962): 0.790 is four times the error of a hydrometer off.
    expect(entries[2].compared).toMatchObject({ sees: 'density', value: 0.79, flagged: true });
  });

  it('refuses a kind it does not know', () => {
    const { err, code } = on(ledger(HEAD + FILLED), 'entries', '--what', 'washs');
    expect(code).toBe(64);
    expect(err).toContain('Did you mean "wash"?');
  });
});

describe('the head over the catalogue', () => {
  it('adds a key to a solvent or a part and leaves the rest', () => {
    const own = `${HEAD}solvents: {ipa91: {price_per_l: 6.2}}\nparts: {model: {shape: solid}}\n`;
    const path = ledger(own + FILLED.replaceAll('ipa99', 'ipa91'));
    const baths = JSON.parse(on(path, 'baths', '--json').out).data.baths;
    // 91 vol% is 12.6 wt% water: data/SOURCES.md, USP28; a day or so of air changes it little.
    expect(baths[0].water_wt_pct.p50).toBeCloseTo(12.6, 0);
    const strong = ledger(HEAD + FILLED);
    const plain = JSON.parse(on(strong, 'wash', '6', 'model', '--json', '--dry-run').out).data;
    const overridden = JSON.parse(
      on(ledger(own + FILLED), 'wash', '6', 'model', '--json', '--dry-run').out,
    ).data;
    expect(overridden.area_cm2).toBe(plain.area_cm2);
    expect(overridden.carry_g).toEqual(plain.carry_g);
  });
});
