import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SG_REFERENCES, type SgReference } from '../../src/substance/hydrometer.ts';
import { mixtureDensity } from '../../src/substance/mixture.ts';
import { solventIndex } from '../../src/substance/refraction.ts';
import { instrumentsAt, type Reading, type Strength, strengthOf } from '../../src/substance/strength.ts';

function found(reading: Reading): Strength {
  const strength = strengthOf(reading);
  if ('refused' in strength) throw new Error(`refused: ${JSON.stringify(strength)}`);
  return strength;
}

describe('strengthOf a density', () => {
  // What was weighed into the mixture, and what was measured of it.
  it.each([
    ['CHU1962', 25, 0.8069, 89.84],
    ['CHU1962', 25, 0.8361, 77.87],
    ['GONZALEZ2008', 25, 0.7994, 93.0],
    ['ZAREI2008', 20, 0.81714, 87.642],
    ['FPE2013', 40, 0.82515, 76.936],
  ])(
    'of %s at %f °C, %f g/mL, is within 0.3 wt%% of the %f that were weighed',
    (source, tempC, value, weighed) => {
      const { wtPct, tables, basis } = found({ kind: 'density', value, tempC });
      expect(Math.abs(wtPct! - weighed)).toBeLessThan(0.3);
      expect(basis).toBe('model');
      // The table itself gives its own row back, and its difference from the model is told.
      const own = tables.find((table) => table.source === source)!;
      expect(own.wtPct).toBeCloseTo(weighed, 6);
      expect(own.difference).toBeCloseTo(weighed - wtPct!, 6);
    },
  );

  it('spreads by 0.3–0.6 wt%: 0.001 g/mL of the hydrometer alone is about 0.4', () => {
    for (const value of [0.79, 0.81, 0.85, 0.9]) {
      const { wtPct, lowWtPct, highWtPct } = found({ kind: 'density', value, tempC: 20 });
      expect(highWtPct - wtPct!).toBeGreaterThan(0.3);
      expect(highWtPct - wtPct!).toBeLessThan(0.6);
      expect(wtPct! - lowWtPct).toBeGreaterThan(0.3);
      expect(wtPct! - lowWtPct).toBeLessThan(0.6);
    }
  });

  it('takes back what the formula gives, at any temperature in the data', () => {
    const fraction = fc.double({ min: 0.4, max: 1, noNaN: true });
    const tempC = fc.double({ min: 10, max: 40, noNaN: true });
    fc.assert(
      fc.property(fraction, tempC, (w, t) => {
        const { wtPct } = found({ kind: 'density', value: mixtureDensity(w, t), tempC: t });
        return wtPct !== null && Math.abs(wtPct - 100 * w) < 1e-6;
      }),
    );
  });

  it('is not misled by the scale: the same liquid on each scale of specific gravity', () => {
    for (const [reference, { liquidC }] of Object.entries(SG_REFERENCES) as [
      SgReference,
      { liquidC: number },
    ][]) {
      const value = instrumentsAt(91, 20)!.sg[reference];
      expect(found({ kind: 'sg', value, reference, tempC: liquidC }).wtPct).toBeCloseTo(91, 6);
    }
  });

  it('takes a specific gravity without a scale for one of 20/20', () => {
    const sg = instrumentsAt(91, 20)!.sg['20/20'];
    expect(found({ kind: 'sg', value: sg, tempC: 20 }).wtPct).toBeCloseTo(91, 6);
  });

  it('corrects the glass: 0.8000 at 30 °C on a glass for 20 °C is 0.7998 (ISO1768)', () => {
    const { density } = found({ kind: 'density', value: 0.8, tempC: 30, glassC: 20 });
    expect(density).toBeCloseTo(0.7998, 10);
  });

  it('takes a reading a little lighter than dry isopropanol for dry, and refuses a much lighter one', () => {
    expect(found({ kind: 'density', value: 0.7841, tempC: 20 }).wtPct).toBeCloseTo(100, 6);
    expect(strengthOf({ kind: 'density', value: 0.78, tempC: 20 })).toMatchObject({ refused: 'density' });
    expect(strengthOf({ kind: 'density', value: 1.1, tempC: 20 })).toMatchObject({ refused: 'density' });
    expect(strengthOf({ kind: 'density', value: Number.NaN, tempC: 20 })).toMatchObject({
      refused: 'density',
    });
  });

  it('answers below 40 wt% from the tables alone', () => {
    // ICT1928, 30 wt% at 20 °C: 0.9520.
    const weak = found({ kind: 'density', value: 0.952, tempC: 20 });
    expect(weak.basis).toBe('tables');
    expect(Math.abs(weak.wtPct! - 30)).toBeLessThan(0.3);
    expect(weak.tables.every(({ difference }) => difference === null)).toBe(true);
    expect(strengthOf({ kind: 'density', value: 0.952, tempC: 15 })).toMatchObject({
      refused: 'no-table',
      value: 0.952,
      low: 40,
      high: 100,
    });
  });

  it('spreads a weak mixture from below its least table to above its greatest, by what a hydrometer is worth there', () => {
    // ICT1928 at 20 °C falls from 0.9558 at 28 wt% to 0.9481 at 32: 0.001 g/mL is worth 0.5 wt%, and tables differ besides.
    const { tables, lowWtPct, highWtPct } = found({ kind: 'density', value: 0.952, tempC: 20 });
    const strengths = tables.map(({ wtPct }) => wtPct);
    expect(Math.min(...strengths) - lowWtPct).toBeGreaterThan(0.4);
    expect(Math.min(...strengths) - lowWtPct).toBeLessThan(1.1);
    expect(highWtPct - Math.max(...strengths)).toBeGreaterThan(0.4);
    expect(Math.max(...strengths) - Math.min(...strengths)).toBeGreaterThan(0.01);
    expect(highWtPct - Math.max(...strengths)).toBeCloseTo(Math.min(...strengths) - lowWtPct, 9);
    expect(found({ kind: 'density', value: 0.998, tempC: 20 }).lowWtPct).toBe(0); // nothing is weaker than water
  });

  it.each([9.9, 40.1, Number.NaN])('refuses %f °C', (tempC) => {
    expect(strengthOf({ kind: 'density', value: 0.8, tempC })).toMatchObject({
      refused: 'temperature',
      low: 10,
      high: 40,
    });
  });
});

describe('strengthOf a refractive index', () => {
  it.each([
    [20, 1.3718, 60.52], // CHU1962
    [20, 1.3679, 49.36], // CHU1962
    [25, 1.37, 60.52], // CHU1962
  ])('at %f °C, %f, allows the %f wt%% that were weighed', (tempC, value, weighed) => {
    const strength = found({ kind: 'index', value, tempC });
    expect(strength.lowWtPct).toBeLessThan(weighed);
    expect(strength.highWtPct).toBeGreaterThan(weighed);
    expect(Math.abs(strength.wtPct! - weighed)).toBeLessThan(1);
    expect(strength.tables.find(({ source }) => source === 'CHU1962')!.wtPct).toBeCloseTo(weighed, 6);
  });

  it('gives a range and no strength above 80 wt%, where the index is flat', () => {
    for (const fraction of [0.85, 0.92, 1]) {
      const strength = found({ kind: 'index', value: solventIndex(fraction, 20), tempC: 20 });
      expect(strength.wtPct).toBeNull();
      expect(strength.lowWtPct).toBeLessThan(100 * fraction);
      expect(strength.highWtPct).toBeGreaterThan(99.9);
    }
  });

  it('answers weak mixtures from the tables', () => {
    // CHU1962, 19.91 wt% at 20 °C: 1.3511; CRC102, 20 wt%: 1.3514.
    const weak = found({ kind: 'index', value: 1.3511, tempC: 20 });
    expect(weak.basis).toBe('tables');
    expect(Math.abs(weak.wtPct! - 19.91)).toBeLessThan(0.3);
  });

  it('gives a strength only with a range of at most 10 wt% that ends below dry, at any temperature', () => {
    const seen = new Set<string>();
    for (const tempC of [10, 20, 25, 40]) {
      for (let value = 1.36; value < 1.3825; value += 0.00015) {
        const strength = strengthOf({ kind: 'index', value, tempC });
        if ('refused' in strength || strength.basis !== 'model') continue;
        const { wtPct, lowWtPct, highWtPct, tables } = strength;
        const isTold = highWtPct < 100 && highWtPct - lowWtPct <= 10;
        seen.add(`${isTold} ${highWtPct < 100}`);
        expect(wtPct !== null, `${value} at ${tempC} °C`).toBe(isTold);
        if (wtPct !== null) expect(wtPct >= lowWtPct && wtPct <= highWtPct).toBe(true);
        for (const { difference, wtPct: own } of tables) {
          expect(difference).toBe(wtPct === null ? null : own - wtPct);
        }
      }
    }
    expect([...seen].toSorted()).toEqual(['false false', 'false true', 'true true']);
  });

  it('goes by the tables for what is weaker than 40 wt%, however little', () => {
    const value = solventIndex(0.4, 20) - 0.0003;
    expect(found({ kind: 'index', value, tempC: 20 }).basis).toBe('tables');
  });

  it('refuses what no mixture has, like resin in it', () => {
    const refused = strengthOf({ kind: 'index', value: 1.385, tempC: 20 });
    expect(refused).toMatchObject({ refused: 'index', low: solventIndex(0.4, 20) });
    // Dry isopropanol reads 1.3772 (CHU1962), and a hand instrument is sure to a few 0.0001.
    expect((refused as { high: number }).high).toBeGreaterThan(1.3772);
    expect((refused as { high: number }).high).toBeLessThan(1.3792);
    expect(strengthOf({ kind: 'index', value: 1.3, tempC: 20 })).toMatchObject({ refused: 'index' });
  });
});

describe('strengthOf a strength', () => {
  it('gives each table its density there, and what it lies off the model', () => {
    const { density, tables } = found({ kind: 'wt', value: 80, tempC: 20 });
    const crc = tables.find(({ source }) => source === 'CRC102')!;
    expect(crc.value).toBe(0.8341);
    expect(crc.difference).toBeCloseTo(0.8341 - mixtureDensity(0.8, 20), 12);
    expect(density).toBe(mixtureDensity(0.8, 20));
  });

  it('tells what is known against a table, and only where it holds', () => {
    const flags = (wt: number) =>
      found({ kind: 'wt', value: wt, tempC: 20 }).tables.map(({ source, flags: own }) =>
        [source, ...own].join(' '),
      );
    expect(flags(80)).toContain('ICT1928 column_bias');
    expect(flags(80)).toContain('LEBO1921');
    expect(flags(3)).toContain('LEBO1921 rounded');
  });

  it('gives a weak mixture the mean of the tables, ICT1928 and others: 20 wt% at 20 °C is 0.970 g/mL', () => {
    const { density, basis, tables } = found({ kind: 'wt', value: 20, tempC: 20 });
    expect(basis).toBe('tables');
    expect(tables.length).toBeGreaterThan(1);
    const values = tables.map(({ value }) => value);
    expect(density).toBeGreaterThan(Math.min(...values));
    expect(density).toBeLessThan(Math.max(...values));
    expect(tables.every(({ difference }) => difference === null)).toBe(true);
  });

  it('takes the ends: water, 40 wt%, and dry', () => {
    expect(found({ kind: 'wt', value: 0, tempC: 20 }).density).toBeCloseTo(0.9982, 3); // water, KELL1975
    expect(found({ kind: 'wt', value: 40, tempC: 20 }).basis).toBe('model');
    expect(found({ kind: 'wt', value: 100, tempC: 20 }).basis).toBe('model');
    expect(found({ kind: 'vol', value: 100, tempC: 20 }).wtPct).toBeCloseTo(100, 9);
    expect(found({ kind: 'vol', value: 47.4, tempC: 20 }).wtPct).toBeCloseTo(40.06, 2);
    expect(instrumentsAt(40, 20)).not.toBeNull();
  });

  it('makes up no density where every table begins higher: 30 wt% at 40 °C (FPE2013 from 37 wt%)', () => {
    expect(strengthOf({ kind: 'wt', value: 30, tempC: 40 })).toMatchObject({
      refused: 'no-table',
      value: 30,
    });
  });

  it('reads vol% at 20 °C: 91 vol% is 87.4 wt% (USP28)', () => {
    expect(found({ kind: 'vol', value: 91, tempC: 25 }).wtPct).toBeCloseTo(87.4, 1);
  });

  it('refuses strengths that there are not', () => {
    expect(strengthOf({ kind: 'wt', value: 101, tempC: 20 })).toMatchObject({
      refused: 'strength',
      low: 0,
      high: 100,
    });
    expect(strengthOf({ kind: 'vol', value: 30, tempC: 20 })).toMatchObject({
      refused: 'strength',
      high: 100,
    });
    expect(strengthOf({ kind: 'vol', value: 101, tempC: 20 })).toMatchObject({ refused: 'strength' });
    expect(strengthOf({ kind: 'wt', value: -1, tempC: 20 })).toMatchObject({ refused: 'strength' });
    expect(strengthOf({ kind: 'wt', value: 20, tempC: 15 })).toMatchObject({ refused: 'no-table' });
  });
});

describe('instrumentsAt', () => {
  it('gives dry isopropanol the published figures', () => {
    const dry = instrumentsAt(100, 20)!;
    expect(dry.volPct).toBeCloseTo(100, 9);
    expect(dry.density20).toBeCloseTo(0.7852, 4); // FITQUAD
    expect(dry.sg['20/20']).toBeCloseTo(0.7866, 4);
    expect(dry.sg['25/25']).toBeGreaterThan(0.783); // USP29
    expect(dry.sg['25/25']).toBeLessThan(0.787); // USP29
    expect(dry.index).toBeCloseTo(1.3772, 10); // CHU1962
  });
  it('has nothing to say below 40 wt%', () => {
    expect(instrumentsAt(39.9, 20)).toBeNull();
  });
});
