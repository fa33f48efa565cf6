import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faults, refusals } from '../../protocol';
import { figuresOf, settingsOf } from './accuracy';
import { told, useFirmware } from './bench';
import { ChipFirmware } from './chip-time/firmware';
import { faultKinds } from './fault-injection';
import { neverTold } from './reports';
import { scenarios } from './scenarios';
import { isDeep, someOf } from '../support/deep';
import { engineState } from './xsnap-install';

const engine = engineState();
if (engine.kind === 'absent') {
  if (process.env['CI'] === 'true') throw new Error(`the XS engine is mandatory here: ${engine.why}`);
  console.log(`SKIPPED: the box inside the real XS engine: ${engine.why}`);
}

const QUICK_FAULTS = ['program hangs at every step', 'converter hangs at every step'];
/** Here the firmware reads back its own copy of the flash, which is always good; in Node the refusal is told. */
const FLASH_IN_THE_ENGINE = 'STORAGE';
/** For the same reason; `tests/firmware` cuts the power at every operation of the flash in Node. */
const CUTS_THE_FLASH = 'has the old table or the new one, whole, wherever the power goes while it stores';
const BOX_SEEDS = someOf([11, 12], 2);
const SETTINGS = isDeep ? 40 : 15;

/** The shipped bundle in the real engine, and its clock goes on by what each turn costs on the chip. */
describe.skipIf(engine.kind === 'absent')('the box, inside the real XS engine, in chip time', () => {
  let firmware: ChipFirmware;

  beforeAll(async () => {
    firmware = await ChipFirmware.load();
    useFirmware(firmware.start);
  });
  afterAll(() => {
    useFirmware(undefined);
    firmware.quit();
  });

  describe.each(scenarios)('%s', (_part, rules) => {
    const here = rules.filter(({ title }) => title !== CUTS_THE_FLASH);
    it.each(here.map((one) => [one.title, one] as const))('%s', (_title, one) => {
      expect(one.run).not.toThrow();
    });
  });

  // After every rule above, in this same run.
  it('has told every code of the catalogue that this box can tell', () => {
    const numbersOf = (catalogue: Readonly<Record<string, { readonly number: number }>>): number[] =>
      Object.keys(catalogue)
        .filter((name) => !(name in neverTold) && name !== FLASH_IN_THE_ENGINE)
        .map((name) => catalogue[name]!.number);
    expect([...told.refusals].sort()).toEqual(numbersOf(refusals).sort());
    expect([...told.faults].sort()).toEqual(numbersOf(faults).sort());
  });

  // The quick kinds; `npm run bench` injects all of them.
  it.each(faultKinds.filter(([name]) => QUICK_FAULTS.includes(name)))('survives: %s', (_name, run) => {
    expect(run().filter(({ trouble }) => trouble !== undefined)).toEqual([]);
  });

  it.each(BOX_SEEDS)('makes, states and measures resistances within what is allowed: box %i', (seed) => {
    const figures = figuresOf(settingsOf(seed, SETTINGS));
    expect(figures.madeAgainstAskedP99).toBeLessThanOrEqual(1);
    expect(figures.statedAgainstTrueWorst).toBeLessThanOrEqual(1);
    expect(figures.coveredFraction).toBeGreaterThanOrEqual(0.95);
    expect(figures.measuredWorstFraction).toBeLessThan(0.02);
  });
});
