import { readFileSync } from 'node:fs';
import { expect } from 'vitest';

/**
 * Properties are tried on the same inputs in every run: a test that its seed decides is no test. Fresh seeds are the
 * soak's business (`tests/soak/`), and a counterexample found there stays as a case of its own. fast-check is loaded only
 * where a file has use for it.
 */
const { testPath } = expect.getState();
if (testPath !== undefined && readFileSync(testPath, 'utf8').includes('fast-check')) {
  const { default: fc } = await import('fast-check');
  fc.configureGlobal({ seed: 20_261_129 });
}
