import type { FakeBench, FakeDesk } from '../support/fake-bench';
import type { Gauge, Opening } from '../../host/job/schema/gauge';
import type { Waiting } from '../../host/job/wire/job-messages';

export const sampleGauge: Gauge = {
  quantity: 'temperature',
  mechanism: 'thermal',
  unit: 'degC',
  marks: [
    { label: 'C', reading: 40, angleFraction: 0 },
    { label: '60', reading: 60, angleFraction: 0.12 },
    { label: '80', reading: 80, angleFraction: 0.33 },
    { label: '100', reading: 100, angleFraction: 0.64 },
    { label: 'H', reading: 120, angleFraction: 1 },
  ],
  zones: [
    { fromReading: 75, toReading: 95, meaning: 'normal' },
    { fromReading: 108, toReading: 120, meaning: 'danger' },
  ],
};

const BY = 'laptop 1';

/** A job just opened: the plain coolant gauge, but for what `opening` says otherwise. */
export async function sampleDesk(bench: FakeBench, opening: Partial<Opening> = {}): Promise<FakeDesk> {
  const desk = await bench.createJob({
    title: 'Coolant temperature gauge',
    gauge: sampleGauge,
    vehicle: 'Harrow Six saloon (1964)',
    place: 'car',
    complaint: 'Reads high since the new sender',
    simulated: true,
    ...opening,
  });
  return desk;
}

export function foundAndMeasured(desk: FakeDesk): void {
  desk.append({ kind: 'as-found', state: 'thermostat open', indicated: 97, reference: 88 }, BY);
  desk.append({ kind: 'check-answered', question: 'other-gauges-wrong', answer: 'no' }, BY);
  desk.append({ kind: 'check-answered', question: 'needle-steps-with-lights', answer: 'no' }, BY);
  const measured = { source: 'person' as const };
  desk.append({ kind: 'check-measured', what: 'supply-volt', value: 13.4, loads: 'off', ...measured }, BY);
}

export function concluded(desk: FakeDesk): void {
  foundAndMeasured(desk);
  const measured = { source: 'box' as const };
  desk.append(
    { kind: 'check-measured', what: 'ground-offset-volt', value: 0.004, loads: 'off', ...measured },
    BY,
  );
  desk.append(
    { kind: 'check-measured', what: 'ground-offset-volt', value: 0.012, loads: 'lights', ...measured },
    BY,
  );
  desk.append(
    {
      kind: 'check-concluded',
      finding: 'sound',
      sentence: 'Supply and ground are sound: what is wrong is the curve of gauge or sender.',
      evidence: ['supply: 13.40 V', 'ground offset, loads off: 4 mV', 'ground offset, loads lights: 12 mV'],
    },
    BY,
  );
}

/** Thermal gauge of 58 ohm on a sender with B = 3556 K, read to half a degree: invented, to have something to draw. */
const UP = [
  [455, 40.5],
  [287, 52.5],
  [181, 67],
  [114, 83.5],
  [72, 101],
  [45, 119],
] as const;

export function sweepBegun(desk: FakeDesk, mode: 'step-and-read' | 'seek' = 'step-and-read'): void {
  const aims =
    mode === 'seek'
      ? sampleGauge.marks.map((mark) => ({ kind: 'mark' as const, reading: mark.reading }))
      : UP.map(([resistanceOhm]) => ({ kind: 'resistance' as const, resistanceOhm }));
  const steps = (['up', 'down'] as const).flatMap((leg) =>
    (leg === 'up' ? aims : [...aims].reverse().slice(1)).map((aim, index) => ({
      stepId: `w1${leg}${index}`,
      leg,
      aim,
      why: 'plan' as const,
    })),
  );
  desk.append(
    {
      kind: 'sweep-started',
      sweepId: 'w1',
      mode,
      fromOhm: 455,
      toOhm: 45,
      refinements: 0,
      settleMs: 60_000,
      steps,
    },
    BY,
  );
}

export function readingsGiven(desk: FakeDesk, count: number): void {
  const down = [...UP]
    .reverse()
    .slice(1)
    .map(([ohm, reading]) => [ohm, reading + 1] as const);
  for (const [index, [resistanceOhm, reading]] of [...UP, ...down].slice(0, count).entries()) {
    const leg = index < UP.length ? 'up' : 'down';
    const stepId = `w1${leg}${leg === 'up' ? index : index - UP.length}`;
    const base = {
      sweepId: 'w1',
      stepId,
      resistanceOhm,
      uncertaintyOhm: 0.05,
      leg,
      waitedMs: 60_000,
      method: 'step',
    } as const;
    desk.append({ kind: 'reading', readingId: `r${index + 1}`, reading, ...base }, BY);
  }
}

export function sweepDone(desk: FakeDesk): void {
  concluded(desk);
  sweepBegun(desk);
  readingsGiven(desk, 11);
  desk.append({ kind: 'sweep-finished', sweepId: 'w1', complete: true }, BY);
}

export function senderGiven(desk: FakeDesk, ohms: readonly (readonly [number, number])[]): void {
  desk.append(
    { kind: 'sender-described', senderId: 'sender-1', title: 'new sender', model: 'unknown', unit: 'degC' },
    BY,
  );
  for (const [index, [value, resistanceOhm]] of ohms.entries()) {
    desk.append(
      {
        kind: 'sender-point',
        pointId: `p${index}`,
        senderId: 'sender-1',
        value,
        resistanceOhm,
        source: 'person',
      },
      BY,
    );
  }
}

export const NTC_POINTS = [
  [40, 410],
  [60, 192],
  [80, 97.3],
  [100, 52.8],
  [120, 30.4],
] as const;
/** Rises with temperature: no resistors can turn it round. */
export const PTC_POINTS = [
  [40, 120],
  [60, 135],
  [80, 147],
  [100, 160],
] as const;

export function drive(desk: FakeDesk, waiting: Waiting, stepIndex: number): void {
  const [resistanceOhm] = UP[stepIndex] ?? UP[0];
  desk.show({
    link: { state: 'live', simulated: true },
    box: { state: 'driving' },
    output: {
      askedOhm: resistanceOhm,
      madeOhm: 114.02,
      measuredOhm: 114.1,
      volt: 6.61,
      milliamp: 57.9,
      watt: 0.38,
    },
    waiting,
    step: { stepId: `w1up${stepIndex}`, leg: 'up', aim: { kind: 'resistance', resistanceOhm }, why: 'plan' },
    progress: { done: stepIndex, total: 11, minutesLeft: 8 },
  });
}

const TRIP = {
  code: 'CURRENT_HIGH',
  reason: 'output opened: 412 mA measured, limit 300 mA',
  remedy: 'look for a short to supply before arming again',
  measured: 412,
  limit: 300,
} as const;

export function trip(desk: FakeDesk): void {
  desk.append({ kind: 'tripped', faultCode: 33, ...TRIP }, 'box');
  desk.show({
    box: { state: 'tripped' },
    output: {},
    waiting: { kind: 'person', reason: 'The box tripped.' },
    trip: TRIP,
  });
}

/** Nothing fitted; three pairs as the vehicle ran, one by known ohms at the hot end, one place read both ways. */
export function proved(desk: FakeDesk): void {
  const pairs = [
    [60, 61, 'up', 'run'],
    [88, 89, 'up', 'run'],
    [110, 115, 'up', 'substituted'],
    [88, 90, 'down', 'run'],
  ] as const;
  desk.append({ kind: 'network-fitted', fitted: 'nothing', senderId: 'sender-1' }, BY);
  for (const [index, [reference, indicated, leg, method]] of pairs.entries()) {
    const how =
      method === 'run'
        ? { referencePlace: 'thermometer in the heater tee' }
        : {
            substitute: {
              with: 'resistor',
              resistanceOhm: 39.2,
              uncertaintyOhm: 0.2,
              senderId: 'sender-1',
            } as const,
          };
    desk.append(
      {
        kind: 'proof-pair',
        pairId: `q${index}`,
        state: 'as-left',
        method,
        reference,
        referenceUncertainty: 0.5,
        indicated,
        leg,
        ...how,
      },
      BY,
    );
  }
}

/** What the pairs of `proved` said of the sender: other resistors are worth it. Figures invented, to have something to show. */
export function reestimated(desk: FakeDesk): void {
  desk.append(
    {
      kind: 'sender-reestimated',
      ...{ senderId: 'sender-1', pairIds: ['q0', 'q1', 'q3'], curve: 'book' },
      ...{ ohmsRatio: 0.86, steepnessRatio: 1.004, referenceOff: -0.4 },
      needle: [40, 60, 80, 100, 120].map((value, index) => ({
        ...{ value, byCurve: value + 0.6 * index, reading: value + 1.4 * index, expandedUncertainty: 2.2 },
      })),
      offer: {
        candidate: {
          ...{ topology: 'series', worstError: 1.6 },
          parts: [{ place: 'series', resistanceOhm: 8.2, tolerancePercent: 1 }],
        },
        ...{ worstNow: 6.1, worstThen: 1.9, chanceBetter: 0.98, isWorthIt: true },
      },
    },
    BY,
  );
}

/** A season later, at a place of `proved`. */
export function lookedAgain(desk: FakeDesk): void {
  desk.append(
    {
      kind: 'drift-checked',
      ...{ reference: 87, referenceUncertainty: 0.5, referenceKind: 'flow-probe', engine: 'running' },
      ...{ indicated: 88.5, leg: 'up', score: 0.19, restOff: 0.5, hasMoved: false },
      asLeft: { pairId: 'q1', error: 1, expandedUncertainty: 1.9 },
    },
    BY,
  );
}
