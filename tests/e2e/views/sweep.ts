import type { FakeDesk } from '../../support/fake-bench';
import { concluded, drive, readingsGiven, sweepBegun, sweepDone, trip } from '../sample-job';
import { job, type View } from './view';

const answer = { kind: 'answer', stepId: 'w1up3', wants: 'reading', unattendedInMs: 170_000 } as const;

/** Three readings into a sweep. */
const underWay = (desk: FakeDesk): void => {
  concluded(desk);
  sweepBegun(desk);
  readingsGiven(desk, 3);
};

export const sweepViews: readonly View[] = [
  { name: 'sweep-start', make: job(concluded), open: 'Sweep' },
  {
    name: 'sweep-wait',
    waits: 'the needle creeps to its place',
    make: job((desk) => {
      underWay(desk);
      drive(
        desk,
        {
          kind: 'settling',
          stepId: 'w1up3',
          settleMs: 60_000,
          passedMs: 22_000,
          currentSettled: true,
          why: 'thermal needle',
        },
        3,
      );
      // A pulsing stabiliser: what heats is told, and no current that settles.
      const made = { askedOhm: 114, madeOhm: 114.02, measuredOhm: 114.1 };
      desk.show({ output: { ...made, pulsing: true, heatVolt: 6.61, milliamp: 57.9, watt: 0.38 } });
    }),
    act: async (page) => {
      await page.getByText('Heat volts').waitFor();
      await page.getByText('the feed is pulsing, so only the time counts').waitFor();
    },
  },
  {
    name: 'sweep-read',
    make: job((desk) => {
      underWay(desk);
      drive(desk, answer, 3);
    }),
  },
  {
    name: 'sweep-watching',
    make: job((desk) => {
      underWay(desk);
      drive(desk, answer, 3);
      desk.append({ kind: 'taken-over', from: 'laptop 1' }, 'phone 2');
      desk.show({ attending: 'phone 2' });
    }),
  },
  {
    name: 'sweep-paused',
    make: job((desk) => {
      underWay(desk);
      desk.append({ kind: 'sweep-paused', sweepId: 'w1', reason: 'paused by hand' }, 'laptop 1');
    }),
  },
  {
    name: 'sweep-point',
    make: job(sweepDone),
    open: 'Sweep',
    act: (page) => page.locator('.plot-point').nth(2).focus(),
  },
  {
    name: 'sweep-seek',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk, 'seek');
      drive(desk, { ...answer, stepId: 'w1up1', wants: 'needle', mark: 60 }, 1);
      desk.show({ step: { stepId: 'w1up1', leg: 'up', aim: { kind: 'mark', reading: 60 }, why: 'plan' } });
    }),
  },
  {
    name: 'sweep-tripped',
    make: job((desk) => {
      underWay(desk);
      drive(desk, answer, 3);
      trip(desk);
    }),
  },
  { name: 'sweep-done', make: job(sweepDone), open: 'Sweep' },
];
