import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** The page and the engine take minutes a file: they go first, and the short files fill up what is left of the time. */
class LongOnesFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification): boolean => /\/tests\/(e2e|engine)\//.test(moduleId);
    const sorted = await super.sort(files);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

/** Nothing is kept between these files: their modules are loaded once a worker, not once a file. The firmware keeps much. */
const ONCE = [
  'bench',
  'catalogue',
  'cli',
  'demo-sessions',
  'link',
  'record',
  'scene',
  'server',
  'store',
  'web',
].map((each) => `tests/${each}`);
const NUMBERS = ['tests/core', 'tests/job', 'tests/protocol', 'tests/hardware'];

/** A part of the suite with needs of its own; what is common stands below. A part whose files do not run needs nothing. */
const room = (
  name: string,
  folders: readonly string[],
  { exclude = [], ...needs }: NonNullable<TestProjectInlineConfiguration['test']>,
): TestProjectInlineConfiguration => ({
  extends: true,
  test: {
    name,
    include: folders.map((folder) => `${folder}/**/*.test.{ts,tsx}`),
    exclude: ['**/node_modules/**', ...exclude],
    ...needs,
  },
});

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    reporters: ['default'],
    setupFiles: ['tests/fixed-seed.ts'],
    projects: [
      room('page', ['tests/e2e'], { globalSetup: ['tests/e2e/one-browser.ts'], isolate: false }),
      room('engine', ['tests/engine'], { globalSetup: ['tests/engine/xsnap-install.ts'] }),
      room('numbers', NUMBERS, { isolate: false }),
      room('house', ONCE, { isolate: false }),
      room('host', ['tests'], {
        exclude: ['tests/e2e/**', 'tests/engine/**', ...[...NUMBERS, ...ONCE].map((each) => `${each}/**`)],
      }),
    ],
    // A limit ends what hangs. It is no measure of speed: a crowded machine may be four times as slow as a quiet one.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    sequence: { sequencer: LongOnesFirst },
    // Two cores are what the smallest supported build machine has. Half of what browser and serial tests do is to wait.
    maxWorkers: 3,
  },
});
