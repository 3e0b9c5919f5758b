/** The page of the format: its example is a ledger, and its tables leave out no key that the schemas take. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readLedger } from '../../src/ledger/read.ts';
import { EVENT_KINDS, EVENT_SCHEMAS } from '../../src/ledger/schema.ts';
import { HEADER_SCHEMA } from '../../src/ledger/schema-header.ts';
import { catalogue } from '../../src/substance/catalogue.ts';

const page = readFileSync(new URL('../../src/ledger/FORMAT.md', import.meta.url), 'utf8');
const COMMON = ['id', 'at', 'what', 'by', 'note', 'logged'];

describe('FORMAT.md', () => {
  it('has an example that reads without a problem and without the full parser', async () => {
    const [, example] = /```yaml\n([\s\S]*?)```/.exec(page)!;
    const file = await readLedger(Buffer.from(example!), catalogue);
    expect(file.problems).toEqual([]);
    expect(file.events).toHaveLength(3);
    expect(file.slowEvents).toBe(0);
  });

  it.each(EVENT_KINDS)('names every key of a %s', (what) => {
    const row = page.split('\n').find((line) => line.startsWith(`| \`${what}\``))!;
    const keys = Object.keys(EVENT_SCHEMAS[what].shape).filter((key) => !COMMON.includes(key));
    expect(keys.filter((key) => !row.includes(key))).toEqual([]);
  });

  it('names every key of the head', () => {
    const keys = JSON.stringify(Object.keys(HEADER_SCHEMA.shape));
    expect(JSON.parse(keys).filter((key: string) => !page.includes(key))).toEqual([]);
  });
});
