import type { FakeDesk } from '../../support/fake-bench';
import type { HandSetUp } from '../../../host/job/schema/by-hand';
import type { Waiting } from '../../../host/job/wire/job-messages';
import { concluded, readingsGiven, sampleGauge } from '../sample-job';
import { BY, realJob, type View } from './view';

/** Whose sender it is made for is known: what is put on and read stands within it. */
const jobByHand = (fill: (desk: FakeDesk) => void): View['make'] =>
  realJob(fill, { gauge: { ...sampleGauge, family: { lowEndOhm: 470, highEndOhm: 45 } } });

const drawer = [47, 68, 120, 180, 270, 470].map((resistanceOhm) => ({
  resistanceOhm,
  ratingWatt: 5,
  count: 1,
}));
const ohmmeter = { name: 'My ohmmeter', leadsOhm: 0.3 };
const resistors: HandSetUp = { tools: { way: 'resistors', parts: drawer }, ohmmeter };
const potentiometer: HandSetUp = {
  tools: { way: 'potentiometer', wholeOhm: 470, ratingWatt: 25, seriesOhm: 47, seriesWatt: 5 },
  ohmmeter,
};

/** Two readings into a sweep without a box. */
const underWay = (desk: FakeDesk, hand: HandSetUp, waiting: Waiting): void => {
  concluded(desk);
  const isTurned = hand.tools.way === 'potentiometer';
  const aims = isTurned
    ? [40, 60, 80, 100, 120].map((reading) => ({ kind: 'mark' as const, reading }))
    : [470, 270, 180, 120, 68, 47].map((resistanceOhm) => ({ kind: 'resistance' as const, resistanceOhm }));
  const steps = aims.map((aim, index) => ({
    stepId: `w1up${index}`,
    leg: 'up' as const,
    aim,
    why: 'plan' as const,
  }));
  const range = { fromOhm: 455, toOhm: 45, refinements: 0, settleMs: 60_000 };
  const mode = isTurned ? 'seek' : 'step-and-read';
  desk.append({ kind: 'sweep-started', sweepId: 'w1', mode, ...range, steps, hand }, BY);
  readingsGiven(desk, 2);
  desk.show({
    link: { state: 'closed', simulated: false },
    waiting,
    step: { ...steps[2]!, leg: 'up' },
    progress: { done: 2, total: steps.length, minutesLeft: 8 },
  });
};

const stepId = 'w1up2';
const settling: Waiting = {
  kind: 'settling',
  stepId,
  settleMs: 60_000,
  passedMs: 22_000,
  why: 'the needle of this kind of gauge needs 60 s to rest',
};

export const byHandViews: readonly View[] = [
  {
    name: 'hand-start',
    make: jobByHand(concluded),
    open: 'Sweep',
    act: async (page) => {
      await page.getByText('Resistors', { exact: true }).click();
      await page.getByLabel('Resistors you have').fill('47 5W\n68 5W\n120 5W\n180 5W\n270 5W\n470 5W');
      await page.getByText(/^They make/).waitFor();
    },
  },
  {
    name: 'hand-ready',
    make: jobByHand(concluded),
    open: 'Sweep',
    act: async (page) => {
      await page.getByText('Resistors', { exact: true }).click();
      await page.getByLabel('Resistors you have').fill('47 5W\n68 5W\n120 5W\n180 5W\n270 5W\n470 5W');
      await page.getByRole('button', { name: 'Go on with these' }).click();
      await page.getByRole('button', { name: 'Yes', exact: true }).waitFor();
    },
  },
  {
    name: 'hand-set',
    make: jobByHand((desk) => underWay(desk, resistors, { kind: 'put-on', stepId })),
    act: (page) => page.getByText(/^Put [\d.]+/).waitFor(),
  },
  {
    name: 'hand-wait',
    waits: 'the needle creeps to its place',
    make: jobByHand((desk) => underWay(desk, resistors, settling)),
  },
  {
    name: 'hand-read',
    make: jobByHand((desk) => underWay(desk, resistors, { kind: 'answer', stepId, wants: 'reading' })),
  },
  {
    name: 'hand-turn',
    make: jobByHand((desk) => underWay(desk, potentiometer, { kind: 'put-on', stepId })),
    act: (page) => page.getByText(/^Turn to/).waitFor(),
  },
  {
    name: 'hand-measure',
    make: jobByHand((desk) => {
      underWay(desk, potentiometer, { kind: 'measure', stepId });
      desk.append({ kind: 'needle-noted', sweepId: 'w1', stepId, reading: 79, waitedMs: 60_000 }, BY);
    }),
    act: (page) => page.getByText('Measure it by itself').waitFor(),
  },
];
