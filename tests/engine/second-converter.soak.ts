import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { useFirmware } from './bench';
import { ChipFirmware } from './chip-time/firmware';
import { greeting } from './scenarios/greeting';
import { guarding } from './scenarios/guarding';
import { meter } from './scenarios/meter';
import { trips } from './scenarios/trips';
import { engineState } from './xsnap-install';

// The world in Node carries the ADS122C14 too; what runs in the engine is the bundle with its driver.
vi.mock('../../firmware-ts/meter/converter', () => import('../../firmware-ts/meter/second-converter'));
vi.mock(
  '../../firmware-ts/board/simulated/converter',
  () => import('../../firmware-ts/board/simulated/second-converter'),
);

const engine = engineState();
if (engine.kind === 'absent' && process.env['CI'] === 'true')
  throw new Error(`the XS engine is mandatory here: ${engine.why}`);

describe.skipIf(engine.kind === 'absent')('the box with the second converter, in the real XS engine', () => {
  let firmware: ChipFirmware;

  beforeAll(async () => {
    firmware = await ChipFirmware.load('reference', 'second');
    useFirmware(firmware.start);
  });
  afterAll(() => {
    useFirmware(undefined);
    firmware.quit();
  });

  // Greeting holds the self-test, meter what a chip does that forgets or hangs.
  it.each([...greeting, ...guarding, ...trips, ...meter].map((one) => [one.title, one] as const))(
    '%s',
    (_title, one) => {
      expect(one.run).not.toThrow();
    },
  );
});
