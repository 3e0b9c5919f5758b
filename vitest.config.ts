import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [
    {
      // The bundler gives CSV and YAML files of data/ as text; so do the tests.
      name: 'data-as-text',
      enforce: 'pre',
      load(id) {
        return /\/data\/[^?]*\.(csv|yaml)$/.test(id)
          ? `export default ${JSON.stringify(readFileSync(id, 'utf8'))}`
          : null;
      },
    },
  ],
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 30_000,
    coverage: { provider: 'v8', include: ['src/**/*.ts'], reporter: ['text-summary', 'html'] },
  },
});
