import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/bench/**/*.bench.ts'],
    // One at a time and in one process: the figures are compared with each other.
    fileParallelism: false,
    testTimeout: 1_800_000,
    hookTimeout: 600_000,
    // No busy machine decides whether a box is there.
    expect: { poll: { timeout: 60_000 } },
    reporters: ['default'],
    disableConsoleIntercept: true,
    globalSetup: ['tests/bench/print-table.ts'],
  },
});
