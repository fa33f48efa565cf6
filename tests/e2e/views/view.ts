import type { Page } from 'playwright-core';
import type { Opening } from '../../../host/job/schema/gauge';
import type { FakeBench, FakeDesk } from '../../support/fake-bench';
import { NTC_POINTS, sampleDesk, senderGiven, sweepDone } from '../sample-job';

/** A moment of a job that a person may be looking at. */
export type View = {
  readonly name: string;
  /** Makes the job and shows it; returns the address after the hash. */
  readonly make: (bench: FakeBench) => Promise<string>;
  /** The station to open, where it is not open by itself. */
  readonly open?: string;
  readonly act?: (page: Page) => Promise<void>;
  /** Nothing is to be done but to wait: no plate, and why that is so. */
  readonly waits?: string;
};

export const BY = 'laptop 1';

const made =
  (isSimulated: boolean) =>
  (fill: (desk: FakeDesk) => void, opening: Partial<Opening> = {}) =>
  async (bench: FakeBench): Promise<string> => {
    const desk = await sampleDesk(bench, opening);
    desk.show({ link: { state: 'live', simulated: isSimulated }, box: { state: 'safe' } });
    fill(desk);
    return `#/job/${desk.jobId}`;
  };

/** A job on the simulated bench, filled with what has happened so far. */
export const job = made(true);
/** The same with a real box on the line. */
export const realJob = made(false);

export const cold = (desk: FakeDesk): number =>
  desk.append({ kind: 'safety-confirmed', confirmation: 'engine-cold', sentence: 'The engine is cold.' }, BY);

/** A sender bought to a tolerance, after a finished sweep. */
export const tolerant = (desk: FakeDesk): void => {
  sweepDone(desk);
  senderGiven(desk, NTC_POINTS);
  const about = { title: 'new sender', model: 'unknown', unit: 'degC', tolerancePercent: 10 } as const;
  desk.append({ kind: 'sender-described', senderId: 'sender-1', ...about }, BY);
};
