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
  readonly simulated: SimulatedBox;

  constructor(program: 'simulated' | 'first-build') {
    this.simulated = simulatedBox({
      gauge: 'thermal-temperature',
      seed: 5,
      programPath: simulatedProgram(program),
    });
  }

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

const workbench = (program: 'simulated' | 'first-build' = 'simulated'): Workbench => {
  const made = new Workbench(program);
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

  it('measures, stores and reads back the ten rows of a box of eight elements', async () => {
    const bench = workbench('first-build');
    const result = await bench.run(await bench.connect(), bench.person());
    if (result.kind !== 'calibrated') throw new Error(`${result.code}: ${result.message}`);
    expect(result.rows.map(({ name }) => name)).toEqual([
      ...Array.from({ length: 8 }, (_, index) => `R${index + 1}`),
      'R15',
      'residual',
    ]);
    // The box counts its limiter and the residual from where its elements end.
    const { rows, boxIndex } = result.stored.chain;
    expect(rows).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 14, 15]);
    expect(rows.map(boxIndex)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(result.stored.calibration?.calibrationId).toBe(CALIBRATION_ID);
    expect(result.stored.rows.map(({ ohm }) => ohm)).toEqual(result.rows.map(({ ohm }) => ohm));
    expect(result.largestStepOhm).toBeGreaterThan(0.5);
    expect(result.largestStepOhm).toBeLessThan(1.5);
  });
});
