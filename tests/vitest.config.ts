import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['**/node_modules/**'],
    reporters: ['default'],
    globalSetup: ['tests/engine/xsnap-install.ts'],
    // A limit ends what hangs. It is no measure of speed: a crowded machine may be four times as slow as a quiet one.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    // Two cores are what the smallest supported build machine has; browser and serial tests share them.
    maxWorkers: 2,
  },
});
