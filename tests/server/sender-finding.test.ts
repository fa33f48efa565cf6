import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { selfHeatedOhm } from '../../host/core/sender';
import { compute } from '../../host/server/findings/findings';
import { tasksOf, type SenderTask } from '../../host/server/findings/tasks';
import { senderFinding } from '../../host/server/findings/sender-finding';
import type { Findings } from '../../host/job/findings';
import type { JobState } from '../../host/job/state/state';
import { foldJob } from '../../host/job/state/fold';
import { FakeBench, type FakeDesk } from '../support/fake-bench';
import { NTC_POINTS, sampleDesk, sampleGauge, senderGiven, sweepDone } from '../e2e/sample-job';

const task: SenderTask = {
  kind: 'sender',
  senderId: 's',
  gauge: sampleGauge,
  unit: 'degC',
  model: undefined,
  points: NTC_POINTS.map(([value, resistanceOhm]) => ({ value, resistanceOhm })),
  tolerancePercent: undefined,
  heating: undefined,
  currents: [],
  working: undefined,
};

const jobDone = async (more: (desk: FakeDesk) => void = () => undefined): Promise<JobState> => {
  const desk = await sampleDesk(new FakeBench());
  sweepDone(desk);
  senderGiven(desk, NTC_POINTS);
  desk.append({ kind: 'trim-requested', options: { senderId: 'sender-1', series: 'E24', maxParts: 1 } }, 'x');
  more(desk);
  const state = foldJob(desk.events);
  if (state === undefined) throw new Error('no state');
  return state;
};

const findingsOf = (state: JobState): Findings => {
  const { curve, senders, trim } = tasksOf(state);
  const all: Findings = { senders: senders.map(senderFinding) };
  const computed = [curve, trim].flatMap((each) => (each === undefined ? [] : [compute(each)]));
  return computed.reduce<Findings>((found, each) => {
    if ('curve' in each) return { ...found, curve: each };
    return 'trimmed' in each ? { ...found, trim: each } : found;
  }, all);
};

describe('the tolerance of a sender', () => {
  it('is a band around its curve of just that many percent, and none where its maker states none', () => {
    expect(senderFinding(task).tolerance).toBeUndefined();
    fc.assert(
      fc.property(fc.double({ min: 1, max: 20, noNaN: true }), (tolerancePercent) => {
        const { tolerance = [] } = senderFinding({ ...task, tolerancePercent });
        expect(tolerance.length).toBeGreaterThan(40);
        for (const { low, high, y } of tolerance) {
          expect(high / low).toBeCloseTo((100 + tolerancePercent) / (100 - tolerancePercent), 9);
          expect(y).toBeCloseTo((low + high) / 2, 9);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('is carried through each network to the dial: wider there than without, and it holds the nominal error', async () => {
    const state = await jobDone((desk) =>
      desk.append(
        {
          kind: 'sender-described',
          senderId: 'sender-1',
          title: 'new sender',
          model: 'unknown',
          unit: 'degC',
          tolerancePercent: 10,
        },
        'x',
      ),
    );
    const { trim } = findingsOf(state);
    if (trim?.tolerance === undefined || trim.trimmed.kind !== 'trimmed') throw new Error('no band');
    expect(trim.tolerance.percent).toBe(10);
    expect(trim.tolerance.bands.length).toBe(Math.min(8, trim.trimmed.candidates.length));
    for (const band of trim.tolerance.bands) {
      expect(band.length).toBeGreaterThan(30);
      for (const { low, y, high } of band) {
        expect(low).toBeLessThanOrEqual(y);
        expect(high).toBeGreaterThanOrEqual(y);
      }
    }
    // 10 % of a thermistor is 3 to 4 K near 90 degC: with no network at all the ends are that far apart, each way.
    const bare = trim.trimmed.candidates.findIndex((candidate) => candidate.topology === 'none');
    const middle = trim.tolerance.bands[bare]?.find((point) => point.x >= 90);
    if (middle === undefined) throw new Error('no middle');
    expect((middle.high - middle.low) / 2).toBeGreaterThan(2.5);
    expect((middle.high - middle.low) / 2).toBeLessThan(4.5);
  });
});

describe('the heat of a sender\u2019s own current', () => {
  /** What a sender that sheds 25 mW/K shows at 10 mA, sent 60 % of the time. */
  const measuredAt = (value: number, wattPerKelvin: number, onFraction: number): SenderTask => {
    const fitted = senderFinding(task).fitted;
    if (fitted.kind === 'refused') throw new Error(fitted.code);
    const at = (microamp: number): number => {
      const heated = selfHeatedOhm(fitted, {
        value,
        currentAmp: (microamp / 1e6) * Math.sqrt(onFraction),
        wattPerKelvin,
      });
      if (heated.kind === 'refused') throw new Error(heated.code);
      return heated.resistanceOhm;
    };
    const reading = (microamp: number) => ({ microamp, resistanceOhm: at(microamp), uncertaintyOhm: 0.05 });
    return { ...task, heating: { value, low: reading(500), high: reading(10_000), onFraction } };
  };

  it('gives back the watts per kelvin that the two resistances were made with', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 55, max: 80, noNaN: true }),
        fc.double({ min: 0.005, max: 0.03, noNaN: true }),
        fc.double({ min: 0.4, max: 1, noNaN: true }),
        (value, wattPerKelvin, onFraction) => {
          const { heating } = senderFinding(measuredAt(value, wattPerKelvin, onFraction));
          const found = heating?.kind === 'heating' ? heating.milliwattPerKelvin : NaN;
          expect(Math.abs(found / (1000 * wattPerKelvin) - 1)).toBeLessThan(0.03);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('is told for the gauge\u2019s own current once a sweep has seen it', () => {
    const before = senderFinding(measuredAt(80, 0.03, 0.7)).heating;
    expect(before?.kind === 'heating' ? before.shift : NaN).toBeUndefined();
    const currents = [
      { resistanceOhm: 400, milliamp: 20 },
      { resistanceOhm: 95, milliamp: 60 },
    ];
    const { heating } = senderFinding({ ...measuredAt(80, 0.03, 0.7), currents });
    // 60 mA through about 90 ohm is 0.33 W: at 30 mW/K some 10 K.
    if (heating?.kind !== 'heating') throw new Error('refused');
    expect(heating.gaugeMilliamp).toBe(60);
    expect(heating.shift).toBeGreaterThan(8);
    expect(heating.shift).toBeLessThan(12);
  });

  it('is refused where the fall is smaller than what two ranges of one meter differ by', () => {
    const { heating } = senderFinding(measuredAt(80, 3, 0.7));
    expect(heating).toMatchObject({ kind: 'refused', code: 'SELF_HEATING_NOT_SEEN' });
  });
});

describe('findings in another unit', () => {
  it('say the same: marks at the same ohms, errors times 1.8, the same networks', async () => {
    const plain = findingsOf(await jobDone());
    const shown = findingsOf(
      await jobDone((desk) => desk.append({ kind: 'job-changed', shownUnit: 'degF' }, 'x')),
    );
    const [one, other] = [plain.curve?.curve, shown.curve?.curve];
    if (one === undefined || other === undefined || one.kind === 'refused' || other.kind === 'refused')
      throw new Error('no curve');
    for (const [index, mark] of one.marks.entries()) {
      expect(other.marks[index]?.reading).toBeCloseTo(mark.reading * 1.8 + 32, 9);
      expect((other.marks[index]?.resistanceOhm ?? NaN) / mark.resistanceOhm).toBeCloseTo(1, 2);
    }
    const [before, after] = [plain.trim?.trimmed, shown.trim?.trimmed];
    if (before?.kind !== 'trimmed' || after?.kind !== 'trimmed') throw new Error('no network');
    const [best, same] = [before.candidates[before.recommended], after.candidates[after.recommended]];
    expect(same?.parts.map((part) => part.resistanceOhm)).toEqual(
      best?.parts.map((part) => part.resistanceOhm),
    );
    expect((same?.worstError ?? NaN) / (best?.worstError ?? NaN)).toBeCloseTo(1.8, 1);
    expect(same?.topology).toBe(best?.topology);
  });
});
