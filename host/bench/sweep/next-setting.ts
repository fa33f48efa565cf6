import { fitCurve } from '../../core/curve';
import { person, placeOf } from '../../core/dial';
import { nextRefinement, settingForMarks, type MarkThatCounts } from '../../core/plan';
import {
  presentReadings,
  curveOptionsOf,
  curveReadings,
  readingUncertaintyOf,
  scaleOf,
  type Gauge,
  type JobState,
  type Sweep,
} from '../../job';
import { minutesFor } from '../../job/state/sweep-size';

export type NextSetting = {
  readonly resistanceOhm: number;
  readonly why: 'refine' | 'edge';
  /** A program's needle has next to no lag: a second place tells more than the same one from the other side. */
  readonly isReadOnce: boolean;
};

/** As in a trim: the quarter where a wrong needle does harm counts twice. Common practice, no source. */
const DANGER_WEIGHT = 2;
const DANGER_PART = 0.25;

/** Hot, empty, no pressure. */
const marksThatCount = ({ marks, quantity }: Gauge): MarkThatCounts[] => {
  const { lowest, span } = scaleOf(marks);
  return marks.map(({ reading }) => {
    const part = (reading - lowest) / span;
    const isDangerous =
      quantity === 'other'
        ? false
        : quantity === 'temperature'
          ? part >= 1 - DANGER_PART
          : part <= DANGER_PART;
    return { reading, weight: isDangerous ? DANGER_WEIGHT : 1 };
  });
};

/**
 * The setting that a sweep reads next of its own accord; undefined where none is worth its wait. The edge of a rest or a
 * stop comes first; a needle that a program moves, said or seen, is read where it could be furthest from its curve; any
 * other where one more reading makes the marks surest.
 */
export const nextSetting = (state: JobState, sweep: Sweep, legCount: number): NextSetting | undefined => {
  const { gauge } = state;
  const options = curveOptionsOf(gauge);
  const { dial } = options;
  // On the arc, where a bend is the gauge's own and not the printing's.
  const readings = presentReadings(state).map((one) => ({ ...one, reading: placeOf(dial, one.reading) }));
  const given = readingUncertaintyOf(gauge);
  const readingUncertainty =
    dial === undefined ? given : Math.hypot(given / scaleOf(gauge.marks).span, person.lookPart);
  const curve = fitCurve(curveReadings(state), options);
  const isFree = gauge.mechanism === 'electronic' || (curve.kind === 'curve' && curve.model.reachPart === 1);
  const byGaps = nextRefinement(readings, { readingUncertainty, mayRest: isFree });
  if (isFree || curve.kind === 'refused' || (byGaps.kind === 'point' && byGaps.why === 'edge'))
    return byGaps.kind === 'enough'
      ? undefined
      : {
          resistanceOhm: byGaps.resistanceOhm,
          why: byGaps.why === 'edge' ? 'edge' : 'refine',
          isReadOnce: gauge.mechanism === 'electronic',
        };
  const next = settingForMarks(curve, {
    marks: marksThatCount(gauge),
    readingsEach: legCount,
    minutes: minutesFor(legCount, sweep),
  });
  return next.kind === 'enough'
    ? undefined
    : { resistanceOhm: next.resistanceOhm, why: 'refine', isReadOnce: false };
};
