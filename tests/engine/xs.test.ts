import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { firmwareBundle } from '../../host/firmware-bundle.mjs';
import { scenarios } from './scenarios';
import { engineState } from './xsnap-install';
import { XsnapWorker } from './xsnap-worker';

const engine = engineState();
if (engine.kind === 'absent') {
  if (process.env['CI'] === 'true') throw new Error(`the XS engine is mandatory here: ${engine.why}`);
  console.log(`SKIPPED: the box inside the real XS engine: ${engine.why}`);
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const textOf = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

describe.skipIf(engine.kind === 'absent')('the box, inside the real XS engine', () => {
  let worker: XsnapWorker;

  beforeAll(async () => {
    const entry = new URL('xs-entry.ts', import.meta.url).pathname;
    worker = XsnapWorker.start();
    // Minified and stripped as for the microcontroller: what is tested is what is shipped.
    await worker.evaluate((await firmwareBundle(entry, { format: 'iife' })).text);
  });
  afterAll(() => worker.quit());

  describe.each(scenarios)('%s', (part, rules) => {
    it.each(rules.map(({ title }, index) => [title, index] as const))('%s', async (_title, index) => {
      const { bytes } = await worker.command(bytesOf(`${part}/${index}`));
      expect(textOf(bytes)).toBe('ok');
    });
  });
});
