import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [
    {
      // The bundler gives CSV files as text; so do the tests.
      name: 'csv-as-text',
      enforce: 'pre',
      load(id) {
        return id.endsWith('.csv') ? `export default ${JSON.stringify(readFileSync(id, 'utf8'))}` : null;
      },
    },
  ],
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 30_000,
    coverage: { provider: 'v8', include: ['src/**/*.ts'], reporter: ['text-summary', 'html'] },
  },
});
