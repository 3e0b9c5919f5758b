import { readdirSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { ledgerJsonSchema } from '../../src/ledger/json-schema.ts';
import { EVENT_KINDS } from '../../src/ledger/schema.ts';

const ajv = new Ajv2020({ strict: true, strictRequired: false, strictTypes: false, allErrors: true });
addFormats.default(ajv);
const validate = ajv.compile(ledgerJsonSchema());

const read = (folder: string, name: string): unknown =>
  load(readFileSync(new URL(`../${folder}/${name}`, import.meta.url), 'utf8'), { schema: CORE_SCHEMA });
const namesIn = (folder: string): string[] =>
  readdirSync(new URL(`../${folder}/`, import.meta.url)).filter((name) => name.endsWith('.yaml'));

/** Faults that are in the data and need neither a calendar, nor another event, nor the file's text to be seen. */
const SEEN =
  /^(missing-format|unknown-format|newer-format|missing-events|missing-key|unknown-key|unknown-event|unknown-word|wrong-type|wrong-unit|out-of-range|not-whole|bad-text|bad-name|text-needs-quotes|event-not-a-map|not-together(?!-3)|not-one-of(?!-3)|no-such-date|no-offset|bad-time)/;
/** YAML readers drop or rename these keys before a schema sees them. */
const UNSEEN = ['bad-name-2.yaml', 'text-needs-quotes-4.yaml', 'missing-format-2.yaml'];

describe('the JSON Schema of the ledger', () => {
  it('has a title, an id and a part for each event', () => {
    expect(ledgerJsonSchema()).toMatchObject({
      $id: expect.stringMatching(/^urn:/),
      title: expect.any(String),
    });
    expect(Object.keys(ledgerJsonSchema().$defs as object)).toEqual(EVENT_KINDS);
  });

  it.each(namesIn('golden'))('takes the golden ledger %s', (name) => {
    expect(validate(read('golden', name)), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
  });

  it.each(namesIn('faults').filter((name) => SEEN.test(name) && !UNSEEN.includes(name)))(
    'refuses the faulty ledger %s',
    (name) => {
      expect(validate(read('faults', name))).toBe(false);
    },
  );

  it('takes a ledger without events yet', () => {
    const { events: _, ...head } = read('golden', 'p13-corrections.yaml') as { events: unknown };
    expect(validate({ ...head, events: null })).toBe(true);
    expect(validate({ ...head, events: [] })).toBe(true);
  });
});
