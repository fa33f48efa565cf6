import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { firmwareBundle } from '../../host/firmware-bundle.mjs';
import { faults, refusals } from '../../protocol';
import { faultKinds } from './fault-injection';
import { walkKinds } from './moves';
import { neverTold, reportFigures, reportWalks } from './reports';
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

const WALKS = 300;
const BOX_SEEDS = [11, 12, 13, 14];
const SETTINGS = 60;

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

  // After every rule above, in this same worker.
  it('has told every code of the catalogue that this box can tell', async () => {
    const { bytes } = await worker.command(bytesOf('codes'));
    const numbersOf = (catalogue: Readonly<Record<string, { readonly number: number }>>): string =>
      Object.keys(catalogue)
        .filter((name) => !(name in neverTold))
        .map((name) => catalogue[name]!.number)
        .sort((a, b) => a - b)
        .join();
    expect(textOf(bytes)).toBe(`${numbersOf(refusals)}/${numbersOf(faults)}`);
  });

  it.each(walkKinds.map((name, kind) => [name, kind] as const))(
    'walks moves as Node does, instant by instant: %s',
    async (name, kind) => {
      const { bytes } = await worker.command(bytesOf(`walk/${kind}/${WALKS}`));
      expect(textOf(bytes)).toBe(reportWalks(kind, WALKS));
      const [tried, below] = textOf(bytes).split(',').map(Number);
      expect(tried).toBe(WALKS);
      if (name === 'forced') expect(below).toBeGreaterThan(WALKS / 4);
      else expect(below).toBe(0);
    },
  );

  it.each(BOX_SEEDS)('makes, states and measures resistances as in Node: box %i', async (seed) => {
    const { bytes } = await worker.command(bytesOf(`figures/${seed}/${SETTINGS}`));
    const found = textOf(bytes).split(',').map(Number);
    // Noise is made with Math.log and Math.cos, of which engines may differ in the last digit.
    const inNode = reportFigures(seed, SETTINGS).split(',').map(Number);
    found.forEach((figure, index) => expect(figure).toBeCloseTo(inNode[index]!, 6));
    const [made = NaN, stated = NaN, covered = NaN, measured = NaN] = found;
    expect(made).toBeLessThanOrEqual(1);
    expect(stated).toBeLessThanOrEqual(1);
    expect(covered).toBeGreaterThanOrEqual(0.95);
    expect(measured).toBeLessThan(0.02);
  });
});
