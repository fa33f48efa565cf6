import { FEWEST_READINGS, readInstead, type Band } from '../../core/cluster';
import { fitCurve, needleAt } from '../../core/curve';
import { person } from '../../core/dial';
import { curveOptionsOf, curveReadings, scaleOf, type JobState } from '../../job';
import type { LiveFrame } from '../../job';

/** A needle in sight: its job, and what its box makes now. */
export type InSight = { readonly jobId: string; readonly state: JobState; readonly live: LiveFrame };

/** Parts of the arc within which nobody would wonder at a reading: an eye's worst, and what a young curve may miss by. */
const EYE_PART = 3 * Math.hypot(person.parallaxPart, person.lookPart);
const YOUNG_CURVE_PART = 0.04;

/** Where a gauge's needle is expected at what its box makes; undefined before its curve says anything. */
function expectedOf({ state, live }: InSight): Band | undefined {
  const ohm = live.output.madeOhm;
  const readings = curveReadings(state);
  if (ohm === undefined || readings.length < FEWEST_READINGS) return undefined;
  const curve = fitCurve(readings, curveOptionsOf(state.gauge));
  if (curve.kind === 'refused') return undefined;
  const { span } = scaleOf(state.gauge.marks);
  const half =
    span * (EYE_PART + YOUNG_CURVE_PART / Math.sqrt(readings.length)) +
    (state.gauge.divisionReading ?? 0) / 2;
  return { middle: needleAt(curve, ohm), half };
}

/** The job whose needle was probably read instead of this one's; undefined where nothing speaks for that. */
export function wrongNeedle(given: number, own: InSight, others: readonly InSight[]): string | undefined {
  const expected = expectedOf(own);
  if (expected === undefined) return undefined;
  const seen = others.flatMap((other) => {
    const band = expectedOf(other);
    return band === undefined ? [] : [{ id: other.jobId, band }];
  });
  return readInstead(given, expected, seen);
}
