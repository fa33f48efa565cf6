import { describe, expect, it } from 'vitest';
import { foldJob, type EventBody, type JobState } from '../../host/job';
import { contradictions } from '../../host/job/check/contradictions';
import { judge } from '../../host/job/check/judge';
import { isKept, keptQuestion, measured } from '../../host/job/check/measured';
import { notAsked } from '../../host/job/check/not-asked';
import { sinceFault } from '../../host/job/check/since-fault';
import type { Gauge } from '../../host/job/schema/gauge';
import type { Measurement } from '../../host/job/state/state';
import { coolantGauge, opened, readingOf, stamped, sweepStarted } from './sample';

const openedAs = (place: 'car' | 'bench', mechanism: Gauge['mechanism'] = 'thermal'): EventBody => ({
  kind: 'job-opened',
  schema: 1,
  jobId: 'j1',
  title: 'Harrow Six reads high',
  vehicle: 'Harrow Six saloon (1964)',
  place,
  simulated: false,
  gauge: { ...coolantGauge, marks: [...coolantGauge.marks], mechanism },
});
const onBench = openedAs('bench');
const folded = (bodies: readonly EventBody[], first: EventBody = opened): JobState => {
  const state = foldJob(stamped([first, ...bodies]));
  if (state === undefined) throw new Error('no state');
  return state;
};
const value = (
  what: Measurement['what'],
  size: number,
  loads: Measurement['loads'] = 'off',
  saidOn?: true,
): EventBody => ({
  kind: 'check-measured',
  what,
  value: size,
  loads,
  source: 'person',
  ...(saidOn === undefined ? {} : { saidOn }),
});
const answer = (question: string, said: string): EventBody => ({
  kind: 'check-answered',
  question,
  answer: said,
});
const ids = (state: JobState): string[] => contradictions(state).map((each) => each.id);

describe('volts that cannot be so', () => {
  it('are seen: 12.20 V feed the gauge, 13.50 V come out of it', () => {
    const state = folded([value('supply-volt', 12.2), value('open-circuit-volt', 13.5)]);
    const [first] = contradictions(state);
    expect(first?.says).toMatch(/13\.50 V on the open sender wire is more than the 12\.20 V/);
    expect(first?.again.map((each) => (each.kind === 'measurement' ? each.measurement.what : ''))).toEqual([
      'open-circuit-volt',
      'supply-volt',
    ]);
  });

  // Kirchhoff: behind resistances only, no volts lie above the feed. 0.3 V is what two hand meters (1 %) may differ by.
  it.each([
    ['all of the feed on an open wire', 12.2, 12.2, []],
    ['two meters that differ by 0.3 V', 12.2, 12.5, []],
    ['positive ground', -12.2, -12.1, []],
    ['positive ground, above the feed', -12.2, -13.5, ['open-circuit-volt-above-supply']],
    ['leads the wrong way round once', 12.2, -12.1, ['open-circuit-volt-above-supply']],
  ])('or are not: %s', (_what, supply, open, expected) => {
    expect(ids(folded([value('supply-volt', supply), value('open-circuit-volt', open)]))).toEqual(expected);
  });

  it('end with measuring again', () => {
    const both = [value('supply-volt', 12.2), value('open-circuit-volt', 13.5)];
    expect(ids(folded([...both, value('supply-volt', 13.7)]))).toEqual([]);
  });

  it('are told of every point behind the feed', () => {
    for (const what of ['effective-volt', 'sender-stud-volt', 'loaded-volt'] as const)
      expect(ids(folded([value('supply-volt', 12.2), value(what, 13.5)]))).toEqual([`${what}-above-supply`]);
  });

  it('are told of a resistor that adds volts, on a steady feed', () => {
    const coils = openedAs('car', 'two-coil');
    const both = [value('open-circuit-volt', 6), value('loaded-volt', 9)];
    expect(ids(folded(both, coils))).toEqual(['loaded-above-open']);
    // On a pulsing feed a hand meter shows whatever the pulse is at.
    expect(ids(folded(both))).toEqual([]);
  });
});

describe('lights that were said to be on', () => {
  const off = value('ground-offset-volt', 0.004);
  const same = value('ground-offset-volt', 0.004, 'lights');

  it('are asked about when no volt has changed', () => {
    expect(ids(folded([off, same]))).toEqual(['lights-unseen']);
    expect(ids(folded([off, same, answer('needle-steps-with-lights', 'yes')]))).toEqual([
      'step-without-ground',
    ]);
    expect(ids(folded([off, value('ground-offset-volt', 0.034, 'lights')]))).toEqual([]);
  });

  it('are believed once somebody was asked', () => {
    expect(ids(folded([off, value('ground-offset-volt', 0.004, 'lights', true)]))).toEqual([]);
  });

  it('move a needle when they move its ground by what can be seen', () => {
    const state = folded([
      off,
      value('ground-offset-volt', 0.31, 'lights'),
      answer('needle-steps-with-lights', 'no'),
    ]);
    const worth = (partOfScale: number) => ({ size: 70 * partOfScale, partOfScale, words: '' });
    const found = { groundWorth: { off: worth(0.001), lights: worth(0.08) }, lines: [] };
    expect(contradictions(state, found).map((each) => each.id)).toEqual(['ground-without-step']);
  });
});

describe('a wire with nothing on it', () => {
  it('cannot move a needle', () => {
    const state = folded([value('open-circuit-volt', 0.02), answer('needle-on-known-load', 'there')]);
    expect(ids(state)).toEqual(['dead-wire-moves']);
  });
});

describe('what was not asked', () => {
  const asked = [
    value('supply-volt', 13.4),
    value('open-circuit-volt', 7.1),
    value('loaded-volt', 4.2),
    value('sender-ohm', 90),
    answer('needle-on-known-load', 'there'),
    answer('needle-both-ways', 'yes'),
  ];

  it('on a bench is nothing of a vehicle', () => {
    expect(notAsked(folded(asked, onBench))).toEqual([]);
    expect(notAsked(folded([], onBench)).join()).not.toMatch(/ignition|engine|vehicle|car|battery|lights/);
  });

  it('in a vehicle is its grounds as well', () => {
    expect(notAsked(folded(asked))).toEqual([
      'ground of the gauge against the sender, lights off and on',
      'ohms from the sender\u2019s body to battery negative',
    ]);
  });

  it('is what somebody could not tell, too', () => {
    const told = [...asked.slice(0, 4), answer('needle-on-known-load', 'not-known'), asked[5]!];
    expect(notAsked(folded(told, onBench))).toEqual(['whether the needle moves with a known resistance']);
  });

  it('is answered by a sweep: its settings are known loads, from both sides', () => {
    const swept = [sweepStarted, readingOf(1, 50), readingOf(2, 88), readingOf(4, 90)];
    const left = notAsked(folded(swept, onBench));
    expect(left).not.toContain('whether the needle moves with a known resistance');
    expect(left).not.toContain('whether the needle comes back to one place from both sides');
  });

  it('is everything again once a fault was found', () => {
    const fault: EventBody = {
      kind: 'check-concluded',
      finding: 'ground-fault',
      sentence: 'bad',
      evidence: [],
    };
    const events = stamped([onBench, ...asked, fault, value('supply-volt', 13.5)]);
    const state = foldJob(events)!;
    const since = sinceFault(state, events);
    expect(since.measurements.map((each) => each.value)).toEqual([13.5]);
    expect(since.answers).toEqual({});
    expect(notAsked(since)).not.toContain('supply at the gauge');
  });
});

describe('a measurement', () => {
  it('is kept when somebody has seen that one', () => {
    const first = folded([value('supply-volt', 13.4)]);
    const seen = measured(first, 'supply-volt')!;
    expect(isKept(first, seen)).toBe(false);
    const kept = folded([value('supply-volt', 13.4), answer(keptQuestion(seen), String(seen.n))]);
    expect(isKept(kept, measured(kept, 'supply-volt')!)).toBe(true);
    const again = folded([
      value('supply-volt', 13.4),
      answer(keptQuestion(seen), String(seen.n)),
      value('supply-volt', 9.8),
    ]);
    expect(isKept(again, measured(again, 'supply-volt')!)).toBe(false);
  });

  it('of a ground is judged by its worth on the dial, not by its millivolts', () => {
    const state = folded([value('ground-offset-volt', 0.08)]);
    const ground = measured(state, 'ground-offset-volt')!;
    expect(judge(ground, state).grade).toBe('plain');
    const worth = (partOfScale: number) => ({
      groundWorth: { off: { size: 1, partOfScale, words: 'so much' } },
      lines: [],
    });
    expect(judge(ground, state, worth(0.004)).grade).toBe('good');
    expect(judge(ground, state, worth(0.03)).grade).toBe('look');
    expect(judge(ground, state, worth(0.3)).grade).toBe('bad');
  });

  it.each([
    ['supply-volt', 9.8, 'bad'],
    ['supply-volt', 13.4, 'good'],
    ['supply-volt', -13.4, 'good'],
    ['supply-volt', 18, 'bad'],
    ['open-circuit-volt', 0.02, 'bad'],
    ['open-circuit-volt', 7, 'good'],
    ['sender-ohm', 90, 'good'],
    ['sender-ohm', 0.2, 'bad'],
    ['sender-ohm', 4700, 'look'],
    ['gauge-ohm', 0, 'look'],
  ] as const)('of %s at %s is %s', (what, size, grade) => {
    const state = folded([value(what, size)]);
    expect(judge(measured(state, what)!, state).grade).toBe(grade);
  });
});
