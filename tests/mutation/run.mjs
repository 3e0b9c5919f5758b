/**
 * `npm run mutate -- ROOM [FILE…]`: changes one thing at a time in a room of src, and tells which changes no test sees.
 * README.md says how to read it.
 */
import { Stryker } from '@stryker-mutator/core';

const [room = 'substance', ...files] = process.argv.slice(2);
// The workers' own configuration of vitest picks the tests by it.
process.env.MUTATE_ROOM = room;
const sampled = process.env.MUTATE_EVERY !== undefined;

await new Stryker({
  packageManager: 'npm',
  plugins: ['@stryker-mutator/vitest-runner', new URL('sample.mjs', import.meta.url).pathname],
  checkers: sampled ? ['sample'] : [],
  ignorers: ['kill-points'],
  testRunner: 'vitest',
  vitest: { configFile: 'tests/mutation/vitest.config.ts', related: false },
  mutate: (files.length > 0 ? files : ['**/*.ts']).map((file) => `src/${room}/${file}`),
  coverageAnalysis: 'perTest',
  concurrency: Number(process.env.MUTATE_CONCURRENCY ?? 1),
  // A name that is not there: the compiler of TypeScript 7 has not the interface that is asked for.
  tsconfigFile: 'none',
  tempDirName: 'coverage/mutation/sandbox',
  ignorePatterns: ['coverage', 'dist', '.git', 'tests/torture', 'tests/bench'],
  incremental: !sampled,
  incrementalFile: `coverage/mutation/${room}.json`,
  reporters: ['clear-text', 'json', 'progress-append-only'],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false, reportMutants: true },
  jsonReporter: { fileName: `coverage/mutation/${room}-last.json` },
  // Loops without an end are among the changes; every one waits so long.
  timeoutMS: 8000,
  dryRunTimeoutMinutes: 5,
}).runMutationTest();
