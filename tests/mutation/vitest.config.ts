import { defineConfig } from 'vitest/config';
import type { Reporter, Vitest } from 'vitest/node';
import usual from '../../vitest.config.ts';

const room = process.env.MUTATE_ROOM ?? 'substance';

/** Tests from outside a room that hold it against something published, or against another implementation. */
const ALSO: Record<string, string[]> = {
  substance: ['tests/published/ipa.test.ts'],
  bath: [
    'tests/golden.test.ts',
    'tests/published/rinse-oracle.test.ts',
    'tests/published/rinse-parts.test.ts',
    'tests/published/evaporation.test.ts',
    'tests/belief/readings.test.ts',
  ],
  ledger: ['tests/faults/faults.test.ts'],
};

/** Of the rooms whose tests draw ledgers for seconds on end or start programs: what is quick. */
const ONLY: Record<string, string[]> = {
  belief:
    'band belief believe bend closed-forms ensemble estimated factors lessons lump meaning quantile readings scatter sight update world zeros'
      .split(' ')
      .map((name) => `tests/belief/${name}.test.ts`),
  ledger:
    'check format id line near plain-decimal quick read reading-slips rules-reading scan scan-header schema settle time units yaml-places'
      .split(' ')
      .map((name) => `tests/ledger/${name}.test.ts`),
};

/**
 * `MUTATE_TESTS="learn faults/faults"` runs these alone, of the room or of tests/: quick where a file has tests that find its
 * faults by themselves.
 */
const told = process.env.MUTATE_TESTS?.split(' ').map(
  (name) => `tests/${name.includes('/') ? name : `${room}/${name}`}.test.ts`,
);

/**
 * A change that throws while its file is loaded leaves a test file without tests, which the runner takes for one without
 * failures. This puts a failed test there.
 */
function unloadable(): Reporter {
  let vitest: Vitest;
  return {
    onInit(context) {
      vitest = context;
    },
    onTestRunEnd() {
      for (const file of vitest.state.getFiles()) {
        if (file.result?.state !== 'fail' || file.tasks.length > 0) continue;
        const id = `${file.id}_load`;
        const names = { name: 'loads', fullName: 'loads', fullTestName: 'loads' };
        const result = { state: 'fail', errors: file.result.errors ?? [] };
        file.tasks.push({
          type: 'test',
          id,
          ...names,
          file,
          suite: file,
          mode: 'run',
          meta: {},
          result,
        } as never);
      }
    },
  };
}

export default defineConfig({
  ...usual,
  root: process.cwd(),
  test: {
    ...usual.test,
    include: told ?? [...(ONLY[room] ?? [`tests/${room}/**/*.test.ts`]), ...(ALSO[room] ?? [])],
    reporters: ['default', unloadable()],
  },
});
