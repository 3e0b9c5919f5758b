/** Several ledgers in one call: each as if it were alone, and a bad one hides none. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { bundled, NOW, runner } from './bundle.ts';
import { broken, empty, heavy, lisbon, missing, quiet, zoneless } from './many-shops.ts';

const run = runner(bundled());
const TZ = { TZ: 'Asia/Tokyo' };
const at = (...args: string[]) => run([...args, '--as-of', NOW], { env: TZ });
const many = (...args: string[]) => JSON.parse(at(...args, '--json').out);
const known = new Map<string, ReturnType<typeof many>>();
/** One ledger alone; each is asked once. */
function alone(command: string, ledger: string) {
  const key = `${command} ${ledger}`;
  if (!known.has(key)) known.set(key, many(command, '--ledger', ledger));
  return known.get(key);
}

describe.each(['baths', 'due', 'report'])('%s of several ledgers', (command) => {
  it.each([[[quiet, lisbon, zoneless, heavy]], [[zoneless, heavy, zoneless, quiet, lisbon]]])(
    'says of each what it says of it alone, in the time of its shop',
    (ledgers) => {
      const { ledgers: told } = many(command, ...ledgers).data;
      const each = [...new Set(ledgers)];
      expect(told.map(({ ledger }: { ledger: string }) => ledger)).toEqual(each);
      for (const [place, ledger] of each.entries()) {
        const own = alone(command, ledger);
        expect(told[place].data).toEqual(own.data);
        expect(told[place].as_of).toBe(own.as_of);
        expect(told[place].problems).toEqual([]);
      }
    },
  );

  it('hides no ledger behind a bad one, wherever that stands, and says what is wrong with it', () => {
    const [first, second] = many(command, quiet, lisbon).data.ledgers;
    for (const [bad, place] of [
      [broken, 0],
      [missing, 1],
      [broken, 2],
    ] as const) {
      const ledgers = [quiet, lisbon];
      ledgers.splice(place, 0, bad);
      const { out, err } = at(command, ...ledgers, '--json');
      const told = JSON.parse(out).data.ledgers;
      expect(told.filter(({ data }: { data: unknown }) => data !== null)).toEqual([first, second]);
      expect(told[place]).toMatchObject({ ledger: bad, shop: null, data: null });
      expect(told[place].problems.length).toBeGreaterThan(0);
      expect(err).toContain(bad);
      expect(err).toMatch(/help: /);
    }
  });

  it('is one document that fits its schema, bad ledgers or not', () => {
    const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false });
    (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
    const validate = ajv.compile(documentSchema(command) as object);
    for (const ledgers of [
      [quiet, heavy],
      [broken, quiet, missing, empty],
    ]) {
      validate(many(command, ...ledgers));
      expect(validate.errors ?? []).toEqual([]);
    }
    validate({ ...many(command, quiet, heavy), data: { ledgers: [{ ledger: quiet }] } });
    expect(validate.errors).not.toBeNull();
  });

  it('of one ledger is what --ledger gives', () => {
    expect(at(command, heavy)).toEqual(at(command, '--ledger', heavy));
    expect(at(command, missing)).toEqual(at(command, '--ledger', missing));
    expect(many(command, quiet, quiet).data).toEqual(alone(command, quiet).data);
  });

  it('takes a time without a zone as the local time of each shop', () => {
    const { out } = run([command, quiet, lisbon, heavy, '--as-of', '2026-11-20 17:00', '--json'], {
      env: TZ,
    });
    const times = JSON.parse(out).data.ledgers.map(({ as_of }: { as_of: string }) => as_of);
    expect(times).toEqual([
      '2026-11-20T17:00:00-04:00',
      '2026-11-20T17:00:00+00:00',
      '2026-11-20T17:00:00+05:30',
    ]);
  });

  it('refuses --ledger beside them, and a time that is none, before it looks at any', () => {
    expect(at(command, quiet, lisbon, '--ledger', heavy)).toMatchObject({ code: 64, out: '' });
    expect(run([command, quiet, lisbon, '--as-of', 'soonish'])).toMatchObject({ code: 64, out: '' });
  });
});
