import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { firmwareBundle } from '../../host/firmware-bundle.mjs';
import { faultKinds } from './fault-injection';
import { scenarios } from './scenarios';
import { engineState } from './xsnap-install';
import { XsnapWorker } from './xsnap-worker';

const engine = engineState();
if (engine.kind === 'absent') {
  if (process.env['CI'] === 'true') throw new Error(`the XS engine is mandatory here: ${engine.why}`);
  console.log(`SKIPPED: the box inside the real XS engine: ${engine.why}`);
}

const QUICK_FAULTS = [
  'program hangs at every step',
  'converter hangs at every step',
  'each contact welded or open',
];

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

  // The quick kinds; `npm run bench` injects all of them here.
  it.each(
    faultKinds.map(([name], kind) => [name, kind] as const).filter(([name]) => QUICK_FAULTS.includes(name)),
  )('survives: %s', async (_name, kind) => {
    const { bytes } = await worker.command(bytesOf(`faults/${kind}`));
    expect(textOf(bytes)).toMatch(/^\d+ tried, all survived$/);
  });

  describe.each(scenarios.map(([name, rules], part) => [name, part, rules] as const))(
    '%s',
    (_name, part, rules) => {
      it.each(rules.map(({ title }, index) => [title, index] as const))('%s', async (_title, index) => {
        const { bytes } = await worker.command(bytesOf(`${part}/${index}`));
        expect(textOf(bytes)).toBe('ok');
      });
    },
  );
});
