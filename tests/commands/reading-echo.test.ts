/** What `reading` and `weighed` tell of the value they log: what was expected, what it would mean, what it taught. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { dataRows } from '../published/data-rows.ts';
import { bundled, HEAD, ledgerOf, runner } from './bundle.ts';

const run = runner(bundled());
const SHOP = HEAD.replace('baths:', '  room_c: 21\nbaths:');
const FILLS = ['dirty', 'clean'].map(
  (bath) =>
    `  - {id: "fill${bath[0]}", at: 2026-11-16T08:00:00-04:00, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}`,
);
/** Three days of large loads: between four and five wt% in the dirty bath. */
const WASHES = [17, 18, 19].flatMap((day) =>
  ['09', '11', '14', '16'].map(
    (hour) =>
      `  - {id: "wash${day}${hour}", at: 2026-11-${day}T${hour}:20:00-04:00, what: wash, parts: {model: 24}}`,
  ),
);
const NOW = '2026-11-20T08:00:00-04:00';
const flat = (shown: string) => shown.replaceAll(/\s+/g, ' ');

interface Band {
  p05: number;
  p50: number;
  p95: number;
}

interface Compared {
  sees: string;
  value: number;
  expected: Band;
  misfit_sd: number;
  flagged: boolean;
  as_resin_wt_pct: number | null;
  as_water_wt_pct: number | null;
  taught: string[];
}

interface Told {
  compared: Compared[];
  before: Record<string, { resin_wt_pct: number; water_wt_pct: number }>;
  baths: { bath: string; resin_wt_pct: Band }[];
  warnings: string[];
}

function shop(lines: readonly string[] = [...FILLS, ...WASHES]) {
  const path = ledgerOf(lines, SHOP);
  const said = (...args: string[]) => {
    const ran = run([...args, '--ledger', path, '--as-of', NOW]);
    expect(ran.err).not.toMatch(/fault of its own|Cannot/);
    return ran;
  };
  return {
    /** As a person reads it, notes after the echo. */
    text: (...args: string[]) => {
      const { out, err } = said(...args);
      return flat(`${out} ${err}`);
    },
    told: (...args: string[]): Told => JSON.parse(said(...args, '--json').out).data,
    said,
  };
}

/** A published value by its source, temperature and wt% of IPA. */
function published(file: string, source: string, key: string, at: Record<string, number>): number {
  const row = dataRows(file).find(
    (one) =>
      one.source === source && Object.entries(at).every(([name, value]) => Number(one[name]) === value),
  );
  return Number(row![key]);
}

/** Common practice, no source: what a wt% of resin adds to the density [g/mL] and to the index of the liquid. */
const RESIN_G_ML = 0.0023;
const RESIN_INDEX = 0.0008;

/** What a wt% of water adds to the density of strong IPA at 25 °C, g/mL. CHU1962, between 89.84 and 99.91 wt% IPA. */
const waterGMl = (() => {
  const at = (wt: number) =>
    published('ipa_water_density.csv', 'CHU1962', 'density_g_per_mL', { temp_C: 25, wt_pct_ipa: wt });
  return (at(89.84) - at(99.91)) / (99.91 - 89.84);
})();

describe('a density alone', () => {
  const { text, told } = shop();
  const options = (density: number) => [
    ...['reading', 'dirty', '--density', density.toFixed(4), '--temp', '25', '--dry-run'],
  ];
  const [first] = told(...options(0.795)).compared;

  it('is explained by resin or by water, each by as much as the trade and the tables say', () => {
    const high = first!.expected.p50 + 0.004;
    const { compared, before } = told(...options(high));
    const held = before.dirty!;
    const solvent = 1 - held.resin_wt_pct / 100;
    const resin = held.resin_wt_pct + 0.004 / RESIN_G_ML;
    const water = held.water_wt_pct + 0.004 / (waterGMl * solvent);
    expect(Math.abs(compared[0]!.as_resin_wt_pct! - resin)).toBeLessThan(0.4);
    expect(Math.abs(compared[0]!.as_water_wt_pct! - water)).toBeLessThan(0.2);
  });

  it('names both in one breath, and the temperature', () => {
    const high = first!.expected.p50 + 0.004;
    const [one] = told(...options(high)).compared;
    expect(text(...options(high))).toMatch(
      new RegExp(
        `would be ${one!.as_resin_wt_pct!.toFixed(2)} wt% resin if the solvent holds the [\\d.]+ wt% water estimated, ` +
          `or ${one!.as_water_wt_pct!.toFixed(2)} wt% water if the resin is the [\\d.]+ wt% estimated; ` +
          'a density cannot tell one from the other, and 3 °C too warm hides 1 wt% of resin',
      ),
    );
  });

  /** DAOUDI2012 for IPA and CHU1962 for its index, from 20 to 25 °C, against a wt% of resin. */
  it('is as wrong by 3 °C, and an index by 2 °C, as the echo says', () => {
    const perDegree = (file: string, source: string, key: string, more: object = {}) =>
      (published(file, source, key, { temp_C: 20, ...more }) -
        published(file, source, key, { temp_C: 25, ...more })) /
      5;
    const density = perDegree('ipa_density.csv', 'DAOUDI2012', 'density_g_per_mL');
    const index = perDegree('refractive_index.csv', 'CHU1962', 'refractive_index_nD', { wt_pct_ipa: 100 });
    expect((3 * density) / RESIN_G_ML).toBeGreaterThan(0.8);
    expect((3 * density) / RESIN_G_ML).toBeLessThan(1.2);
    expect((2 * index) / RESIN_INDEX).toBeGreaterThan(0.8);
    expect((2 * index) / RESIN_INDEX).toBeLessThan(1.2);
  });

  it('that is lower than even the dry solvent reads is no mixture', () => {
    // Pure IPA at 25 °C is 0.7810 (DAOUDI2012).
    const [one] = told(...options(0.776)).compared;
    expect(one).toMatchObject({ as_resin_wt_pct: null, as_water_wt_pct: null });
    expect(text(...options(0.776))).toContain('no mixture near the estimate reads so');
  });

  it('teaches the carry-over, and says from what to what', () => {
    const high = first!.expected.p50 + 0.004;
    expect(told(...options(high)).compared[0]!.taught).toContain('carry-over');
    const [, before, after, from, to] =
      /taught carry-over (\S+) \(0\.48–2\.10\) → (\S+) \((\S+)–(\S+)\)/.exec(text(...options(high)))!;
    expect(Number(before)).toBe(1);
    // More resin than expected: more was carried over; and the band is narrower than a factor of two either way.
    expect(Number(after)).toBeGreaterThan(1);
    expect(Number(to) / Number(from)).toBeLessThan(2.1 / 0.48);
  });
});

describe('a density and an index of one sample', () => {
  const { text } = shop();
  /**
   * A solvent of 97.543 wt% IPA with 5 wt% resin at 20 °C. Density of the solvent from ZAREI2008, index of pure IPA from
   * CHU1962, which water of a few per cent leaves where it is; what the resin adds is common practice, no source.
   */
  const density =
    published('ipa_water_density.csv', 'ZAREI2008', 'density_g_per_mL', { temp_C: 20, wt_pct_ipa: 97.543 }) +
    5 * RESIN_G_ML;
  const index =
    published('refractive_index.csv', 'CHU1962', 'refractive_index_nD', { temp_C: 20, wt_pct_ipa: 100 }) +
    5 * RESIN_INDEX;
  const sample = ['--density', density.toFixed(5), '--index', index.toFixed(4), '--temp', '20', '--dry-run'];

  it('tell resin and water together', () => {
    const shown = text('reading', 'dirty', ...sample);
    const [, resin, water] = /together ([\d.]+) wt% resin and ([\d.]+) wt% water in the solvent/.exec(shown)!;
    expect(Math.abs(Number(resin) - 5)).toBeLessThan(0.7);
    expect(Math.abs(Number(water) - 2.457)).toBeLessThan(0.7);
    expect(shown).toContain('the index sees the resin, and the density then tells the water');
  });

  it('are not told together when they are of two commands', () => {
    expect(text('reading', 'dirty', '--density', density.toFixed(5), '--dry-run')).not.toContain('together');
    expect(text('reading', 'dirty', '--index', index.toFixed(4), '--dry-run')).not.toContain('together');
  });

  it('that no mixture has are said to be read wrongly', () => {
    // The index of much resin and the density of none.
    const shown = text(
      'reading',
      'dirty',
      '--density',
      '0.785',
      '--index',
      '1.395',
      '--temp',
      '20',
      '--dry-run',
    );
    expect(shown).toContain('no mixture of resin, IPA and water has both; read one of them again');
  });
});

describe('an absurd value', () => {
  const { text, told } = shop();

  it.each([
    [['--density', '0.97', '--temp', '21'], 'Check the temperature, the scale (g/mL or SG)'],
    [['--density', '0.77', '--temp', '21'], 'Check the temperature, the scale (g/mL or SG)'],
    [['--index', '1.45', '--temp', '21'], 'Check the temperature, the scale (n or °Brix)'],
    [['--brix', '12', '--temp', '21'], 'Check the temperature, the scale (n or °Brix)'],
    [['--resin', '50'], 'Check that the residue was dry and cured'],
    [['--level', '1 L'], 'Check the mark of the tub'],
    [['--weight', '5000'], "Check that the tub's own weight was taken off"],
  ])('%j is flagged, says what to check, and hardly moves the estimate', (options, check) => {
    const args = ['reading', 'dirty', ...options, '--dry-run'];
    const { compared, before, baths, warnings } = told(...args);
    expect(compared[0]).toMatchObject({ flagged: true });
    expect(compared[0]!.misfit_sd).toBeGreaterThan(3);
    expect(warnings.join()).toContain(check);
    expect(text(...args)).toContain('so it counts for less');
    expect(text(...args)).toContain('too far for chance');
    const { p05, p50, p95 } = baths[0]!.resin_wt_pct;
    const moved = Math.abs(Math.log(p50 / before.dirty!.resin_wt_pct));
    expect(moved).toBeLessThan(Math.log(p95 / p05) / 2 / 5);
  });

  it('is not what an expected one is', () => {
    const [one] = told('reading', 'dirty', '--density', '0.797', '--temp', '21', '--dry-run').compared;
    expect(one!.flagged).toBe(false);
    const shown = text('reading', 'dirty', '--density', '0.797', '--temp', '21', '--dry-run');
    expect(shown).not.toMatch(/counts for less|too far/);
    expect(shown).toMatch(/expected [\d.]+ \([\d.]+–[\d.]+\) g\/mL; read 0\.7970 g\/mL, as expected/);
  });
});

describe('a weighed load', () => {
  const { text, told } = shop();
  const weighed = (grams: number) => ['weighed', '--wet', '600', '--clean', String(600 - grams), '--dry-run'];

  it('was expected to lose what the wash was told to carry in', () => {
    // The echo of a wash names the grams carried in before anything is weighed; a long wash leaves hardly any on the parts.
    const washed = JSON.parse(
      run([
        'wash',
        '24',
        'model',
        '--minutes',
        '60,60',
        '--json',
        '--dry-run',
        '--ledger',
        ledgerOf(FILLS, SHOP),
        '--as-of',
        NOW,
      ]).out,
    ).data;
    const { compared } = shop([...FILLS, WASHES[0]!.replace('}}', '}, minutes: [60, 60]}')]).told(
      ...weighed(10),
    );
    expect(compared[0]).toMatchObject({ sees: 'carry', value: 10 });
    expect(compared[0]!.expected.p50 / washed.carry_g.p50).toBeGreaterThan(0.9);
    expect(compared[0]!.expected.p50 / washed.carry_g.p50).toBeLessThan(1.01);
  });

  it('tells what was expected, read and taught', () => {
    const [one] = told(...weighed(10)).compared;
    const { p05, p50, p95 } = one!.expected;
    expect(one!.taught).toContain('carry-over');
    const shown = text(...weighed(10));
    const [, least, most] = /expected [\d.]+ \(([\d.]+)–([\d.]+)\) g; read 10\.00 g, as expected/.exec(
      shown,
    )!;
    expect(Math.abs(Number(least) - p05)).toBeLessThan(0.5);
    expect(Math.abs(Number(most) - p95)).toBeLessThan(0.5);
    expect(p50).toBeGreaterThan(10);
    // Less came off than expected.
    const [, after] = /taught carry-over 1\.00 \(0\.48–2\.10\) → (\S+) \(/.exec(shown)!;
    expect(Number(after)).toBeLessThan(1);
    expect(Number(after)).toBeGreaterThan(10 / p50);
  });

  it('far beyond anything is flagged', () => {
    const { compared, warnings } = told(...weighed(300));
    expect(compared[0]!.flagged).toBe(true);
    expect(warnings.join()).toContain('Check that both weighings had the same parts');
  });
});

describe('the document of a reading', () => {
  const { told } = shop();
  const schema = (name: string) => JSON.parse(run(['schema', name]).out);
  const holds = (name: string, compared: unknown) => {
    const { properties } = schema(name).properties.data;
    const validate = new Ajv2020({ strict: false, allErrors: true }).compile(properties.compared);
    validate(compared);
    return validate.errors ?? [];
  };

  it.each([
    ['reading', ['dirty', '--density', '0.81', '--brix', '31', '--temp', '21']],
    ['reading', ['dirty', '--dry', '0.41', '--sample', '10']],
    ['reading', ['clean', '--level', '3.9 L', '--weight', '3100']],
    ['weighed', ['--wet', '600', '--clean', '590']],
  ])('%s %j has `compared` as its schema says', (name, args) => {
    const { compared } = told(name, ...args, '--dry-run');
    expect(compared.length).toBeGreaterThan(0);
    expect(holds(name, compared)).toEqual([]);
    // It would not take just anything.
    expect(
      holds(
        name,
        compared.map(({ sees: _, ...rest }) => rest),
      ),
    ).not.toEqual([]);
  });
});

describe('the factors in the echo', () => {
  const READINGS = [
    ['dirty', '--density', '0.797', '--temp', '21'],
    ['dirty', '--brix', '28.9', '--temp', '21'],
    ['clean', '--density', '0.787', '--temp', '21'],
    ['dirty', '--level', '3.7 L'],
  ];

  it('are all whose best estimate moved by 2 %, and no others but those that were made surer', () => {
    const { said } = shop();
    const factors = () =>
      new Map<string, Band>(
        JSON.parse(said('calibrate', '--json').out).data.factors.map((one: { name: string; now: Band }) => [
          one.name,
          one.now,
        ]),
      );
    let moved = 0;
    for (const words of READINGS) {
      const before = factors();
      const told = flat(said('reading', ...words).out);
      for (const [name, now] of factors()) {
        const was = before.get(name)!;
        const hasMoved = Math.abs(Math.log(now.p50 / was.p50)) >= 0.02;
        const isSurer = now.p95 / now.p05 < 0.98 * (was.p95 / was.p05);
        if (hasMoved) expect(told, name).toMatch(new RegExp(`${name} [\\d.]+ \\([^)]*\\) → `));
        else if (!isSurer && now.p50 === was.p50) expect(told, name).not.toContain(`${name} `);
        if (hasMoved && !isSurer) moved += 1;
      }
    }
    // It would say nothing if none had moved without being made surer.
    expect(moved).toBeGreaterThan(0);
  });
});
