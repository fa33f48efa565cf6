import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** The page and the engine take minutes a file: they go first, and the short files fill up what is left of the time. */
class LongOnesFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification): boolean => /\/tests\/(e2e|engine)\//.test(moduleId);
    const sorted = await super.sort(files);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    exclude: ['**/node_modules/**'],
    reporters: ['default'],
    setupFiles: ['tests/fixed-seed.ts'],
    globalSetup: ['tests/engine/xsnap-install.ts'],
    // A limit ends what hangs. It is no measure of speed: a crowded machine may be four times as slow as a quiet one.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    sequence: { sequencer: LongOnesFirst },
    // Two cores are what the smallest supported build machine has. Half of what browser and serial tests do is to wait.
    maxWorkers: 3,
  },
});
