import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['**/node_modules/**'],
    reporters: ['default'],
    globalSetup: ['tests/engine/xsnap-install.ts'],
    testTimeout: 20_000,
    hookTimeout: 60_000,
    // Two cores are what the smallest supported build machine has; browser and serial tests share them.
    maxWorkers: 2,
  },
});
