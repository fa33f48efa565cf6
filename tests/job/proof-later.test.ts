import { describe, expect, it } from 'vitest';
import { decide } from '../../host/bench/decide/decide';
import { foldJob, jobCommand, type EventBody, type JobState } from '../../host/job';
import { isProved } from '../../host/job/proof/proof';
import { reEstimateJob, type Reestimated } from '../../host/job/proof/re-estimate-of-job';
import { estimateNow } from '../../host/job/proof/run-pairs';
import { inShownUnit } from '../../host/job/state/shown-unit';
import { plain } from '../../host/words/notation';
import { driftWords, estimateWords, offerWords } from '../../host/words/proof-later';
import { carOf, marksOf, needleWith, type Car } from '../core/proof/car';
import { opened, stamped } from './sample';

// The world is that of car.ts: its gauge by heat and conductances, its sender by an activation energy.
const KIND = 'thermal';
const gauge = {
  ...({ quantity: 'temperature', mechanism: KIND, unit: 'degC', terminals: 2 } as const),
  marks: marksOf(KIND),
  divisionReading: 2,
};
const SWEPT_OHM = Array.from({ length: 12 }, (_, step) => 25 * (420 / 25) ** (step / 11));

/** The replacement has three quarters of the ohms that the dial was printed for, and what is missing is in its lead. */
const PART = 0.75;
const FITTED_OHM = 13;
const LEAD = { seriesOhm: FITTED_OHM };

const begun: readonly EventBody[] = [
  { ...opened, gauge },
  {
    kind: 'sweep-started',
    ...{ sweepId: 'w1', mode: 'step-and-read', fromOhm: 420, toOhm: 25, refinements: 0, settleMs: 60_000 },
    steps: SWEPT_OHM.map((resistanceOhm, index) => ({
      ...{ stepId: `w1s${index}`, leg: 'up', why: 'plan' },
      aim: { kind: 'resistance', resistanceOhm },
    })),
  },
  ...SWEPT_OHM.map((resistanceOhm, index): EventBody => ({
    kind: 'reading',
    ...{ readingId: `r${index}`, sweepId: 'w1', stepId: `w1s${index}`, resistanceOhm, uncertaintyOhm: 0.05 },
    ...{ leg: 'up', waitedMs: 60_000, method: 'step' },
    reading: Number(needleWith(KIND, resistanceOhm).toFixed(1)),
  })),
  { kind: 'sweep-finished', sweepId: 'w1', complete: true },
  { kind: 'sender-described', senderId: 's1', title: 'by its table', model: 'unknown', unit: 'degC' },
  ...[30, 45, 60, 75, 90, 105, 120].map((value, index): EventBody => ({
    kind: 'sender-point',
    ...{ pointId: `p${index}`, senderId: 's1', source: 'datasheet' },
    ...{ value, resistanceOhm: carOf(KIND, PART).ohm(value) },
  })),
  {
    kind: 'network-fitted',
    ...{ fitted: 'network', senderId: 's1' },
    candidate: {
      ...{ topology: 'series', worstError: 1 },
      parts: [{ place: 'series', resistanceOhm: FITTED_OHM }],
    },
  },
  { kind: 'proof-limit', limit: { kind: 'size', size: 12 } },
  { kind: 'proof-rule', rule: 'guard' },
];

const runs: EventBody = { kind: 'safety-confirmed', confirmation: 'engine-runs', sentence: 'hands out' };

const pair = (
  pairId: string,
  reference: number,
  indicated: number,
  leg: 'up' | 'down' = 'up',
): EventBody => ({
  kind: 'proof-pair',
  ...{ pairId, state: 'as-left', method: 'run', reference, referenceUncertainty: 1, indicated, leg },
  referenceKind: 'flow-probe',
});

const PLACES = [50, 65, 80, 92];
const read = (car: Car, probeOff = 0): EventBody[] =>
  PLACES.map((truth, index) =>
    pair(`f${index}`, truth + probeOff, Number(car.shows(truth, LEAD).toFixed(1))),
  );

type Candidate = NonNullable<Reestimated['offer']>['candidate'];
/** What the lead's end is to the gauge: each part by what it adds, as it is met from the sender; no network of the house. */
const through = ({ topology, parts }: Candidate, senderOhm: number): number =>
  (topology === 'shunt-then-series' ? [...parts].reverse() : parts).reduce(
    (seen, { place, resistanceOhm }) =>
      place.startsWith('series') ? seen + resistanceOhm : 1 / (1 / seen + 1 / resistanceOhm),
    senderOhm,
  );

const stateOf = (...bodies: readonly EventBody[]): JobState => {
  const state = foldJob(stamped([...begun, ...bodies], 'laptop', 60));
  if (state === undefined) throw new Error('no job');
  return state;
};

const estimated = (state: JobState): Reestimated => {
  const found = reEstimateJob(state, 's1');
  if (found.kind === 'refused') throw new Error(found.code);
  return found;
};

describe('what the pairs of a job say of its sender', () => {
  // More than the usual spread of a book curve: what the pairs must find against the prior.
  const drifted = carOf(KIND, 1.16 * PART);
  const state = stateOf(...read(drifted));
  const found = estimated(state);

  it('finds a sender that has more ohms than its table, and what the needle shows between the pairs', () => {
    expect(found.curve).toBe('book');
    expect(found.ohmsRatio).toBeGreaterThan(1.08);
    expect(found.ohmsRatio).toBeLessThan(1.22);
    const missed = found.needle.filter(
      ({ value, reading, expandedUncertainty }) =>
        Math.abs(reading - drifted.shows(value, LEAD)) > expandedUncertainty,
    );
    expect(missed).toEqual([]);
  });

  it('offers other resistors, and in the world they are better', () => {
    const { offer } = found;
    expect(offer?.isWorthIt).toBe(true);
    const worst = (shows: (truth: number) => number): number =>
      Math.max(...[45, 60, 75, 90, 105].map((truth) => Math.abs(shows(truth) - truth)));
    expect(worst((truth) => needleWith(KIND, through(offer!.candidate, drifted.ohm(truth))))).toBeLessThan(
      worst((truth) => drifted.shows(truth, LEAD)) - 0.75,
    );
  });

  it('once that is fitted and proved anew, nothing else is worth it; nor for a probe that is misplaced', () => {
    for (const off of [0, 1.5]) {
      const candidate = estimated(stateOf(...read(drifted, off))).offer!.candidate;
      const again = PLACES.map((truth, index) => {
        const shows = needleWith(KIND, through(candidate, drifted.ohm(truth)));
        return pair(`g${index}`, truth + off, Number(shows.toFixed(1)));
      });
      const fitted: EventBody = { kind: 'network-fitted', fitted: 'network', senderId: 's1', candidate };
      expect(estimated(stateOf(fitted, ...again)).offer?.isWorthIt ?? false).toBe(false);
    }
  });

  it('is kept in the journal, shown in the other unit, and lasts as long as its pairs', () => {
    const kept = stateOf(...read(drifted), found);
    expect(estimateNow(kept)?.pairIds).toEqual(['f0', 'f1', 'f2', 'f3']);
    expect(estimateWords(kept.reestimated!, 'degC', plain)).toMatch(/low at .* more ohms in the middle/);
    expect(offerWords(kept.reestimated!, kept, plain)).toMatch(/^Other resistors are worth it: /);
    const shown = inShownUnit({ ...kept, shownUnit: 'degF' });
    expect(shown.reestimated?.needle[0]?.value).toBeCloseTo(32 + 1.8 * found.needle[0]!.value, 6);
    expect(shown.reestimated?.offer?.worstNow).toBeCloseTo(1.8 * found.offer!.worstNow, 6);
    const struck = stateOf(...read(drifted), found, {
      kind: 'proof-pair-struck',
      ...{ pairId: 'f3', reason: 'struck by hand' },
    });
    expect(estimateNow(struck)).toBeUndefined();
  });

  it('says nothing without a pair that was run, and of what is no number', () => {
    expect(reEstimateJob(stateOf(), 's1')).toMatchObject({ kind: 'refused', code: 'PROOF_NO_PAIRS' });
    const impossible = stateOf(pair('f0', 80, NaN));
    expect(reEstimateJob(impossible, 's1')).toMatchObject({ kind: 'refused', code: 'PROOF_FITS_NOTHING' });
  });
});

describe('a season after a proof', () => {
  const hot: EventBody = {
    kind: 'proof-pair',
    ...{ pairId: 'h', state: 'as-left', method: 'substituted', leg: 'up' },
    substitute: { with: 'resistor', resistanceOhm: 27, uncertaintyOhm: 0.1, senderId: 's1' },
    ...{ reference: 115, referenceUncertainty: 1, indicated: 115 },
  };
  const proof = [...read(carOf(KIND, PART)), pair('down', 80, 80.4, 'down'), hot];

  const tell = (bodies: readonly EventBody[], command: object): string | EventBody => {
    const state = stateOf(...bodies);
    const asked = jobCommand.parse({ kind: 'check-drift', referenceUncertainty: 1, leg: 'up', ...command });
    if (asked.kind !== 'check-drift') throw new Error('another command');
    const decided = decide({ state, events: [], by: 'laptop' }, asked);
    return 'kind' in decided ? decided.code : decided[0]!;
  };

  it('is asked only of what was proved, near a place of the proof, behind the gates of any pair', () => {
    expect(isProved(stateOf(...proof))).toBe(true);
    const near = { reference: 81, indicated: 81, engine: 'running' };
    expect(tell(read(carOf(KIND, PART)), { ...near, engine: 'off' })).toBe('NOT_PROVED_YET');
    expect(tell(proof, near)).toBe('CONFIRM_FIRST');
    expect(tell([...proof, runs], { ...near, reference: 72 })).toBe('NOT_AS_LEFT_HERE');
    expect(tell([...proof, runs], { ...near, leg: 'down', reference: 50 })).toBe('NOT_AS_LEFT_HERE');
    expect(tell([...proof, runs], { ...near, reference: 111, indicated: 111 })).toBe('ENGINE_TOO_HOT');
    expect(tell([...proof, runs], { ...near, referenceUncertainty: 0 })).toBe('NO_REFERENCE_UNCERTAINTY');
  });

  it('says as left or moved by both uncertainties, and of the rest mark against the look before', () => {
    // Two references at standard 1, two eyes at half of 2 degC: U of the difference 2 sqrt(2 + 2 / 3) = 3.27 degC.
    const at = (indicated: number, more: object = {}) =>
      tell([...proof, runs], { reference: 80, indicated, engine: 'running', ...more });
    const left = carOf(KIND, PART).shows(80, LEAD);
    expect(at(left + 3.1)).toMatchObject({ kind: 'drift-checked', hasMoved: false });
    expect(at(left + 3.5)).toMatchObject({ kind: 'drift-checked', hasMoved: true });
    const first = at(left, { restOff: 0.2 });
    expect(first).toMatchObject({ restOff: 0.2, hasMoved: false });
    expect(first).not.toHaveProperty('restScore');
    if (typeof first === 'string') throw new Error(first);
    const later = tell([...proof, first, runs], {
      ...{ reference: 80, indicated: left, engine: 'running', restOff: -2 },
    });
    expect(later).toMatchObject({ restBefore: 0.2, hasMoved: true });
    const state = stateOf(...proof, first);
    expect(driftWords(state.drifts[0]!, 'degC', plain)).toMatch(/^As left: at 80 degC .*next time\.$/);
    expect(isProved(state)).toBe(true);
  });
});
