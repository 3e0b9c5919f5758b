/** `calibrate`: what it says to a shop that has measured nothing, with what it owns, and whether its promise is kept. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, ledgerOf, runner } from './bundle.ts';

const run = runner(bundled());
const SHOP = HEAD.replace('baths:', '  room_c: 21\nbaths:');
const FILLS = ['dirty', 'clean'].map(
  (bath) =>
    `  - {id: "fill${bath[0]}", at: 2026-11-16T08:00:00-04:00, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}`,
);
/** Two days of four equal loads. */
const WASHES = [17, 18].flatMap((day) =>
  ['09', '11', '14', '16'].map(
    (hour) =>
      `  - {id: "wash${day}${hour}", at: 2026-11-${day}T${hour}:20:00-04:00, what: wash, parts: {model: 6}}`,
  ),
);
const BENCH = [...FILLS, ...WASHES];
const MORNING = '2026-11-19T08:00:00-04:00';
const NOON = '2026-11-19T12:00:00-04:00';
const flat = (shown: string) => shown.replaceAll(/\s+/g, ' ');
const DEMANDED = /Log it[^:]*: (bathbook (?:reading|weighed) [^(]+?)(?: \(| \d\. | Caution| or )/;

interface Quantity {
  p05: number;
  p50: number;
  p95: number;
}

interface Measured {
  kind: string;
  bath: string | null;
  with: string;
  band_left: number;
}

interface Document {
  factors: { name: string; prior: Quantity; now: Quantity; readings: number }[];
  readings: { id: string; flagged: boolean }[];
  loads_left: Quantity | null;
  measurements: Measured[];
  next: (Measured & { title: string; needs: string; steps: string[]; cautions: string[] }) | null;
}

/** What a command prints of a ledger, as a person reads it. */
function said(path: string, asOf: string, ...args: string[]): string {
  const { code, out, err } = run([...args, '--ledger', path, '--as-of', asOf]);
  expect(err).not.toContain('fault of its own');
  expect(code).toBe(0);
  return out;
}

function told(path: string, asOf = MORNING, ...tools: string[]): Document {
  return JSON.parse(said(path, asOf, 'calibrate', ...tools, '--json')).data;
}

function factor(document: Document, name: string) {
  return document.factors.find((one) => one.name === name)!;
}

const width = ({ p05, p95 }: Quantity) => Math.log(p95 / p05);

describe('a shop that has measured nothing', () => {
  const path = ledgerOf(BENCH, SHOP);
  const text = flat(said(path, MORNING, 'calibrate'));

  it('is told so, and which measurement to make, with its steps, its cautions and the command', () => {
    const { next, measurements, readings } = told(path);
    expect(text).toContain('The factors are default, not calibrated.');
    expect(readings).toEqual([]);
    expect(next).toMatchObject(measurements[0]!);
    expect(text).toContain(`What tells most: ${next!.title}. Needs ${next!.needs}.`);
    next!.steps.forEach((step, nth) => {
      expect(text).toContain(`${nth + 1}. ${step}`);
    });
    expect(next!.steps.length).toBeGreaterThanOrEqual(3);
    for (const caution of next!.cautions) expect(text).toContain(caution);
    expect(text).toMatch(/Caution: .*flammable/);
    expect(text).toMatch(/Caution: .*[Gg]loves/);
  });

  it('has every factor as the law has it, within a factor of about two either way', () => {
    const { factors } = told(path);
    expect(factors.map(({ name }) => name)).toEqual([
      'carry-over',
      'drag-out',
      'dissolution time',
      'evaporation, dirty',
      'moisture, dirty',
      'evaporation, clean',
      'moisture, clean',
    ]);
    for (const { now, prior, readings } of factors) {
      expect(readings).toBe(0);
      expect(now.p50).toBeCloseTo(1, 9);
      expect(width(now)).toBeCloseTo(width(prior), 9);
      // 1.645 standard deviations either way; those of MODEL are 0.35 to 0.7.
      expect(prior.p95).toBeGreaterThanOrEqual(Math.exp(1.64 * 0.35));
      expect(prior.p95).toBeLessThanOrEqual(Math.exp(1.65 * 0.7));
      expect(prior.p05 * prior.p95).toBeCloseTo(1, 9);
    }
  });

  it('is sorted by what tells most, and promises nothing above the whole', () => {
    const left = told(path).measurements.map((one) => one.band_left);
    expect(left).toEqual([...left].sort((one, other) => one - other));
    expect(left[0]).toBeGreaterThan(0);
    expect(left.at(-1)).toBeLessThanOrEqual(1);
    expect(left[0]).toBeLessThan(0.9);
  });

  it.each(['balance', 'refractometer', 'hydrometer', 'measure'])(
    'with a %s is told of that alone, and can type what it is told to log',
    (tool) => {
      const { next, measurements } = told(path, MORNING, tool);
      expect(next!.with).toBe(tool);
      expect(next).toMatchObject(measurements.find((one) => one.with === tool)!);
      const shown = flat(said(path, MORNING, 'calibrate', tool));
      if (next!.band_left > 0.99) {
        expect(tool).toBe('measure');
        expect(shown).toContain('Nothing to measure with measure would tell more now.');
        return;
      }
      expect(shown).toContain(`What tells most with ${tool}: ${next!.title}.`);
      const [, command] = DEMANDED.exec(`${shown} Caution`)!;
      const words = [...command!.matchAll(/"([^"]+)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare!);
      said(path, MORNING, ...words.slice(1), '--dry-run');
    },
  );

  it('with two instruments is told the better of the two, however they are written', () => {
    const { next, measurements } = told(path, MORNING, 'Measure', 'HYDROMETER');
    const owned = measurements.filter((one) => ['measure', 'hydrometer'].includes(one.with));
    expect(next).toMatchObject(owned[0]!);
  });

  it('has a document as its schema says, with and without instruments', () => {
    const schema = JSON.parse(run(['schema', 'calibrate']).out);
    const validate = new Ajv2020({ strict: false, allErrors: true, validateFormats: false }).compile(schema);
    for (const lines of [[], FILLS, BENCH]) {
      for (const tools of [[], ['hydrometer']]) {
        const document = JSON.parse(said(ledgerOf(lines, SHOP), MORNING, 'calibrate', ...tools, '--json'));
        validate(document);
        expect(validate.errors ?? []).toEqual([]);
      }
    }
    expect(validate({ schema: 'bathbook/calibrate/1', data: {} })).toBe(false);
  });

  it('keeps to the width of its terminal', () => {
    const { out } = run(['calibrate', '--ledger', path, '--as-of', MORNING], { env: { COLUMNS: '60' } });
    const wide = out.split('\n').filter((line) => line.length > 60 && !line.includes('\t'));
    // A command to type stays in one piece.
    expect(wide.filter((line) => !/: bathbook [a-z ]+$/.test(line))).toEqual([]);
  });
});

describe('an instrument that is none', () => {
  it.each([
    ['balanse', 'Did you mean "balance"?'],
    ['hydromter', 'Did you mean "hydrometer"?'],
    ['microscope', 'balance, refractometer, hydrometer, measure'],
  ])('%s is refused: %s', (typed, help) => {
    const { code, out, err } = run(['calibrate', typed, '--ledger', ledgerOf(BENCH, SHOP)]);
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(err).toContain(`Cannot find an instrument named "${typed}"`);
    expect(err.split('help: ')[1]).toContain(help);
  });
});

describe('a shop with little in it', () => {
  it('that is empty has nothing to measure, and is told to fill', () => {
    const path = ledgerOf([], SHOP);
    expect(said(path, MORNING, 'calibrate')).toContain('Fill a bath first');
    expect(told(path)).toMatchObject({ measurements: [], next: null, loads_left: null });
  });

  it('that washed nothing counts no loads, and no reading of fresh solvent tells of the carry-over', () => {
    const path = ledgerOf(FILLS, SHOP);
    expect(flat(said(path, MORNING, 'calibrate'))).toContain('as the loads left cannot be counted yet');
    const { loads_left: left, measurements } = told(path);
    expect(left).toBeNull();
    expect(measurements.map(({ kind }) => kind)).not.toContain('load');
    // What carries nothing in yet cannot be seen by any instrument.
    for (const { kind, band_left: band } of measurements) expect(band, kind).toBeGreaterThan(0.99);
  });

  it('that has one bath hears of that one', () => {
    const head = SHOP.replace(/ {2}clean: .*\n/, '');
    const lines = [
      FILLS[0]!,
      ...WASHES.map((line) => line.replace('}}', '}, baths: [dirty], minutes: [5]}')),
    ];
    const { measurements, factors, loads_left: left } = told(ledgerOf(lines, head));
    expect(new Set(measurements.map(({ bath }) => bath))).toEqual(new Set([null, 'dirty']));
    expect(factors.map(({ name }) => name).filter((name) => name.includes('clean'))).toEqual([]);
    expect(left!.p05).toBeGreaterThan(0);
  });

  it('that has three baths hears of each, a third that nothing was washed in tells nothing', () => {
    const tub = /clean: (.*)\n/.exec(SHOP)![1]!;
    const head = SHOP.replace('events:', `  final: ${tub}\nevents:`);
    const third = FILLS[1]!.replace('fillc', 'fill3').replace('clean', 'final');
    const { measurements } = told(ledgerOf([...FILLS, third, ...WASHES], head));
    expect(new Set(measurements.map(({ bath }) => bath))).toEqual(new Set([null, 'dirty', 'clean', 'final']));
    for (const { bath, kind, band_left: band } of measurements) {
      if (bath === 'final') expect(band, kind).toBeGreaterThan(0.99);
    }
  });
});

/** What an instrument would read if all were as expected, as options for `reading`. */
function asExpected(path: string, bath: string, kind: string): string[] {
  const options: Record<string, [string, number]> = {
    density: ['--density', 0.8],
    index: ['--index', 1.38],
    residue: ['--dry', 0.1],
  };
  const [option, guess] = options[kind]!;
  const sample = kind === 'residue' ? ['--sample', '10'] : [];
  const dry = ['reading', bath, option, String(guess), ...sample, '--dry-run', '--json'];
  const { value, expected } = JSON.parse(said(path, MORNING, ...dry)).data.compared[0];
  // A residue is weighed in grams and compared in wt%: the one goes with the other.
  const read = kind === 'residue' ? (guess * expected.p50) / value : expected.p50;
  return [bath, option, String(Math.round(read * 1e5) / 1e5), ...sample];
}

/** Logs one measurement at just what was expected, and tells the width of the loads left afterwards. */
function widthAfter({ kind, bath }: Measured): number {
  const path = ledgerOf(BENCH, SHOP);
  if (kind === 'load') {
    said(path, MORNING, 'wash', '6', 'model');
    const weighed = (cleanG: number) => ['weighed', '--wet', '300', '--clean', String(cleanG)];
    const dry = JSON.parse(said(path, NOON, ...weighed(290), '--dry-run', '--json'));
    said(path, NOON, ...weighed(300 - dry.data.compared[0].expected.p50));
  } else {
    said(path, MORNING, 'reading', ...asExpected(path, bath!, kind));
  }
  return width(told(path, NOON).loads_left!);
}

describe('what a measurement promises', () => {
  const before = told(ledgerOf(BENCH, SHOP));
  const PROMISED = [
    ['load', null],
    ['residue', 'dirty'],
    ['residue', 'clean'],
    ['density', 'dirty'],
  ] as const;

  it('is kept within 15 points when it is made, and in the order told', () => {
    const made = PROMISED.map(([kind, bath]) => {
      const one = before.measurements.find((each) => each.kind === kind && each.bath === bath)!;
      return {
        name: `${kind} ${bath}`,
        promised: one.band_left,
        kept: widthAfter(one) / width(before.loads_left!),
      };
    });
    for (const { name, promised, kept } of made) {
      expect(Math.abs(kept - promised), name).toBeLessThan(0.15);
    }
    const order = (by: 'promised' | 'kept') =>
      [...made].sort((a, b) => a[by] - b[by]).map(({ name }) => name);
    // Loads are counted whole, so those a few points apart may change places; the first is further ahead.
    expect(order('kept')[0]).toBe(order('promised')[0]);
    for (const one of made) {
      for (const other of made) {
        if (one.promised < other.promised - 0.05) expect(one.kept, one.name).toBeLessThan(other.kept);
      }
    }
  });

  it('is that of the measurement recommended: none of the others narrowed more', () => {
    const [best, ...others] = before.measurements;
    expect(before.next).toMatchObject(best!);
    const kept = widthAfter(best!);
    const rivals = others.filter(({ kind }) => ['load', 'residue', 'index', 'density'].includes(kind));
    for (const rival of rivals.slice(0, 3)) expect(kept, rival.kind).toBeLessThan(widthAfter(rival));
  });
});

describe('after a weighed load', () => {
  const path = ledgerOf(BENCH, SHOP);
  const before = told(path, NOON);
  const { id } = JSON.parse(
    said(path, MORNING, 'weighed', 'wash1816', '--wet', '312.4', '--clean', '305.1', '--json'),
  ).data.event;
  const after = told(path, NOON);

  it('the carry-over was taught by one, and is known better', () => {
    expect(factor(before, 'carry-over').readings).toBe(0);
    expect(factor(after, 'carry-over').readings).toBe(1);
    expect(after.readings.map((one) => one.id)).toEqual([id]);
    expect(flat(said(path, NOON, 'calibrate'))).toContain('The factors are calibrated by 1 reading.');
    expect(said(path, NOON, 'calibrate')).toMatch(/^carry-over\t1\.00 \(0\.48–2\.10\)\t\S+ \(\S+\)\t1$/m);
  });

  /**
   * One weighing is the carry-over times the wash's own scatter, 0.25, and 5 % of the balance: for normals on a log scale
   * var after = 1/(1/0.45² + 1/(0.25² + 0.05²)), mean after = ln(share) 0.45²/(0.45² + 0.25² + 0.05²). Standard deviations
   * of MODEL; the normal's own algebra. A long wash leaves nothing on the parts that the weighing could miss.
   */
  it.each([0.4, 1, 2.5])(
    'its estimate and band are those of the closed form, at %s of what was expected',
    (share) => {
      const long = WASHES.map((line) => line.replace('}}', '}, minutes: [40, 40]}'));
      const ledger = ledgerOf([...FILLS, ...long], SHOP);
      const weighed = ['weighed', '--wet', '300', '--json'];
      const dry = JSON.parse(said(ledger, NOON, ...weighed, '--clean', '296', '--dry-run')).data;
      said(ledger, NOON, ...weighed, '--clean', String(300 - share * dry.compared[0].expected.p50));
      const noise = 0.25 ** 2 + 0.05 ** 2;
      const sd = Math.sqrt(1 / (1 / 0.45 ** 2 + 1 / noise));
      const { now, prior } = factor(told(ledger, NOON), 'carry-over');
      expect(width(now) / width(prior) / (sd / 0.45)).toBeCloseTo(1, 2);
      expect(Math.log(now.p50)).toBeCloseTo((Math.log(share) * 0.45 ** 2) / (0.45 ** 2 + noise), 2);
    },
  );

  it('weighing another is promised to tell less than the first did', () => {
    const promised = ({ measurements }: Document) =>
      measurements.find(({ kind }) => kind === 'load')!.band_left;
    expect(promised(after)).toBeGreaterThan(promised(before));
  });
});
