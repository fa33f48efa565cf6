import type { Page } from 'playwright-core';
import type { FakeBench } from '../support/fake-bench';
import {
  concluded,
  drive,
  foundAndMeasured,
  NTC_POINTS,
  proved,
  PTC_POINTS,
  readingsGiven,
  sampleDesk,
  senderGiven,
  sweepBegun,
  sweepDone,
  trip,
} from './sample-job';

export type View = {
  readonly name: string;
  /** Makes the job and shows it; returns the job's address after the hash, or none for the front pages. */
  readonly make: (bench: FakeBench) => Promise<string>;
  readonly open?: string;
  readonly act?: (page: Page) => Promise<void>;
};

const job = (fill: (desk: Awaited<ReturnType<typeof sampleDesk>>) => void) => async (bench: FakeBench) => {
  const desk = await sampleDesk(bench);
  desk.show({ link: { state: 'live', simulated: true }, box: { state: 'safe' } });
  fill(desk);
  return `#/job/${desk.jobId}`;
};

const answer = { kind: 'answer', stepId: 'w1up3', wants: 'reading', unattendedInMs: 170_000 } as const;

/** Every moment of a job that a person may be looking at. */
export const views: readonly View[] = [
  { name: 'jobs', make: async (bench) => (await sampleDesk(bench), '#/') },
  { name: 'new', make: () => Promise.resolve('#/new') },
  {
    name: 'new-dial-editor',
    make: () => Promise.resolve('#/new'),
    act: async (page) => {
      await page.getByText('A real box').click();
      await page.getByText('Make it look like mine').click();
    },
  },
  { name: 'check-as-found', make: job(() => undefined) },
  {
    name: 'check-question',
    make: job((desk) => desk.append({ kind: 'as-found', state: 'cold', indicated: 40 }, 'phone 2')),
  },
  { name: 'check-measure', make: job(foundAndMeasured) },
  { name: 'check-found', make: job(concluded), open: 'Check' },
  { name: 'no-box', make: async (bench) => `#/job/${(await sampleDesk(bench)).jobId}` },
  { name: 'sweep-start', make: job(concluded), open: 'Sweep' },
  {
    name: 'sweep-wait',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
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
    }),
  },
  {
    name: 'sweep-read',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
      drive(desk, answer, 3);
    }),
  },
  {
    name: 'sweep-watching',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
      drive(desk, answer, 3);
      desk.append({ kind: 'taken-over', from: 'laptop 1' }, 'phone 2');
      desk.show({ attending: 'phone 2' });
    }),
  },
  {
    name: 'sweep-paused',
    make: job((desk) => {
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
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
      concluded(desk);
      sweepBegun(desk);
      readingsGiven(desk, 3);
      drive(desk, answer, 3);
      trip(desk);
    }),
  },
  { name: 'sweep-done', make: job(sweepDone), open: 'Sweep' },
  { name: 'sender-new', make: job(sweepDone), open: 'Sender' },
  {
    name: 'sender',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
    }),
    open: 'Sender',
  },
  {
    name: 'trim',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        'laptop 1',
      );
    }),
    open: 'Trim',
    act: (page) => page.getByText('Networks, best first').waitFor(),
  },
  {
    name: 'trim-refused',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, PTC_POINTS);
      desk.append(
        { kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 2 } },
        'laptop 1',
      );
    }),
    open: 'Trim',
    act: (page) => page.getByText('No resistors can do this').waitFor(),
  },
  {
    name: 'proof',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      proved(desk);
    }),
    open: 'Proof',
  },
  {
    name: 'record',
    make: job((desk) => {
      sweepDone(desk);
      senderGiven(desk, NTC_POINTS);
      proved(desk);
      desk.append({ kind: 'note', text: 'Sender body cleaned before the proof.' }, 'laptop 1');
    }),
    open: 'Record',
  },
];
