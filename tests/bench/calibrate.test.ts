import { afterEach, describe, expect, it } from 'vitest';
import { calibrate, type CalibrationPerson } from '../../host/bench';
import {
  readElementTable,
  PRINTED_ELEMENT_OHM,
  PRINTED_LIMITER_OHM,
} from '../../host/bench/calibrate/element-table';
import { openLink, simulatedBox, type BoxLink, type SimulatedBox } from '../../host/link';
import { elements, path } from '../../firmware-ts/board/reference-design';
import { untilLive } from '../support/link-events';
import { simulatedProgram } from '../support/simulated-program';

const ends: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const CALIBRATION_ID = 77;

class Workbench {
  readonly simulated: SimulatedBox = simulatedBox({
    gauge: 'thermal-temperature',
    seed: 5,
    programPath: simulatedProgram(),
  });

  async connect(): Promise<BoxLink> {
    const link = openLink(this.simulated.source);
    ends.push(() => link.close());
    await untilLive(link);
    return link;
  }

  /** Someone who follows the procedure, clips and all, but declines one step if told to. */
  person(measured: CalibrationPerson['measured'] = () => undefined): CalibrationPerson {
    return {
      found: () => undefined,
      confirm: (step) => {
        if (step === 'clips-off') this.simulated.tellWorld({ ignition: false, calPost: 'open' });
        if (step === 'clips-on-posts') this.simulated.tellWorld({ calPost: 'chain' });
        return Promise.resolve(true);
      },
      measured,
      compared: () => undefined,
    };
  }

  async run(link: BoxLink, person: CalibrationPerson): ReturnType<typeof calibrate> {
    return calibrate(link, {
      person,
      calibrationId: CALIBRATION_ID,
      validDayCount: 30,
      signal: new AbortController().signal,
      greetAnew: async () => {
        await link.close();
        return this.connect();
      },
    });
  }
}

const workbench = (): Workbench => {
  const made = new Workbench();
  ends.push(() => made.simulated.stop());
  return made;
};

const calibrationIdOf = async (link: BoxLink): Promise<number | undefined> => {
  const table = await readElementTable(link);
  return table.kind === 'table' ? table.calibration?.calibrationId : undefined;
};

describe('the printed values that the host knows', () => {
  it('are those of the design', () => {
    expect(PRINTED_ELEMENT_OHM).toEqual(elements.map(({ nominalMilliohm }) => nominalMilliohm / 1000));
    expect(PRINTED_LIMITER_OHM).toBe(path.limiter.milliohm / 1000);
  });
});

describe('a calibration of the box as a program of its own', () => {
  it('leaves the old table in use when the link is cut in the middle', async () => {
    const bench = workbench();
    const link = await bench.connect();
    const before = await calibrationIdOf(link);
    const cutAfterFive: CalibrationPerson['measured'] = (_row, { done }) => {
      if (done === 5) void link.close();
    };
    const result = await bench.run(link, bench.person(cutAfterFive));
    expect(result.kind).toBe('refused');
    expect(await calibrationIdOf(await bench.connect())).toBe(before);
  });
});
