import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config';

const root = new URL('../..', import.meta.url).pathname;

/** The files of the suite that have more cases than `npm test` takes. */
const withMoreCases = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((file) => /\.test\.tsx?$/.test(file) && !file.includes('node_modules'))
  .map((file) => `tests/${file}`)
  .filter((file) => /from '[./]*\/support\/deep'/.test(readFileSync(join(root, file), 'utf8')));

const part = (
  name: string,
  test: TestProjectInlineConfiguration['test'],
): TestProjectInlineConfiguration => ({
  extends: true,
  test: { name, exclude: ['**/node_modules/**'], ...test },
});

export default defineConfig({
  test: {
    root,
    reporters: ['default'],
    env: { DEEP: 'true' },
    projects: [
      // Hundreds of rounds with fresh seeds; `npm test` runs a few rounds of each with fixed ones.
      part('rounds', { include: ['tests/soak/**/*.soak.ts'] }),
      // What takes long and hangs on no chance: the page's further stories, and every case of rules with many.
      part('page', {
        include: ['tests/e2e/**/*.soak.ts', ...withMoreCases.filter((file) => file.includes('/e2e/'))],
        globalSetup: ['tests/e2e/one-browser.ts'],
        setupFiles: ['tests/fixed-seed.ts'],
        isolate: false,
      }),
      part('engine', {
        include: ['tests/engine/**/*.soak.ts'],
        globalSetup: ['tests/engine/xsnap-install.ts'],
        setupFiles: ['tests/fixed-seed.ts'],
      }),
      part('cases', {
        include: ['tests/**/*.soak.ts', ...withMoreCases],
        exclude: ['**/node_modules/**', 'tests/soak/**', 'tests/e2e/**', 'tests/engine/**'],
        setupFiles: ['tests/fixed-seed.ts'],
      }),
    ],
    testTimeout: 1_800_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    maxWorkers: 3,
  },
});
