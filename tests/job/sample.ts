import type { EventBody, JobEvent } from '../../host/job';

/** Invented: a coolant gauge of Quarry Lane Instrument Works' test bench. */
export const coolantGauge = {
  quantity: 'temperature',
  mechanism: 'thermal',
  unit: 'degC',
  marks: [
    { label: '50', reading: 50, angleFraction: 0 },
    { label: '90', reading: 90, angleFraction: 0.5 },
    { label: '120', reading: 120, angleFraction: 1 },
  ],
  divisionReading: 5,
  family: { lowEndOhm: 320, highEndOhm: 22 },
} as const;

export const opened: EventBody & { kind: 'job-opened' } = {
  kind: 'job-opened',
  schema: 1,
  jobId: 'j1',
  title: 'Harrow Six reads high',
  gauge: { ...coolantGauge, marks: [...coolantGauge.marks] },
  vehicle: 'Harrow Six saloon (1964)',
  place: 'car',
  complaint: 'reads high when hot',
  simulated: false,
};

/** Numbers and dates bodies the way a journal does: one second apart, or more. */
export const stamped = (bodies: readonly EventBody[], by = 'laptop', secondsApart = 1): JobEvent[] =>
  bodies.map((body, index) => ({
    n: index + 1,
    at: new Date(Date.UTC(2026, 2, 1, 9, 0, index * secondsApart)).toISOString(),
    by,
    ...body,
  }));

export const sweepStarted: EventBody & { kind: 'sweep-started' } = {
  kind: 'sweep-started',
  sweepId: 'w1',
  mode: 'step-and-read',
  fromOhm: 22,
  toOhm: 320,
  refinements: 0,
  settleMs: 60_000,
  steps: [
    { stepId: 'w1s1', leg: 'up', aim: { kind: 'resistance', resistanceOhm: 320 }, why: 'plan' },
    { stepId: 'w1s2', leg: 'up', aim: { kind: 'resistance', resistanceOhm: 84 }, why: 'plan' },
    { stepId: 'w1s3', leg: 'up', aim: { kind: 'resistance', resistanceOhm: 22 }, why: 'plan' },
    { stepId: 'w1s4', leg: 'down', aim: { kind: 'resistance', resistanceOhm: 84 }, why: 'plan' },
  ],
};

export const readingOf = (step: number, reading: number): EventBody => ({
  kind: 'reading',
  readingId: `r${step}`,
  sweepId: 'w1',
  stepId: `w1s${step}`,
  resistanceOhm: [320, 84, 22, 84][step - 1] ?? 84,
  uncertaintyOhm: 0.05,
  reading,
  leg: step === 4 ? 'down' : 'up',
  waitedMs: 60_000,
  method: 'step',
});
