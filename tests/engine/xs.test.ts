import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { scenarios } from './scenarios';
import { XsWorker, bundleForXs, workerPath } from './xs-worker';

const path = workerPath();
const isDemanded = process.env.CI === 'true';

describe('the XS engine', () => {
  it.runIf(isDemanded)(
    'is installed where the project demands it (npm install in tests/engine/xsnap)',
    () => {
      expect(path).toBeDefined();
    },
  );
});

describe.runIf(path !== undefined)('the box, inside the real XS engine', () => {
  let worker: XsWorker;

  beforeAll(async () => {
    worker = new XsWorker(path ?? '');
    await worker.evaluate(await bundleForXs('tests/engine/xs-entry.ts'));
  });
  afterAll(() => worker.stop());

  describe.each(Object.entries(scenarios))('%s', (part, rules) => {
    it.each(rules.map(({ title }, index) => [title, index] as const))('%s', async (_title, index) => {
      expect(await worker.command(`${part}/${index}`)).toBe('ok');
    });
  });
});
