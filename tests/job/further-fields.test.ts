import { describe, expect, it } from 'vitest';
import {
  foldJob,
  inShownUnit,
  jobEvent,
  screenMessage,
  understood,
  type EventBody,
  type EventOf,
} from '../../host/job';
import { opened, readingOf, stamped, sweepStarted } from './sample';

const stateOf = (bodies: readonly EventBody[]) => foldJob(stamped([opened, ...bodies]))!;

/** Lines as programs wrote them before any of these fields was known. Invented job. */
const OLD_JOURNAL = [
  '{"n":1,"at":"2026-03-01T09:00:00.000Z","by":"laptop","kind":"job-opened","schema":1,"jobId":"old","title":"Tern 1100","gauge":{"quantity":"fuel","mechanism":"two-coil","unit":"%","marks":[{"label":"E","reading":0,"angleFraction":0},{"label":"F","reading":100,"angleFraction":1}]},"vehicle":"Tern 1100 van (1971)","place":"car","simulated":false}',
  '{"n":2,"at":"2026-03-01T09:00:01.000Z","by":"laptop","kind":"as-found","state":"level ground","indicated":31,"reference":25}',
  '{"n":3,"at":"2026-03-01T09:00:02.000Z","by":"laptop","kind":"check-measured","what":"supply-volt","value":13.6,"source":"person"}',
  '{"n":4,"at":"2026-03-01T09:00:03.000Z","by":"laptop","kind":"sweep-started","sweepId":"w1","mode":"step-and-read","fromOhm":3,"toOhm":90,"refinements":0,"settleMs":15000,"steps":[{"stepId":"w1s1","leg":"up","aim":{"kind":"resistance","resistanceOhm":40},"why":"plan"}]}',
  '{"n":5,"at":"2026-03-01T09:01:00.000Z","by":"laptop","kind":"reading","readingId":"r1","sweepId":"w1","stepId":"w1s1","resistanceOhm":40,"uncertaintyOhm":0.05,"reading":48,"leg":"up","supplyVolt":13.6,"waitedMs":15000,"method":"step"}',
  '{"n":6,"at":"2026-03-01T09:02:00.000Z","by":"laptop","kind":"sender-described","senderId":"sender-1","title":"the tank unit","model":"table","unit":"%"}',
  '{"n":7,"at":"2026-03-01T09:02:01.000Z","by":"laptop","kind":"sender-point","pointId":"p1","senderId":"sender-1","value":50,"resistanceOhm":38,"source":"person"}',
  '{"n":8,"at":"2026-03-01T09:03:00.000Z","by":"laptop","kind":"proof-pair","pairId":"q1","state":"as-left","reference":50,"indicated":52,"leg":"up","supplyVolt":13.5}',
];

/** What a page sends that knows none of them. */
const OLD_MESSAGES = [
  '{"kind":"hello","build":"0123456789ab","screen":"phone","key":"k"}',
  '{"kind":"follow","jobId":"old","afterN":8}',
  '{"kind":"present"}',
  '{"kind":"command","id":1,"command":{"kind":"start-sweep","choice":{"mode":"step-and-read"},"unit":"%"}}',
  '{"kind":"command","id":2,"command":{"kind":"give-reading","stepId":"w1s1","reading":48,"unit":"%"}}',
  '{"kind":"command","id":3,"command":{"kind":"record-as-found","state":"cold","indicated":31,"unit":"%"}}',
  '{"kind":"command","id":4,"command":{"kind":"change-job","title":"Tern 1100, tank unit"}}',
  '{"kind":"command","id":5,"command":{"kind":"import-sender-points","senderId":"sender-1","source":"import","from":"t.csv","points":[{"row":2,"value":50,"resistanceOhm":38}],"unit":"%"}}',
  '{"kind":"command","id":6,"command":{"kind":"add-proof-pair","state":"as-left","reference":50,"indicated":52,"leg":"up"}}',
  '{"kind":"stop","id":7}',
];

describe('a journal of before', () => {
  it('is understood line for line and says nothing that was not said', () => {
    const events = OLD_JOURNAL.map((line) => jobEvent.parse(JSON.parse(line)));
    const plain = (line: string): unknown => JSON.parse(line);
    expect(events.map((event) => plain(JSON.stringify(event)))).toEqual(OLD_JOURNAL.map(plain));
    const state = foldJob(events)!;
    expect(state).toMatchObject({ lastN: 8, adjustments: [], photographs: [] });
    expect(state.particulars).toBeUndefined();
    expect(state.sweeps[0]?.state).toBeUndefined();
    expect(state.readings[0]).toMatchObject({ reading: 48, resistanceOhm: 40 });
    expect(state.readings[0]?.source).toBeUndefined();
  });
});

describe('a page of before', () => {
  it.each(OLD_MESSAGES)('is still understood: %s', (message) => {
    expect(screenMessage.safeParse(JSON.parse(message)).success).toBe(true);
  });
});

const meter = { name: 'workshop meter', limitPercent: 0.8, limitOhm: 0.3, leadsOhm: 0.2 };

describe('what a job may keep besides', () => {
  it('says of a sweep whether the gauge had been worked on, and how warm it was', () => {
    const [sweep] = stateOf([{ ...sweepStarted, state: 'as-left', dashCelsius: 24 }]).sweeps;
    expect(sweep).toMatchObject({ state: 'as-left', dashCelsius: 24 });
  });

  it('keeps of a reading by hand its meter, its volts and what stood beside it', () => {
    const further: Pick<EventOf<'reading'>, 'source' | 'ohmmeter' | 'supplyAt' | 'neighbours'> = {
      source: 'hand',
      ohmmeter: meter,
      supplyAt: 'feed',
      neighbours: [{ jobId: 'fuel', resistanceOhm: 40 }],
    };
    const bare = readingOf(1, 55);
    const reading = bare.kind === 'reading' ? { ...bare, ...further } : bare;
    expect(stateOf([sweepStarted, reading]).readings[0]).toMatchObject(further);
  });

  it('keeps what was done to the gauge, turned with the unit as a difference', () => {
    const moved: EventBody = { kind: 'adjustment-made', what: 'pointer-moved', movedBy: 5 };
    const fitted: EventBody = {
      kind: 'adjustment-made',
      what: 'resistor-fitted',
      toOhm: 180,
      place: 'gauge lead',
    };
    const shown = inShownUnit(stateOf([{ kind: 'job-changed', shownUnit: 'degF' }, moved, fitted]));
    // A difference of 5 degC is one of 9 degF: 1.8 degF a kelvin, by the definition of the Fahrenheit scale.
    expect(shown.adjustments.map(({ what, movedBy, toOhm }) => ({ what, movedBy, toOhm }))).toEqual([
      { what: 'pointer-moved', movedBy: 9, toOhm: undefined },
      { what: 'resistor-fitted', movedBy: undefined, toOhm: 180 },
    ]);
    const told = { kind: 'say-adjusted', what: 'pointer-moved', movedBy: 9, unit: 'degF' } as const;
    expect(understood(stateOf([]), told)).toMatchObject({ command: { movedBy: 5 }, given: { unit: 'degF' } });
  });

  it('keeps whose vehicle it is until it is said anew', () => {
    const first = { customer: 'Harrow Motors', odometer: { distance: 61_200, unit: 'mile' } } as const;
    const next = { customer: 'Harrow Motors', technician: 'second bench', gaugePartNumber: 'Q-17' };
    const changes = [first, next].map((particulars): EventBody => ({ kind: 'job-changed', particulars }));
    expect(stateOf(changes.slice(0, 1)).particulars).toEqual(first);
    expect(stateOf([...changes, { kind: 'job-changed', title: 'reads high' }]).particulars).toEqual(next);
  });

  it('keeps which photographs lie beside the journal; a struck one stays and says why', () => {
    const added: EventBody = {
      kind: 'photograph-added',
      photographId: 'f1',
      file: 'gauge.jpg',
      sha256: 'ab'.repeat(32),
      of: 'gauge',
    };
    const struck: EventBody = { kind: 'photograph-struck', photographId: 'f1', reason: 'blurred' };
    expect(stateOf([added, struck]).photographs).toMatchObject([
      { file: 'gauge.jpg', struckBecause: 'blurred' },
    ]);
  });

  it('is passed over by a program that has not heard of it, with nothing else lost', () => {
    const old: readonly string[] = OLD_JOURNAL.map((line) => jobEvent.parse(JSON.parse(line)).kind);
    const bodies: EventBody[] = [
      { ...sweepStarted, state: 'as-found' },
      { kind: 'adjustment-made', what: 'stabiliser-set', setToVolt: 10 },
      readingOf(1, 55),
    ];
    const events = stamped([opened, ...bodies]);
    const heard = foldJob(events.filter(({ kind }) => old.includes(kind)))!;
    expect(heard.readings).toEqual(foldJob(events)!.readings);
    expect(heard.sweeps).toEqual(foldJob(events)!.sweeps);
  });
});
