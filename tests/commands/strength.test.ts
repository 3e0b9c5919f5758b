import { describe, expect, it } from 'vitest';
import { bundled, runner } from './bundle.ts';

const run = runner(bundled());
const data = (args: string[]) => JSON.parse(run([...args, '--json']).out).data;

describe('strength', () => {
  it('tells the strength, the grade and whether the label is right', () => {
    const { code, out } = run(['strength', '--density', '0.813', '--temp', '77 F', '--label', '91 vol%']);
    expect(code).toBe(0);
    expect(out).toContain('liquid at 25 °C');
    expect(out).toContain('azeotropic');
    expect(out).toContain('91 vol%: agrees');
  });

  it('warns when the bottle is weaker than it says', () => {
    expect(run(['strength', '--density', '0.813', '--temp', '25', '--label', '99']).out).toMatch(
      /99 wt%: weaker/,
    );
    expect(data(['strength', '--density', '0.813', '--temp', '25', '--label', '99']).label).toMatchObject({
      agreement: 'weaker',
      warning: true,
    });
  });

  it('counts the digits that were typed: the half of the last one is open', () => {
    const width = (typed: string) => {
      const { ipa_wt_pct_low: low, ipa_wt_pct_high: high } = data(['strength', '--density', typed]);
      return (high - low) / 2;
    };
    // 0.001 and 0.0007 g/mL of instrument and model, with 0.01/√12 and 0.001/√12 of rounding: 3.13e-3 and 1.25e-3.
    const fine = Math.hypot(0.001, 0.0007, 0.001 / Math.sqrt(12));
    const coarse = Math.hypot(0.001, 0.0007, 0.01 / Math.sqrt(12));
    expect(width('0.82') / width('0.820')).toBeCloseTo(coarse / fine, 1);
    expect(run(['strength', '--density', '0.82']).out).toContain('if it read 0.820, type that');
    expect(run(['strength', '--density', '0.820']).out).not.toContain('type that');
    expect(run(['strength', '--density', '0.820']).out).toContain('density 0.820 g/mL');
  });

  it('says nothing of grade and label where the range is too wide for either', () => {
    const { out } = run(['strength', '--sg', '0.8', '--label', '99']);
    expect(out).toContain('99 wt%: this reading cannot tell');
    expect(out).not.toContain('grade');
  });

  it('says why a stronger liquid agrees with its label', () => {
    expect(run(['strength', '--density', '0.785', '--label', '98.5']).out).toContain(
      'agrees, being a lower limit',
    );
  });

  it('knows that nothing is heavier than water', () => {
    // Tanaka 2001: 0.9982 g/mL at 20 °C.
    expect(run(['strength', '--density', '1'])).toMatchObject({ code: 65 });
    expect(run(['strength', '--density', '1']).err).toContain(
      'isopropanol with water has 0.7852–0.9982 g/mL',
    );
  });

  it('says what resin would do', () => {
    expect(run(['strength', '--density', '0.813']).err).toMatch(/fresh solvent only/);
  });

  it('gives the document of the contract', () => {
    // CHU1962: 89.84 wt% has 0.8069 g/mL at 25 °C; with 20 °C added through the formula.
    const answer = data(['strength', '--density', '0.8069', '--temp', '25']);
    expect(Math.abs(answer.ipa_wt_pct - 89.84)).toBeLessThan(0.3);
    expect(answer.ipa_vol_pct).toBeGreaterThan(92);
    expect(answer.density_20c_g_ml).toBeCloseTo(0.8114, 3);
    expect(answer.tables.map(({ source }: { source: string }) => source)).toContain('CHU1962');
    expect(answer.grade).toBe('usp-azeotropic');
  });

  it('takes the temperature of the scale when none is given', () => {
    expect(data(['strength', '--sg', '0.815', '--ref', '25/25']).reading.temp_c).toBe(25);
    expect(data(['strength', '--sg', '0.815']).reading.temp_c).toBe(20);
  });

  it('gives a range where the index cannot tell', () => {
    const answer = data(['strength', '--index', '1.3772', '--label', '99']);
    expect(answer.ipa_wt_pct).toBeNull();
    expect(answer.ipa_wt_pct_high).toBe(100);
    expect(answer.label.agreement).toBe('unknown');
  });

  it.each([
    [['strength'], 64, 'without a reading'],
    [['strength', '--density', '0.8', '--sg', '0.8'], 64, 'together'],
    [['strength', '--density', 'heavy'], 64, '"heavy"'],
    [['strength', '--density', '0.8', '--ref', '25/25'], 64, '--ref'],
    [['strength', '--index', '1.37', '--glass', '20'], 64, '--glass'],
    [['strength', '--density', '0.8', '--label', 'pure'], 64, '"pure"'],
    [['strength', '--density', '0.7'], 65, '0.7852'],
    [['strength', '--density', '785'], 65, 'g/mL'],
    [['strength', '--density', '0.8', '--temp', '5'], 65, '10–40 °C'],
    [['tables', '--wt', '120'], 65, '0–100 wt%'],
    [['tables', '--vol', '20'], 65, '47.4–100 vol%'],
    [['tables', '--density', '0.95', '--temp', '15'], 65, 'below 40 wt%'],
    [['tables', '--temp', '50'], 65, '10–40 °C'],
  ] as [string[], number, string][])('refuses %j with %i', (args, code, words) => {
    const ran = run(args);
    expect(ran).toMatchObject({ code, out: '' });
    expect(ran.err).toContain(words);
    expect(ran.err).toMatch(/help: /);
  });
});

describe('tables', () => {
  it('prints the published tables at 20 and 25 °C beside the model', () => {
    const { code, out } = run(['tables']);
    const rows = out
      .trim()
      .split('\n')
      .map((line) => line.split('\t'));
    expect(code).toBe(0);
    // CRC102 prints 0.8341 at 80 wt% and 20 °C.
    const head = rows[0]!;
    const row = rows.find(([temp, wt]) => temp === '20' && wt === '80')!;
    expect(row[head.indexOf('CRC102')]).toBe('0.8341');
    expect(rows.some(([temp]) => temp === '25')).toBe(true);
  });

  it('looks a strength up in every table, each with its difference from the model', () => {
    const answer = data(['tables', '--wt', '80']);
    const crc = answer.tables.find(({ source }: { source: string }) => source === 'CRC102');
    expect(crc.density_g_ml).toBe(0.8341);
    expect(crc.less_model_g_ml).toBeCloseTo(0.8341 - answer.density_g_ml, 9);
  });

  it('needs no ledger', () => {
    expect(run(['tables', '--wt', '91'], { cwd: '/' }).code).toBe(0);
  });
});
