import { defineConfig } from 'vitest/config';

/** Hundreds of rounds with fresh seeds; `npm test` runs a few rounds of each with fixed ones. */
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/soak/**/*.soak.ts'],
    exclude: ['**/node_modules/**'],
    reporters: ['default'],
    testTimeout: 1_800_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    maxWorkers: 2,
  },
});
