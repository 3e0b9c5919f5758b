import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [
    {
      // The bundler gives CSV and YAML files of data/, and what shells read, as text; so do the tests.
      name: 'data-as-text',
      enforce: 'pre',
      load(id) {
        return /\/data\/[^?]*\.(csv|yaml)$|\.(bash|zsh|fish)$/.test(id)
          ? `export default ${JSON.stringify(readFileSync(id, 'utf8'))}`
          : null;
      },
    },
  ],
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 30_000,
    // Most tests wait for a program they started: on a small machine one worker leaves half of it idle.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    coverage: { provider: 'v8', include: ['src/**/*.ts'], reporter: ['text-summary', 'html'] },
  },
});
