import { afterEach, describe, expect, it } from 'vitest';
import { calibrate, type CalibrationPerson, type CalibrationStep } from '../../host/bench';
import { readElementTable, PRINTED_ELEMENT_OHM, PRINTED_LIMITER_OHM } from '../../host/bench/element-table';
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
  person(
    declines?: CalibrationStep,
    measured: CalibrationPerson['measured'] = () => undefined,
  ): CalibrationPerson {
    return {
      confirm: (step) => {
        if (step === 'clips-off') this.simulated.tellWorld({ ignition: false, calPost: 'open' });
        if (step === 'clips-on-posts') this.simulated.tellWorld({ calPost: 'chain' });
        return Promise.resolve(step !== declines);
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

describe('a calibration of the real firmware', () => {
  it('measures every row, stores the table and reads it back over a new greeting', async () => {
    const bench = workbench();
    const result = await bench.run(await bench.connect(), bench.person());
    if (result.kind === 'refused') throw new Error(result.message);
    expect(result.stored.calibration?.calibrationId).toBe(CALIBRATION_ID);
    expect(result.stored.rows).toHaveLength(16);
    for (const [index, printed] of PRINTED_ELEMENT_OHM.entries()) {
      const ohm = result.stored.rows[index]?.ohm ?? NaN;
      expect(Math.abs(ohm - printed)).toBeLessThan(0.015 * printed + 0.1);
    }
  }, 60_000);

  it('stores nothing when the person declines at the end', async () => {
    const bench = workbench();
    const link = await bench.connect();
    const before = await calibrationIdOf(link);
    const result = await bench.run(link, bench.person('store'));
    expect(result).toMatchObject({ kind: 'refused', code: 'CONFIRM_FIRST' });
    expect(await calibrationIdOf(link)).toBe(before);
    expect(before).not.toBe(CALIBRATION_ID);
  }, 60_000);

  it('leaves the old table in use when the link is cut in the middle', async () => {
    const bench = workbench();
    const link = await bench.connect();
    const before = await calibrationIdOf(link);
    const cutAfterFive: CalibrationPerson['measured'] = (_row, { done }) => {
      if (done === 5) void link.close();
    };
    const result = await bench.run(link, bench.person(undefined, cutAfterFive));
    expect(result.kind).toBe('refused');
    expect(await calibrationIdOf(await bench.connect())).toBe(before);
  }, 60_000);

  it('names the clips when they are not on the posts', async () => {
    const bench = workbench();
    const person = { ...bench.person(), confirm: () => Promise.resolve(true) };
    bench.simulated.tellWorld({ ignition: false, calPost: 'open' });
    const link = await bench.connect();
    bench.simulated.tellWorld({ ignition: false, calPost: 'open' });
    const result = await bench.run(link, person);
    expect(result.kind === 'refused' ? result.message : '').toMatch(/residual.*(clip|CAL)/);
  }, 60_000);

  it('refuses the table of a chain with a welded contact, and keeps the old one', async () => {
    const bench = workbench();
    const link = await bench.connect();
    const before = await calibrationIdOf(link);
    bench.simulated.tellWorld({ weld: { contact: 8, as: 'closed' } });
    const result = await bench.run(link, bench.person());
    expect(result.kind === 'refused' ? result.message : '').toContain('R9');
    expect(await calibrationIdOf(link)).toBe(before);
  }, 60_000);
});
