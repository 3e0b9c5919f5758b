import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { painter } from '../../src/render/paint.ts';
import { aligned } from '../../src/render/table.ts';
import { airTable, limitsTable, modelsTable, vapourLines, vapourNotes } from '../../src/render/vapour.ts';
import { vapourCautions } from '../../src/render/vapour-cautions.ts';
import { vapourDocument } from '../../src/render/vapour-json.ts';
import { bandTwo, rough, span, two } from '../../src/render/vapour-words.ts';
import { FLAMMABLE, FLASH_POINT_C } from '../../src/vapour/exposure-limits.ts';
import { type VapourQuestion, vapourOf } from '../../src/vapour/vapour.ts';
import { anyQuestion, standardQuestion } from '../vapour/questions.ts';

const basis = { assumed: [], factors: 'default factor, not calibrated', leftOut: [] };

function allText(question: VapourQuestion): string {
  const vapour = vapourOf(question);
  const tables = [
    airTable(vapour),
    modelsTable(vapour),
    limitsTable(vapour, { joined: true }),
    limitsTable(vapour, { joined: false }),
  ];
  return [
    ...vapourCautions(vapour, FLAMMABLE),
    ...vapourLines(vapour, basis).map(([, text]) => text),
    ...tables.flatMap(({ head, rows }) => [head, ...rows].map((row) => row.join(' '))),
    ...vapourNotes(vapour),
  ].join('\n');
}

/** What a person could take for an all-clear. */
const REASSURES =
  /\bsafe(?:ly)?\b|\bharmless\b|\bno (?:risk|danger|hazard)\b|\bwithin (?:the )?limits?\b|\b(?:below|under) the (?:exposure )?limits?\b|\bfine\b|\bOK\b|\bacceptable\b|\bnothing to worry\b|\bcomplies\b|\bnot flammable\b/i;

describe('the words', () => {
  it('never reassure, for any bench', () => {
    fc.assert(
      fc.property(anyQuestion, (question) => {
        expect(allText(question)).not.toMatch(REASSURES);
      }),
    );
  });

  it('the words that would reassure can be seen by this test', () => {
    for (const text of ['This is safe', 'well below the limit, so fine', 'within limits'])
      expect(text).toMatch(REASSURES);
  });

  it('always say that it is an estimate, what settles it, and who decides', () => {
    fc.assert(
      fc.property(anyQuestion, (question) => {
        const text = allText(question);
        expect(text).toMatch(/estimate and no measurement/);
        expect(text).toMatch(/badge or a pump sample.*settles/);
        expect(text).toMatch(/Local codes.*safety data sheet.*licensed practice decide/);
        expect(text).toMatch(/have it measured/);
      }),
    );
  });

  it('warn of fire first, whichever side of the range the headspace is on', () => {
    const first = (tempC: number, activity: number) => {
      const tubs = standardQuestion.tubs.map((tub) => ({ ...tub, activity }));
      return vapourCautions(vapourOf({ ...standardQuestion, tubs, tempC }), FLAMMABLE)[0]!;
    };
    expect(first(22, 1)).toMatch(
      /inside the flammable range of 2\.0 to 12\.7 % v\/v \(dirty 4\.9 %, clean 4\.9 %\).*does not make the space inert/,
    );
    expect(first(40, 1)).toMatch(/above the flammable range.*passes through all of it/);
    expect(first(10, 0.4)).toMatch(/below the flammable range.*a spark lights/);
  });

  it('read "cannot tell" where the estimate does not come up to a limit', () => {
    const small = {
      ...standardQuestion,
      tubs: [{ ...standardQuestion.tubs[0]!, surfaceM2: 0.001 }],
      room: { volumeM3: 1000, airM3PerH: 10_000 },
    };
    const { rows } = limitsTable(vapourOf(small), { joined: false });
    expect(rows.every(([, , reach]) => reach === 'cannot tell')).toBe(true);
    expect(vapourNotes(vapourOf(small)).join(' ')).toMatch(/no estimate can clear a room/);
  });

  it('replace what could steer a terminal in the name of a tub', () => {
    const tubs = [{ ...standardQuestion.tubs[0]!, name: 'a\u001b[2Jb' }];
    expect(allText({ ...standardQuestion, tubs })).not.toContain('\u001b');
  });
});

describe('the line of caution', () => {
  const last = (jurisdiction: string | null) =>
    vapourNotes(vapourOf({ ...standardQuestion, jurisdiction })).at(-1)!;

  it('stays at 200 ppm, also where a jurisdiction has a higher limit', () => {
    expect(last(null)).toMatch(/^No jurisdiction was named, so the lowest limit counts: 200 ppm\./);
    expect(last('us-osha')).toMatch(
      /^US-OSHA allows 400 ppm over a shift; others draw the line at 200 ppm\./,
    );
    const eu = vapourNotes(vapourOf({ ...standardQuestion, jurisdiction: 'eu' })).join(' ');
    expect(eu).toMatch(/No indicative limit of the EU was located/);
    expect(last('germany')).toMatch(/^The lowest limit over a shift is 200 ppm\./);
    // REACHDNEL: 500 mg/m³, at 2.46 mg/m³ a ppm (NIOSH0359).
    expect((500 / 2.46).toFixed(0)).toBe('203');
    expect(last('eu')).toMatch(/^EU allows 203 ppm over a shift; others draw the line at 200 ppm\./);
  });

  it('the table of concentrations fits 60 columns, with a row close to the tubs as well', async () => {
    const table = airTable(vapourOf({ ...standardQuestion, nearM: 0.5, openMin: 1440 }));
    const drawn = await aligned(table, painter({ choice: 'never', env: {}, stream: {} }), 60);
    expect(Math.max(...drawn.split('\n').map((line) => line.length))).toBeLessThanOrEqual(60);
  });
});

describe('the limits', () => {
  it('joined, lose no jurisdiction and no source', () => {
    const vapour = vapourOf(standardQuestion);
    const text = limitsTable(vapour, { joined: true }).rows.flat().join(' ');
    for (const { limit } of vapour.limits) {
      expect(text).toContain(limit.jurisdiction);
      expect(text).toContain(limit.source);
    }
  });
});

describe('numbers', () => {
  it.each([
    [0.0634, '0.063'],
    [4.5117, '4.5'],
    [122.4, '120'],
    [1376, '1400'],
    [49_394, '49000'],
  ])('%f is written %s', (value, text) => {
    expect(two(value)).toBe(text);
  });

  it('are one where both ends come to the same', () => {
    expect([span(1.01, 1.02), span(1, 2), bandTwo({ p05: 1, p50: 1.01, p95: 1.02 })]).toEqual([
      '1',
      '1–2',
      '1',
    ]);
  });

  it('of an estimate have two figures in the document, everywhere', () => {
    fc.assert(
      fc.property(anyQuestion, (question) => {
        const vapour = vapourOf(question);
        const data = vapourDocument(vapour, {
          basis,
          cautions: [],
          flammable: FLAMMABLE,
          flashPointC: FLASH_POINT_C,
        });
        const {
          room: _,
          open_min: __,
          near_m: ___,
          flammable: ____,
          caution_trigger: _____,
          tubs,
          ...estimates
        } = data;
        const rates = (tubs as { best_g_per_h: object; headspace_vol_pct: number }[]).map((tub) => [
          tub.best_g_per_h,
          tub.headspace_vol_pct,
        ]);
        for (const value of numbersIn([estimates, rates])) expect(value).toBe(rough(value));
      }),
      { numRuns: 50 },
    );
  });
});

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}
