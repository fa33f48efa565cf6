import { planHand } from '../../host/bench/hand/plan-hand';
import { fitCurve, marksOf, readingAt } from '../../host/core/curve';
import { curveOptionsOf, foldJob, type Gauge, type JobState } from '../../host/job';
import { measuredOhms } from '../../host/bench/decide/decide-hand';
import type { HandSetUp } from '../../host/job/schema/by-hand';
import { ownOhmsOf, sharedByReadings } from '../../host/job/state/hand-ohms';
import { randomErrors, randomGauge, randomSource, type Mechanism, type RandomGauge } from './random-gauge';

type Random = ReturnType<typeof randomSource>;

/** What is printed on the parts of a well-kept drawer: the E6 values, two of each, from a shop's list. Common practice, no source. */
const PRINTED = [1, 1.5, 2.2, 3.3, 4.7, 6.8];
const DRAWER = [1, 10, 100, 1_000].flatMap((decade) => PRINTED.map((value) => value * decade));

const MARKS = 5;
const evenMarks = ({ lowestReading, highestReading }: RandomGauge): Gauge['marks'] =>
  Array.from({ length: MARKS }, (_, index) => ({
    label: String(index),
    reading: lowestReading + (index / (MARKS - 1)) * (highestReading - lowestReading),
    angleFraction: index / (MARKS - 1),
  }));

const gaugeOf = (truth: RandomGauge): Gauge => {
  const ends = [truth.lowestReading, truth.highestReading].map((end) => Math.max(8, truth.ohm(end)));
  return {
    quantity: 'other',
    unit: 'part',
    mechanism: truth.mechanism,
    marks: evenMarks(truth),
    divisionReading: (truth.highestReading - truth.lowestReading) / truth.divisions,
    family: { lowEndOhm: ends[0]!, highEndOhm: ends[1]! },
  };
};

/** An ohmmeter within the limits of its sheet: one scale error, one offset left in its leads, 2000 counts. */
const meterOf = (random: Random): ((ohm: number) => number) => {
  const scale = 1 + 0.008 * (2 * random.uniform() - 1);
  const offset = 0.3 * (2 * random.uniform() - 1);
  return (ohm) => {
    const seen = ohm * scale + offset;
    const step = seen < 200 ? 0.1 : seen < 2_000 ? 1 : 10;
    return Math.max(0, Math.round(seen / step) * step);
  };
};

/** Of a hundred figures one is written down with a digit that was not shown. */
const written = (shown: number, random: Random): number => {
  if (random.uniform() > 0.01) return shown;
  const text = shown.toFixed(1);
  const places = [...text].flatMap((each, at) => (each === '.' ? [] : [at]));
  const at = places[Math.floor(random.uniform() * places.length)]!;
  return Number(`${text.slice(0, at)}${Math.floor(random.uniform() * 10)}${text.slice(at + 1)}`);
};

/** Of a hundred waits one is forgotten: the needle has then a sixth of its way to go (half a minute of a lag of 17 s). */
const FORGOTTEN = 0.01;
const STILL_TO_GO = 1 / 6;

export type HandTools = 'resistors' | 'potentiometer';

const setUpOf = (how: HandTools, gauge: Gauge): HandSetUp => {
  const ohmmeter = { name: 'handheld' };
  const { lowEndOhm, highEndOhm } = gauge.family!;
  const most = Math.max(lowEndOhm, highEndOhm);
  const least = Math.min(lowEndOhm, highEndOhm);
  return how === 'resistors'
    ? {
        tools: {
          way: 'resistors',
          parts: DRAWER.map((resistanceOhm) => ({ resistanceOhm, ratingWatt: 500, count: 2 })),
        },
        ohmmeter,
      }
    : {
        tools: {
          way: 'potentiometer',
          wholeOhm: 1.3 * most,
          ratingWatt: 5_000,
          seriesOhm: least,
          seriesWatt: 500,
        },
        ohmmeter,
      };
};

/** A whole sweep by somebody without a box, on a gauge whose truth is known; the readings as the journal keeps them. */
function readByHand(
  truth: RandomGauge,
  how: HandTools,
  random: Random,
): { gauge: Gauge; readings: JobState['readings'] } {
  const gauge = gaugeOf(truth);
  const hand = setUpOf(how, gauge);
  const opened = foldJob([
    {
      n: 1,
      at: '2026-03-01T09:00:00.000Z',
      by: 'test',
      kind: 'job-opened',
      schema: 1,
      jobId: 'truth',
      title: 'truth',
      vehicle: 'none',
      place: 'bench',
      simulated: false,
      gauge,
    },
  ])!;
  const plan = planHand(opened, { mode: 'step-and-read' }, hand);
  if (plan.kind === 'refused') throw new Error(`${plan.code}: ${plan.message}`);
  const errors = randomErrors(random);
  const meter = meterOf(random);
  const span = truth.highestReading - truth.lowestReading;
  const step = span / truth.divisions / 2;
  const viewpoint = span * errors.viewpoint;
  const readings = plan.steps.map(({ stepId, leg, aim }, index): JobState['readings'][number] => {
    const ohm = ohmOnWire(truth, aim, hand, random);
    const shown = meter(ohm);
    const noted = written(shown, random);
    // Far from what was asked for the page asks back, and a person looks again.
    const isFar = aim.kind === 'resistance' && Math.abs(Math.log(noted / aim.resistanceOhm)) > Math.log(1.15);
    const lag = span * errors.friction * (0.7 + 0.3 * random.uniform()) * (leg === 'up' ? -1 : 1);
    const rest = truth.reading(ohm) + lag;
    const late = random.uniform() < FORGOTTEN ? STILL_TO_GO * (truth.lowestReading - rest) : 0;
    const seen = rest + late + span * errors.scatter * random.normal() + viewpoint;
    const ohms = measuredOhms(isFar ? shown : noted, hand.ohmmeter);
    return {
      n: index + 2,
      at: '2026-03-01T09:00:00.000Z',
      by: 'test',
      readingId: `r${index}`,
      sweepId: plan.sweepId,
      stepId,
      ...ohms,
      reading: Math.round(seen / step) * step,
      leg,
      waitedMs: plan.settleMs,
      method: 'step',
      source: 'hand',
      ohmmeter: hand.ohmmeter,
    };
  });
  return { gauge, readings };
}

/** Parts of 2 %; a track of 400 turns, its needle brought near the mark. */
function ohmOnWire(
  truth: RandomGauge,
  aim:
    | { readonly kind: 'resistance'; readonly resistanceOhm: number }
    | { readonly kind: 'mark'; readonly reading: number },
  { tools }: HandSetUp,
  random: Random,
): number {
  if (aim.kind === 'resistance') return aim.resistanceOhm * (1 + 0.02 * random.normal());
  const span = truth.highestReading - truth.lowestReading;
  const near = aim.reading + 0.03 * span * random.normal();
  const wanted = truth.ohm(Math.min(truth.highestReading, Math.max(truth.lowestReading, near)));
  if (tools.way !== 'potentiometer') return wanted;
  const turn = tools.wholeOhm / 400;
  return tools.seriesOhm + Math.max(0, Math.round((wanted - tools.seriesOhm) / turn)) * turn;
}

/** How many 95 % intervals of the marks, and of the reading over the measured range, hold the truth. */
export function handCoverage(mechanism: Mechanism, how: HandTools, gauges: number, firstSeed: number) {
  const marks = { held: 0, all: 0 };
  const readings = { held: 0, all: 0 };
  for (let index = 0; index < gauges; index += 1) {
    const random = randomSource(firstSeed + index);
    const truth = randomGauge(mechanism, random);
    const { gauge, readings: read } = readByHand(truth, how, random);
    const ohms = sharedByReadings(read);
    const own = ownOhmsOf(read);
    const curve = fitCurve(
      read.map((each, at) => ({
        resistanceOhm: each.resistanceOhm,
        reading: each.reading,
        leg: each.leg,
        ...(own[at] === undefined ? {} : { resistanceUncertaintyOhm: own[at] }),
      })),
      { ...curveOptionsOf(gauge), ...(ohms === undefined ? {} : { resistanceUncertainty: ohms }) },
    );
    if (curve.kind === 'refused') continue;
    const inner = gauge.marks.slice(1, -1).map(({ reading }) => reading);
    for (const mark of marksOf(curve, inner)) {
      if (truth.plateau?.reading === mark.reading) continue;
      marks.all += 1;
      if (Math.abs(mark.resistanceOhm - truth.ohm(mark.reading)) <= mark.expandedUncertaintyOhm)
        marks.held += 1;
    }
    const { measuredFromOhm, measuredToOhm } = curve.model;
    for (let look = 0; look <= 20; look += 1) {
      const ohm = measuredFromOhm * (measuredToOhm / measuredFromOhm) ** (look / 20);
      const predicted = readingAt(curve, ohm);
      if (predicted.kind === 'refused') continue;
      readings.all += 1;
      if (Math.abs(predicted.reading - truth.reading(ohm)) <= predicted.expandedUncertainty)
        readings.held += 1;
    }
  }
  return { marks, readings };
}
