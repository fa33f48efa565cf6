import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { eightElements } from '../../firmware-ts/board/first-build/eight';
import type * as Design from '../../firmware-ts/board/reference-design';
import { useFirmware } from './bench';
import { ChipFirmware } from './chip-time/firmware';
import { guarding } from './scenarios/guarding';
import { trips } from './scenarios/trips';
import { someOf } from '../support/deep';
import { engineState } from './xsnap-install';

// The world in Node is the board of eight elements as well; what runs in the engine is its own bundle.
vi.mock('../../firmware-ts/board/reference-design', async (original) => {
  const full = await original<typeof Design>();
  return { ...full, ...eightElements(full) };
});

/** Rules about what the whole chain in the path leaves: 6.4 kohm there, 205 ohm here (tests/firmware/first-build.test.ts). */
const beyond = [
  'reports a welded output contact whatever it was doing, and does not let it be cleared',
  'opens with everything in the path when more than half a milliamp flows through an open output',
];

const engine = engineState();
if (engine.kind === 'absent' && process.env['CI'] === 'true')
  throw new Error(`the XS engine is mandatory here: ${engine.why}`);

describe.skipIf(engine.kind === 'absent')('the first build, inside the real XS engine, in chip time', () => {
  let firmware: ChipFirmware;

  beforeAll(async () => {
    firmware = await ChipFirmware.load('first-build');
    useFirmware(firmware.start);
  });
  afterAll(() => {
    useFirmware(undefined);
    firmware.quit();
  });

  // Each rule runs in the whole bundle in every run of the suite, and in this smaller one in the soak.
  it.each(
    someOf(
      [...guarding, ...trips].filter(({ title }) => beyond.every((each) => !title.endsWith(each))),
      3,
    ).map((one) => [one.title, one] as const),
  )('%s', (_title, one) => {
    expect(one.run).not.toThrow();
  });
});
