import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner } from './bundle.ts';

const run = runner(bundled());
const at = (...args: string[]) => run(['vapour', ...args, '--as-of', NOW]);
const data = (...args: string[]) => JSON.parse(at(...args, '--json').out).data;

/** Every key must be described. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
  return inner.type === 'object' && 'properties' in inner ? { ...inner, additionalProperties: false } : inner;
}

const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false });
(addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
const validate = ajv.compile(closed(documentSchema('vapour')) as object);

describe('vapour of the standard tub, without a ledger', () => {
  const tub = ['--surface', '252 cm2', '--temp', '22C', '--tubs', '2', '--room', '30 m3', '--ach', '2'];

  it('gives the figures of DEFAULTEVAP: 9.0 g/h, 102 for cautions, 120–2500 ppm, 4.9 % inside the range', () => {
    const { tubs, best_g_per_h, air_ppm, caution_trigger, room } = data(...tub);
    expect(best_g_per_h.p50).toBe(9);
    // The band of a factor that nothing was learned of: 1.645 sd of 0.7.
    expect(best_g_per_h.p95 / best_g_per_h.p50).toBeCloseTo(Math.exp(1.645 * 0.7), 0);
    expect(air_ppm.steady.low).toBe(120);
    expect([2400, 2500]).toContain(air_ppm.steady.high);
    expect(tubs[0]).toMatchObject({
      headspace: 'inside',
      headspace_vol_pct: 4.9,
      inside_from_c: 8,
      inside_to_c: 38,
    });
    expect(caution_trigger).toEqual({ ppm: 200, reached_by: 'high-end' });
    expect(room.assumed.join()).toMatch(/pure IPA.*5 cm/);
  });

  it('takes fresh air as a flow as well, and the same air gives the same', () => {
    const byFlow = [
      '--surface',
      '252 cm2',
      '--temp',
      '22C',
      '--tubs',
      '2',
      '--room',
      '30',
      '--air',
      '60 m3/h',
    ];
    expect(data(...byFlow).air_ppm).toEqual(data(...tub).air_ppm);
  });

  it('says the cautions before any other line', () => {
    const lines = at(...tub).out.split('\n');
    expect(lines[0]).toMatch(/^cautions\tFire: /);
    const numbers = lines.findIndex((line) => /g\/h/.test(line));
    expect(lines.slice(0, numbers).join('\n')).toMatch(
      /estimate and no measurement[\s\S]*licensed practice decide/,
    );
  });

  it('needs no ledger, and takes none', () => {
    expect(run(['vapour', ...tub], { cwd: '/' }).code).toBe(0);
    expect(at(...tub, '--ledger', ledgerOf())).toMatchObject({ code: 64, out: '' });
  });

  it('adds a place close to the tubs when asked, marked as from memory', () => {
    expect(data(...tub).air_ppm.near).toBeNull();
    const { air_ppm } = data(...tub, '--near', '50 cm');
    expect(air_ppm.near.low).toBeGreaterThan(air_ppm.opening.low);
    expect(at(...tub, '--near', '50 cm').out).toMatch(/0\.5 m away is from memory, unverified/);
  });
});

describe('vapour of the baths of a ledger', () => {
  it('takes surface, level, strength, room temperature from it', () => {
    const { tubs, room, factors, left_out } = data('--ledger', ledgerOf());
    expect(tubs.map(({ tub }: { tub: string }) => tub)).toEqual(['dirty', 'clean']);
    expect(tubs[0].surface_cm2).toBe(468);
    // A little has evaporated since the top-up: the surface stands a little lower than 50 mm.
    expect(tubs[0].freeboard_mm).toBeGreaterThan(50);
    expect(tubs[0].freeboard_mm).toBeLessThan(53);
    expect(tubs[0].ipa_activity).toBeGreaterThan(0.9);
    expect(tubs[0].ipa_activity).toBeLessThan(1);
    expect(room.temp_c).toBe(22);
    expect(factors).toMatch(/not calibrated/);
    expect(left_out).toEqual([]);
  });

  it('leaves out a bath that holds nothing, and refuses when none holds anything', () => {
    expect(data('--ledger', ledgerOf(LINES.slice(0, 1))).left_out).toEqual(['clean']);
    const none = at('--ledger', ledgerOf([]));
    expect(none).toMatchObject({ code: 65, out: '' });
    expect(none.err).toMatch(/no bath of the ledger holds solvent[\s\S]*help: /);
  });

  it('counts vapour also where the ledger has evaporation switched off', () => {
    const off = ledgerOf(LINES, HEAD.replaceAll('freeboard_mm: 50}', 'freeboard_mm: 50, evaporation: 0}'));
    const { best_g_per_h, factors } = data('--ledger', off);
    expect(best_g_per_h.p50).toBeGreaterThan(10);
    expect(best_g_per_h.p95).toBeGreaterThan(best_g_per_h.p50);
    expect(factors).toMatch(/switched off/);
  });

  it('gives off what the replay lets evaporate with the lid off all day', () => {
    // Lids off for 24 h: what the tally "air" takes in a short time is the rate that vapour tells.
    const open = ledgerOf(
      LINES.slice(0, 2),
      HEAD.replaceAll('freeboard_mm: 50}', 'freeboard_mm: 50, lid_open_h: 24}'),
    );
    const clock = ['--ledger', open, '--json', '--as-of'];
    const air = (time: string) => JSON.parse(run(['baths', ...clock, time]).out).data.tally_g.air.ipa;
    const lost = air('2026-11-16T10:00:00-04:00') - air('2026-11-16T09:00:00-04:00');
    const { best_g_per_h } = JSON.parse(run(['vapour', ...clock, '2026-11-16T09:30:00-04:00']).out).data;
    expect(best_g_per_h.p50).toBe(Number(lost.toPrecision(2)));
  });
});

describe('limits', () => {
  it.each([
    ['us-osha', 'us-osha'],
    ['OSHA', 'us-osha'],
    ['Canada Ontario', 'canada-ontario'],
    ['germany', 'germany'],
  ])('of %s are those of %s', (typed, key) => {
    const { jurisdiction, limits } = data('--ledger', ledgerOf(), '--jurisdiction', typed);
    expect(jurisdiction).toBe(key);
    const others = limits.filter(
      (limit: { kind: string; jurisdiction: string }) =>
        limit.kind !== 'danger' && limit.jurisdiction !== key,
    );
    expect(others).toEqual([]);
    expect(limits.every(({ source }: { source: string }) => source.length > 1)).toBe(true);
  });
});

describe('what cannot be used', () => {
  it.each([
    [['--jurisdiction', 'us-osho'], /"us-osho"[\s\S]*help: Did you mean "us-osha"\?/],
    [['--jurisdiction', 'atlantis'], /"atlantis"[\s\S]*help: There are us-osha, /],
    [['--room', '30 mm3'], /"mm3" is no unit[\s\S]*help: Did you mean "m3"\?/],
    [['--room', '1 m3'], /that is 1 m3[\s\S]*help: Give 3 to 10000 m3/],
    [['--room', 'large'], /"large"[\s\S]*help: /],
    [['--air', '60 m3/hour'], /"m3\/hour" is no unit/],
    [['--air', '0'], /that is 0 m3\/h/],
    [['--ach', '0'], /Cannot use --ach "0"[\s\S]*0\.1 to 100/],
    [['--ach', '2', '--air', '60'], /--air and --ach together/],
    [['--mixing', '1'], /--mixing "1"[\s\S]*0\.1 to 0\.5/],
    [['--open', '0'], /--open "0"/],
    [['--open', '10 mim'], /Did you mean "min"\?/],
    [['--temp', '5C'], /10 to 40 °C/],
    [['--near', '5 cm'], /200 to 3000 mm/],
    [['--tubs', '2'], /--tubs without --surface/],
    [['--freeboard', '5 cm'], /--freeboard without --surface/],
    [['--surface', '252 cm2', '--tubs', '1.5'], /whole number from 1 to 20/],
    [['--surface', '252 L'], /"L" is no unit of area/],
    [['dirty'], /so many words/],
  ])('%j exits with 64 and says what would do', (args, message) => {
    const { code, out, err } = run(['vapour', ...args]);
    expect(err).toMatch(message);
    expect({ code, out }).toEqual({ code: 64, out: '' });
    expect(err).toMatch(/ {2}help: /);
  });
});

describe('the document', () => {
  it.each([
    [['--ledger', ledgerOf()]],
    [['--ledger', ledgerOf(LINES.slice(0, 1)), '--jurisdiction', 'uk', '--near', '1 m']],
    [['--surface', '252 cm2']],
  ])('%j fits its schema, key for key', (args) => {
    const document = JSON.parse(at(...args, '--json').out);
    validate(document);
    expect(validate.errors ?? []).toEqual([]);
    expect(document.schema).toBe('bathbook/vapour/1');
  });
});
