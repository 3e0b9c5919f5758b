/** Whatever a file holds, it is read without a crash, and what is accepted is what YAML says it is. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { CORE_SCHEMA, load } from 'js-yaml';
import { expect, it } from 'vitest';
import { checkLedger } from '../../src/ledger/check.ts';
import { PROBLEMS } from '../../src/ledger/problems.ts';
import { renderProblem } from '../../src/render/problem.ts';
import { mutated } from './arbitrary.ts';
import { bytesOf, FILL, HEAD, ledger, WASH } from './sample.ts';

const clockMs = Date.parse('2027-01-01T00:00:00Z');
const corrections = readFileSync(new URL('../golden/p13-corrections.yaml', import.meta.url), 'utf8');

async function readsWell(bytes: Uint8Array): Promise<boolean> {
  const { file, problems } = await checkLedger(bytes, { clockMs, strict: true });
  const lines = file.text.split('\n').map((line) => line.replace(/\r$/, ''));
  for (const problem of problems) {
    expect(PROBLEMS).toHaveProperty(problem.code);
    expect(renderProblem(problem, 'a.yaml')).toMatch(/^a\.yaml/);
    // A file that is not UTF-8 has no text to compare with.
    if (problem.excerpt !== undefined && problem.code !== 'bad-utf8') {
      expect(problem.excerpt).toBe(lines[problem.line! - 1]);
      expect(problem.column! - 1 + problem.length!).toBeLessThanOrEqual(
        Math.max(problem.column!, problem.excerpt.length),
      );
    }
  }
  if (file.problems.length > 0) {
    return false;
  }
  // A second parser may be stricter about what it calls YAML; where it reads the file, it reads the same.
  const whole = load(file.text, { schema: CORE_SCHEMA }) as { events: unknown[] | null };
  const { events, ...head } = whole;
  expect(file.header).toEqual(head);
  expect(file.events.map((written) => written.event)).toEqual(events ?? []);
  return true;
}

it('ledgers with a few characters changed', async () => {
  let accepted = 0;
  const texts = fc.constantFrom(
    corrections,
    ledger(FILL, WASH),
    `${HEAD}events: []\n`,
    ledger(FILL, WASH).replaceAll('\n', '\r\n'),
  );
  await fc.assert(
    fc.asyncProperty(mutated(texts), async (text) => {
      accepted += Number(await readsWell(bytesOf(text)));
    }),
    { numRuns: 600 },
  );
  expect(accepted).toBeGreaterThan(30);
});

it('ledgers with lines taken out, doubled and exchanged', async () => {
  const lines = corrections.split('\n');
  const shuffled = fc.array(
    fc.oneof(
      fc.constantFrom(...lines),
      fc.constantFrom(
        '<<<<<<< a',
        '=======',
        '---',
        'events:',
        '  - ',
        '-',
        '\t',
        '  more: 1',
        '}',
        'shop: {}',
      ),
    ),
    { maxLength: 40 },
  );
  await fc.assert(
    fc.asyncProperty(shuffled, async (some) => {
      await readsWell(bytesOf(some.join('\n')));
    }),
    { numRuns: 300 },
  );
});

it('any bytes', async () => {
  await fc.assert(
    fc.asyncProperty(fc.uint8Array({ maxLength: 60 }), fc.boolean(), async (bytes, behindHead) => {
      await readsWell(behindHead ? new Uint8Array([...bytesOf(ledger(FILL)), ...bytes]) : bytes);
    }),
    { numRuns: 500 },
  );
});
