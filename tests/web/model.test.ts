import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobEvent } from '../../host/job/schema/events';
import type { CheckFinding } from '../../host/job/findings';
import { foldJob } from '../../host/job/state/fold';
import { suggestFinding } from '../../host/web/stations/check/check-finding';
import { checkPlan, isStepDone, stepId } from '../../host/web/stations/check/check-plan';
import { knownLoad } from '../../host/web/stations/check/check-questions';
import { joinEvents } from '../../host/web/connection/join-events';
import { curveAt } from '../../host/web/stations/sweep/point-facts';
import { stationAtWork, stationShown } from '../../host/web/stations/station-order';
import { proofVerdict } from '../../host/job/proof/proof';
import { pairWord, type ErrorWithUncertainty } from '../../host/core/proof/decision';
import { limitOf, pairResult } from '../../host/job/proof/verdict';
import { markWords, shownError, shownOhm, shownPart, sureOhm } from '../../host/web/parts/words';
import { editMark, marksProblem, withMark, withoutMark } from '../../host/web/dial/edit-marks';
import { templates } from '../../host/web/dial/templates';
import { inShownUnit } from '../../host/job/state/shown-unit';
import { gauge as gaugeSchema } from '../../host/job/schema/gauge';
import { FakeBench, type FakeDesk } from '../support/fake-bench';
import { concluded, proved, sampleDesk, sampleGauge, sweepBegun } from '../e2e/sample-job';
import { asSentence } from '../../host/words/sentence';

/** The verdict on one error against a limit to both sides, by the guard band. */
const verdictOn = (result: ErrorWithUncertainty, limit: number): string => {
  const word = pairWord(result, { lower: -limit, upper: limit }, 'guard');
  return word === 'within' || word === 'outside' ? word : 'cannot-tell';
};

const note = (n: number): JobEvent => ({
  n,
  at: '2026-01-01T00:00:00.000Z',
  by: 'x',
  kind: 'note',
  text: `note ${n}`,
});
const desk = (): Promise<FakeDesk> => sampleDesk(new FakeBench());
const stateOf = (from: FakeDesk) => {
  const state = foldJob(from.events);
  if (state === undefined) throw new Error('no state');
  return state;
};

describe('events that arrive at a screen', () => {
  const all = [1, 2, 3, 4, 5, 6].map(note);

  it('end up in order and once each, however they overlap', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat({ max: 5 }), fc.nat({ max: 6 }))), (cuts) => {
        let known: readonly JobEvent[] = [];
        for (const [from, length] of cuts) known = joinEvents(known, all.slice(from, from + length)) ?? known;
        expect(known).toEqual(all.slice(0, known.length));
      }),
    );
  });

  it('are not taken when one between is missing', () => {
    expect(joinEvents([note(1)], [note(3)])).toBeUndefined();
  });

  it('leave the same list when there is nothing new', () => {
    const known = [note(1), note(2)];
    expect(joinEvents(known, [note(2)])).toBe(known);
  });
});

describe('the check', () => {
  it('asks first what the gauge shows before anything is touched', async () => {
    const state = stateOf(await desk());
    const [first] = checkPlan(state);
    expect(first).toEqual({ kind: 'as-found' });
    expect(isStepDone(state, { kind: 'as-found' })).toBe(false);
  });

  it('asks less of a gauge on the bench than of one in the car', () => {
    const inCar = checkPlan({ place: 'car', gauge: sampleGauge });
    expect(checkPlan({ place: 'bench', gauge: sampleGauge }).length).toBeLessThan(inCar.length);
  });

  const measure = (
    from: FakeDesk,
    what: 'supply-volt' | 'ground-offset-volt' | 'open-circuit-volt',
    value: number,
    loads: 'off' | 'lights',
  ) => from.append({ kind: 'check-measured', what, value, loads, source: 'person' }, 'x');

  const worthOf = (partOfScale: number): CheckFinding => ({
    groundWorth: { lights: { size: 70 * partOfScale, partOfScale, words: 'worth so much' } },
    lines: [],
  });

  it.each([
    ['80 mV that are worth 1 % of the dial', 0.08, 0.01, 'nothing-found'],
    ['80 mV that are worth 9 % of it', 0.08, 0.09, 'ground-fault'],
    ['30 mV that are worth 9 % of it', 0.03, 0.09, 'ground-fault'],
  ])('takes a ground by what it is worth, not by its millivolts: %s', async (_what, volt, part, finding) => {
    const job = await desk();
    measure(job, 'supply-volt', 13.4, 'off');
    measure(job, 'ground-offset-volt', volt, 'lights');
    expect(suggestFinding(stateOf(job), worthOf(part)).finding).toBe(finding);
  });

  it('calls nothing sound that was not asked, and says what that is', async () => {
    const job = await desk();
    measure(job, 'supply-volt', 13.4, 'off');
    const { finding, sentence, notAsked } = suggestFinding(stateOf(job));
    expect(finding).toBe('nothing-found');
    expect(sentence).toMatch(/^Nothing found so far/);
    expect(notAsked).toContain('ohms of the sender at its connector');
  });

  it('blames no curve of a gauge of which the supply, the open wire and the needle are known', async () => {
    const job = await desk();
    measure(job, 'supply-volt', 12.2, 'off');
    measure(job, 'open-circuit-volt', 12.1, 'off');
    const { finding, sentence } = suggestFinding({ ...stateOf(job), place: 'bench' });
    expect(finding).toBe('nothing-found');
    expect(sentence).not.toMatch(/curve/);
  });

  it('concludes nothing over volts that contradict each other', async () => {
    const job = await desk();
    measure(job, 'supply-volt', 12.2, 'off');
    measure(job, 'open-circuit-volt', 13.5, 'off');
    const { finding, sentence } = suggestFinding(stateOf(job));
    expect(finding).toBe('undetermined');
    expect(sentence).toMatch(/13\.50 V .* more than the 12\.20 V/);
  });

  it('takes a needle that steps with the lights as proof of a bad ground', async () => {
    const job = await desk();
    measure(job, 'supply-volt', 13.4, 'off');
    measure(job, 'ground-offset-volt', 0.001, 'lights');
    job.append({ kind: 'check-answered', question: 'needle-steps-with-lights', answer: 'yes' }, 'x');
    const { finding, evidence } = suggestFinding(stateOf(job));
    expect(finding).toBe('ground-fault');
    expect(evidence.join()).toContain('headlights');
  });

  it('does not call a gauge sound that lets nothing through', async () => {
    const job = await desk();
    measure(job, 'supply-volt', 13.4, 'off');
    measure(job, 'open-circuit-volt', 0.02, 'off');
    expect(suggestFinding(stateOf(job)).finding).toBe('gauge-suspect');
    measure(job, 'open-circuit-volt', 6.7, 'off');
    expect(suggestFinding(stateOf(job)).finding).toBe('nothing-found');
  });

  it('tells a wire down to ground from a sender that was open before by the volts on the wire', async () => {
    const job = await desk();
    job.append({ kind: 'check-answered', question: 'needle-with-sender-off', answer: 'stays' }, 'x');
    expect(suggestFinding(stateOf(job)).finding).toBe('undetermined');
    measure(job, 'open-circuit-volt', 0.02, 'off');
    expect(suggestFinding(stateOf(job)).finding).toBe('wire-fault');
    measure(job, 'open-circuit-volt', 6.7, 'off');
    expect(suggestFinding(stateOf(job)).finding).toBe('nothing-found');
  });

  it('asks for the sender\u2019s ohms and for a known load, on a bench without a word of a vehicle', () => {
    const others = templates.map((each) => ({ ...each.gauge, mechanism: 'unknown' as const }));
    for (const gauge of [sampleGauge, ...others]) {
      const onBench = checkPlan({ place: 'bench', gauge });
      expect(onBench.map(stepId)).toEqual(expect.arrayContaining(['sender-ohm-off', 'needle-on-known-load']));
      expect(JSON.stringify(onBench)).not.toMatch(/ignition|engine|vehicle|\bcar\b|battery|headlights|tank/i);
    }
  });

  it('never has a tank\u2019s wire parted at the sender', () => {
    const fuel = { ...sampleGauge, quantity: 'fuel', unit: 'L' } as const;
    expect(JSON.stringify(checkPlan({ place: 'car', gauge: fuel }))).not.toMatch(/wire off the sender/);
  });

  it('puts a resistor on that is sold and that such a sender has', () => {
    // Middle of 73 to 10 ohm: 27.0; of 320 to 22 ohm: 83.9. E12, IEC 60063.
    const of = (lowEndOhm: number, highEndOhm: number) =>
      knownLoad({ gauge: { ...sampleGauge, family: { lowEndOhm, highEndOhm } } }).ohm;
    expect([of(73, 10), of(320, 22), of(10, 180)]).toEqual([27, 82, 39]);
  });

  it('keeps every measurement as evidence, to the figures a meter is good for', async () => {
    const job = await desk();
    measure(job, 'ground-offset-volt', 0.004001, 'lights');
    measure(job, 'open-circuit-volt', 6.751757, 'off');
    const { evidence } = suggestFinding(stateOf(job));
    expect(evidence).toContain('gauge ground to sender body, lights on: 4 mV (meter)');
    expect(evidence).toContain('sender wire with nothing on it: 6.75 V (meter)');
  });

  it('suspects the supply before the curve', async () => {
    const job = await desk();
    measure(job, 'supply-volt', 9.8, 'off');
    expect(suggestFinding(stateOf(job)).finding).toBe('supply-fault');
  });
});

describe('the station at work', () => {
  it('is left by the person, not by its second point or its first good pair', async () => {
    const job = await desk();
    const still = stateOf(job);
    expect(stationShown('sender', 'trim', still)).toBe('sender');
    expect(stationShown('trim', 'proof', still)).toBe('trim');
    expect(stationShown('proof', 'record', still)).toBe('proof');
    expect(stationShown('sweep', 'sender', still)).toBe('sweep');
    expect(stationShown('check', 'sweep', still)).toBe('sweep');
    sweepBegun(job);
    expect(stationShown('sender', 'sweep', stateOf(job))).toBe('sweep');
  });

  it('stays the check where a part was named: it may be mended, and then it is checked again', async () => {
    const named = (finding: 'sound' | 'gauge-suspect', cause: 'sound' | 'gauge-open') => ({
      ...{ kind: 'check-concluded' as const, finding, sentence: 'as it is', evidence: [] },
      diagnosed: { verdict: 'is' as const, causes: [cause], way: 'meter' as const, seed: 1, notMeasured: [] },
    });
    const job = await desk();
    job.append(named('gauge-suspect', 'gauge-open'), 'laptop');
    expect(stationShown('check', 'sweep', stateOf(job))).toBe('check');
    expect(stationShown('sweep', 'sweep', stateOf(job))).toBe('sweep');
    job.append(named('sound', 'sound'), 'laptop');
    expect(stationShown('check', 'sweep', stateOf(job))).toBe('sweep');
  });

  it('is the open sweep, even while the check is not done', async () => {
    const job = await desk();
    expect(stationAtWork([{ station: 'check', done: false, text: '' }], stateOf(job))).toBe('check');
    sweepBegun(job);
    expect(stationAtWork([{ station: 'check', done: false, text: '' }], stateOf(job))).toBe('sweep');
  });

  it('is the record when all is done', async () => {
    const job = await desk();
    concluded(job);
    expect(stationAtWork([{ station: 'check', done: true, text: '' }], stateOf(job))).toBe('record');
  });
});

describe('a proof', () => {
  it('is within only with error and uncertainty inside the limit, and outside only with both beyond it', () => {
    expect(verdictOn({ error: 2, expandedUncertainty: 1 }, 3)).toBe('within');
    expect(verdictOn({ error: -2, expandedUncertainty: 1.1 }, 3)).toBe('cannot-tell');
    expect(verdictOn({ error: -4.2, expandedUncertainty: 1.1 }, 3)).toBe('outside');
    expect(verdictOn({ error: Number.NaN, expandedUncertainty: 1 }, 3)).toBe('cannot-tell');
  });

  it('is judged against the job\u2019s own limit, in dial units or as a part of the scale', async () => {
    const job = await desk();
    expect(limitOf(stateOf(job))).toEqual({ size: 4, percent: 5, isChosen: false });
    job.append({ kind: 'proof-limit', limit: { kind: 'percent', percent: 10 } }, 'x');
    expect(limitOf(stateOf(job))).toEqual({ size: 8, percent: 10, isChosen: true });
    job.append({ kind: 'proof-limit', limit: { kind: 'size', size: 2.5 } }, 'x');
    expect(limitOf(stateOf(job))).toEqual({ size: 2.5, isChosen: true });
  });

  it('is as a whole outside with one pair outside, and within only with every counted pair within', async () => {
    const job = await desk();
    expect(proofVerdict(stateOf(job))).toBeUndefined();
    proved(job);
    // Errors 1, 1, 5 and 2 K, each sure to 1.36 K.
    const judged = (size: number) => {
      job.append({ kind: 'proof-limit', limit: { kind: 'size', size } }, 'x');
      return proofVerdict(stateOf(job));
    };
    expect(judged(3.4)).toMatchObject({ verdict: 'outside', counted: 4, isWithin: 3, isOutside: 1 });
    expect(judged(5)).toMatchObject({ verdict: 'cannot-tell', isWithin: 3, isOutside: 0 });
    expect(judged(6.4)).toMatchObject({ verdict: 'within', isWithin: 4, missing: [] });
    job.append({ kind: 'proof-pair-struck', pairId: 'q2', reason: 'wrong' }, 'x');
    expect(judged(3.4)).toMatchObject({
      verdict: 'within',
      counted: 3,
      missing: ['dangerous-end', 'fresh-pair'],
    });
  });

  it('gives the same verdict in whatever unit it is shown', async () => {
    const job = await desk();
    proved(job);
    job.append({ kind: 'proof-limit', limit: { kind: 'size', size: 3.4 } }, 'x');
    const before = proofVerdict(stateOf(job));
    job.append({ kind: 'job-changed', shownUnit: 'degF' }, 'x');
    const shown = inShownUnit(stateOf(job));
    expect(proofVerdict(shown)).toEqual(before);
    expect(limitOf(shown).size).toBeCloseTo(6.12, 9);
  });

  it('takes the error as indicated less true and both uncertainties together', async () => {
    const job = await desk();
    proved(job);
    const state = stateOf(job);
    const [first] = state.proofPairs;
    if (first === undefined) throw new Error('no pair');
    const result = pairResult(state, first);
    expect(result.error).toBe(1);
    // Span 80 K, a fiftieth is 1.6 K: u = 1.6 / (2 sqrt 3) = 0.46 K; with 0.5 K of the reference U = 2 * 0.68 K.
    expect(result.expandedUncertainty).toBeCloseTo(2 * Math.hypot(1.6 / (2 * Math.sqrt(3)), 0.5), 9);
  });
});

describe('the dial editor', () => {
  it('puts a new mark into the widest gap', () => {
    const marks = withMark([
      { label: '0', reading: 0, angleFraction: 0 },
      { label: '1', reading: 1, angleFraction: 0.2 },
      { label: '5', reading: 5, angleFraction: 1 },
    ]);
    expect(marks.map((mark) => mark.reading)).toEqual([0, 1, 3, 5]);
    expect(marks[2]?.angleFraction).toBeCloseTo(0.6, 9);
  });

  it('finds what the host would refuse before it is sent', () => {
    const { marks } = sampleGauge;
    expect(marksProblem(marks)).toBeUndefined();
    expect(marksProblem(editMark(marks, 1, { angleFraction: 0 }))).toContain('same place');
    expect(marksProblem(editMark(marks, 1, { reading: 200 }))).toContain('same way');
    expect(
      gaugeSchema.safeParse({ ...sampleGauge, marks: editMark(marks, 1, { reading: 200 }) }).success,
    ).toBe(false);
    expect(withoutMark(marks, 1).map((mark) => mark.label)).not.toContain('60');
  });

  it('starts from templates that the host accepts', () => {
    expect(templates.length).toBeGreaterThan(8);
    for (const { gauge } of templates)
      expect(gaugeSchema.safeParse({ mechanism: 'unknown', ...gauge }).success).toBe(true);
  });
});

describe('the words of the page', () => {
  it('write figures as a person reads them', () => {
    expect(shownOhm(455.449)).toBe('455.4 \u03a9');
    expect(shownPart(9100)).toBe('9.1 k\u03a9');
    expect(shownPart(18)).toBe('18 \u03a9');
    expect(sureOhm(455.8123, 42.06)).toEqual(['456 \u03a9', '\u00b142 \u03a9']);
    expect(sureOhm(73.2938, 1.425)).toEqual(['73.3 \u03a9', '\u00b11.4 \u03a9']);
    expect(sureOhm(2344.1, 421)).toEqual(['2340 \u03a9', '\u00b1420 \u03a9']);
    const letters = {
      unit: '%',
      marks: [
        { label: 'E', reading: 0, angleFraction: 0 },
        { label: '100', reading: 100, angleFraction: 1 },
      ],
    };
    expect(markWords(0, letters)).toBe('\u201cE\u201d (0.0 %)');
    expect(markWords(100, letters)).toBe('100.0 %');
    expect(shownError(-0.04, sampleGauge)).toBe('0.0 \u00b0C');
    expect(shownError(-2.5, sampleGauge)).toBe('\u22122.5 \u00b0C');
    expect(shownError(2.5, sampleGauge)).toBe('+2.5 \u00b0C');
    expect(asSentence('the box tripped')).toBe('The box tripped.');
    expect(asSentence('Were the lights on?')).toBe('Were the lights on?');
  });
});

describe('the curve under a point', () => {
  const line = [
    { x: 10, y: 100, low: 98, high: 102 },
    { x: 100, y: 50, low: 49, high: 51 },
  ];

  it('lies between the drawn points in ln R, with its band', () => {
    expect(curveAt(line, 10)).toEqual({ reading: 100, low: 98, high: 102 });
    const middle = curveAt(line, Math.sqrt(1000));
    expect(middle?.reading).toBeCloseTo(75, 9);
    expect(middle?.low).toBeCloseTo(73.5, 9);
    expect(curveAt([{ ...line[0]!, x: 0 }, line[1]!], 50)?.reading).toBeCloseTo(75, 9);
  });

  it('is not known beyond its ends', () => {
    expect(curveAt(line, 9.9)).toBeUndefined();
    expect(curveAt(line, 101)).toBeUndefined();
    expect(curveAt([], 50)).toBeUndefined();
  });
});
