import type { Drift, JobState } from '../job/state/state';
import type { Notation } from './notation';
import { fittedWords, networkWords } from './fitted';
import { capital } from './sentence';

type Reestimated = NonNullable<JobState['reestimated']>;

const PERCENT = 100;
const percentWords = (ratio: number): string => {
  const percent = PERCENT * Math.abs(ratio - 1);
  return `${percent.toFixed(1)} % ${ratio < 1 ? 'fewer' : 'more'} ohms`;
};

/** Where the sender that is believed now shifts the needle most. */
const mostShifted = ({ needle }: Reestimated): Reestimated['needle'][number] =>
  [...needle].sort(
    (one, other) => Math.abs(other.reading - other.byCurve) - Math.abs(one.reading - one.byCurve),
  )[0]!;

/** What the pairs say of the sender, in dial units before anything in ohms. */
export const estimateWords = (estimate: Reestimated, unit: string, say: Notation): string => {
  const { value, byCurve, reading } = mostShifted(estimate);
  const whose = estimate.curve === 'book' ? 'the curve of its table' : 'its own curve';
  return [
    `Against ${whose} this sender puts the needle ${say.lowOrHigh(reading - byCurve, unit)} at ${say.short(value, unit)}: it has ${percentWords(estimate.ohmsRatio)} in the middle.`,
    `The reference is believed to be ${say.lowOrHigh(estimate.referenceOff, unit)}.`,
  ].join(' ');
};

/** Whether other resistors are worth soldering, and what they would change. */
export const offerWords = (
  { offer }: Pick<Reestimated, 'offer'>,
  state: Pick<JobState, 'gauge' | 'fitted'>,
  say: Notation,
): string | undefined => {
  if (offer === undefined) return undefined;
  const { unit } = state.gauge;
  const { candidate, worstNow, worstThen, isWorthIt } = offer;
  const expected = `the worst error expected is ${say.spread(worstNow, unit)} now and ${say.spread(worstThen, unit)} then`;
  if (!isWorthIt) return `Leave what is fitted: other resistors are not worth it (${expected}).`;
  const parts = candidate.parts.length === 0 ? 'nothing in the lead' : networkWords(candidate);
  return `Other resistors are worth it: ${parts}. ${capital(expected)}. Fitted now: ${fittedWords(state)}.`;
};

/** One look a season later: "As left" or "It has moved", with the figures it rests on. */
export const driftWords = (drift: Drift, unit: string, say: Notation): string => {
  const { reference, indicated, asLeft, score, restOff, restBefore, restScore } = drift;
  const pair = `at ${say.short(reference, unit)} the needle is ${say.lowOrHigh(indicated - reference, unit)}, as left it was ${say.lowOrHigh(asLeft.error, unit)} (E_n ${score.toFixed(2)})`;
  const rest =
    restOff === undefined
      ? []
      : restBefore === undefined || restScore === undefined
        ? ['its rest was noted for the next time']
        : [
            `at rest it stands ${say.lowOrHigh(restOff, unit)}, before ${say.lowOrHigh(restBefore, unit)} (E_n ${restScore.toFixed(2)})`,
          ];
  return `${drift.hasMoved ? 'It has moved' : 'As left'}: ${[pair, ...rest].join('; ')}.`;
};
