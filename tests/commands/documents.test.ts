import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/definition.ts';
import { DOCUMENTS, documentSchema } from '../../src/render/schemas.ts';
import { bundled, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

/** Every key must be described: an object with named keys takes no others. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
  const isObject = inner.type === 'object' && 'properties' in inner && !('additionalProperties' in inner);
  return isObject ? { ...inner, additionalProperties: false } : inner;
}

function validator(schema: unknown) {
  const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
  (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
  return ajv.compile(schema as object);
}

/** What prints each document; each on a fresh ledger. */
const PRINTED: [name: string, ...args: string[]][] = [
  ['baths'],
  ['entries', '--states'],
  ['wash', '6', 'model', '2', 'mask', '--case', '26-0118'],
  ['wash', '--area', '300', '--in', 'clean', '--minutes', '3', '--at', '2026-11-18 12:00'],
  ['reading', 'dirty', '--density', '0.803', '--brix', '31.2', '--temp', '21'],
  ['reading', 'clean', '--level', '3.9 L', '--at', '2026-11-18 12:00'],
  ['weighed', '--wet', '412.3', '--clean', '409.1'],
  ['top-up', 'clean', 'to', 'mark'],
  ['drain', 'dirty', '200', 'mL', '--into', 'can-1'],
  ['rotate', '--into', 'can-1'],
  ['refill', 'clean', '--dry-run'],
  ['undo'],
  ['undo', '--dry-run'],
  ['undo', 'k3f9x'],
  ['amend', 'k3f9x', 'drained_min=45', '--why', 'x'],
  ['void', 'k3f9x', '--why', 'x'],
  ['check', '--strict'],
  ['strength', '--sg', '0.7866', '--temp', '20', '--label', '99'],
  ['strength', '--index', '1.3772', '--label', '91 vol%'],
  ['strength', '--density', '0.95'],
  ['tables'],
  ['tables', '--wt', '91'],
  ['tables', '--index', '1.3750', '--temp', '25'],
  ['tables', '--density', '0.811', '--temp', '22', '--glass', '20'],
  ['doctor'],
  ['explain'],
  ['explain', 'resin', 'carry', 'limits', 'loads-left'],
  ['schema'],
];

function holds(name: string, out: string): void {
  const document = JSON.parse(out);
  const validate = validator(closed(documentSchema(name)));
  validate(document);
  expect(validate.errors ?? []).toEqual([]);
  expect(document.schema).toBe(`bathbook/${name}/1`);
}

describe('every document', () => {
  it.each(PRINTED)('%s %s %s %s fits its schema, key for key', (name, ...args) => {
    const { out, err } = run([
      name,
      ...args.filter((arg) => arg !== undefined),
      '--json',
      '--ledger',
      ledgerOf(),
      '--as-of',
      NOW,
    ]);
    expect(err).not.toContain('fault of its own');
    holds(name, out);
  });

  it('of an empty shop fits as well', () => {
    const ledger = ledgerOf([]);
    const json = (...args: string[]) => run([...args, '--json', '--ledger', ledger, '--as-of', NOW]).out;
    holds('baths', json('baths'));
    holds('entries', json('entries'));
    holds('fill', json('fill', 'dirty', '4 L', 'ipa99'));
    holds('baths', json('baths'));
  });

  it('of a ledger with problems fits as well', () => {
    const broken = ledgerOf([...LINES, '  - {id: "x", at: yesterday, what: wsh}']);
    holds('check', run(['check', broken, 'nowhere.yaml', '--json', '--as-of', NOW]).out);
  });

  it('of setup and demo fits as well', () => {
    const folder = tempFolder();
    holds('setup', run(['setup', '--here', '--json'], { cwd: folder }).out);
    holds('demo', run(['demo', `${folder}/demo`, '--json'], { cwd: folder }).out);
  });

  it('of completion and docs fits as well', () => {
    holds('completion', run(['completion', 'zsh', '--json']).out);
    holds('docs', run(['docs', 'man', '--json']).out);
  });

  it('has the clock and the zone of the shop', () => {
    const { out } = run(['baths', '--json', '--ledger', ledgerOf(), '--as-of', '2026-07-01T12:00:00Z']);
    expect(JSON.parse(out).as_of).toBe('2026-07-01T09:00:00-03:00');
  });
});

describe('schema', () => {
  it('names a document for every command', () => {
    expect(new Set(DOCUMENTS)).toEqual(new Set(COMMANDS.map(({ name }) => name)));
    expect(run(['schema']).out.trim().split('\n')).toEqual(['ledger', ...DOCUMENTS]);
  });

  it.each(['ledger', ...DOCUMENTS])('prints that of %s, which is a JSON Schema', (name) => {
    const { code, out } = run(['schema', name]);
    expect(code).toBe(0);
    expect(() => validator(JSON.parse(out))).not.toThrow();
  });

  it('does not take just anything', () => {
    const validate = validator(documentSchema('baths'));
    const good = JSON.parse(run(['baths', '--json', '--ledger', ledgerOf(), '--as-of', NOW]).out);
    expect(validate(good)).toBe(true);
    expect(validate({ ...good, schema: 'bathbook/baths/2' })).toBe(false);
    delete good.data.baths[0].resin_g;
    expect(validate(good)).toBe(false);
  });
});
