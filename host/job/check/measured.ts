import type { JobState, Measurement } from '../state/state';

type Measured = Pick<JobState, 'measurements'>;

/** The newest measurement of a thing; `loads` left out: under whatever loads. */
export const measured = (
  { measurements }: Measured,
  what: Measurement['what'],
  loads?: Measurement['loads'],
): Measurement | undefined =>
  measurements.filter((each) => each.what === what && (loads === undefined || each.loads === loads)).at(-1);

/** An answer of the check that says that a shown measurement was seen and kept; its answer is the number of the event. */
const KEPT = 'kept:';
export const keptQuestion = ({ what, loads }: Pick<Measurement, 'what' | 'loads'>): string =>
  `${KEPT}${what}:${loads ?? 'off'}`;

/** Whether somebody has seen this measurement and kept it. */
export const isKept = ({ answers }: Pick<JobState, 'answers'>, measurement: Measurement): boolean =>
  answers[keptQuestion(measurement)] === String(measurement.n);

/** What people answered, without the bookkeeping of what they saw. */
export const answerCount = ({ answers }: Pick<JobState, 'answers'>): number =>
  Object.keys(answers).filter((question) => !question.startsWith(KEPT)).length;
