import {
  HIGHEST_PLAUSIBLE_BETA_KELVIN,
  isPlausibleBeta,
  LOWEST_PLAUSIBLE_BETA_KELVIN,
  type PairwiseBeta,
} from './beta-gate';
import { remark, type Remark } from '../remark';
import type { SenderRemarks } from './remarks';
import type { FittedSender } from './sender';

type Facts = Omit<FittedSender, 'warnings'>;
type SenderRemark = Remark<keyof SenderRemarks>;

/** A temperature span shorter than this leaves Beta to the reading errors. Common practice, no source. */
const SHORT_SPAN_KELVIN = 25;

/** What the fit says about its points: whether they contradict the law, and which of them the others speak against. */
export type Judgement = { readonly isMisfitted: boolean; readonly outlying: readonly number[] };

/** What a person should know before trusting a fitted sender. Source: the gates named in each warning's own file. */
export function senderWarnings(facts: Facts, judgement: Judgement): SenderRemark[] {
  const found = [
    ...betaWarnings(facts),
    judgement.isMisfitted && remark('SENDER_MISFIT', {}),
    facts.uncertaintyBasis === 'assumed' && remark('SENDER_UNCERTAINTY_ASSUMED', {}),
    ...questionedPoints(facts, judgement.outlying),
    facts.quantity === 'temperature' && facts.risesWithValue && remark('SENDER_RISES_WITH_TEMPERATURE', {}),
    flatWarning(facts),
    facts.model === 'linear' &&
      facts.points.length === 2 &&
      facts.quantity !== 'temperature' &&
      remark('SENDER_STRAIGHT_ASSUMED', {}),
  ];
  return found.filter((each) => each !== false);
}

function betaWarnings(facts: Facts): (SenderRemark | false)[] {
  const { beta2585Kelvin, pairwiseBetas, quantity, risesWithValue } = facts;
  if (quantity !== 'temperature' || risesWithValue) return [];
  return [
    ...implausiblePairs(pairwiseBetas).map(implausible),
    beta2585Kelvin !== null &&
      !isPlausibleBeta(beta2585Kelvin) &&
      pairwiseBetas.every((pair) => pair.isPlausible) &&
      remark('SENDER_BETA_IMPLAUSIBLE', { betaKelvin: beta2585Kelvin, ...plausible }),
    reach(facts) < SHORT_SPAN_KELVIN && remark('SENDER_SPAN_SHORT', { spanCelsius: reach(facts) }),
    lacks2585(facts) && remark('SENDER_BETA_EXTRAPOLATED', {}),
  ];
}

/** The pair of the two ends repeats what its neighbours already said. */
function implausiblePairs(pairs: readonly PairwiseBeta[]): readonly PairwiseBeta[] {
  const found = pairs.filter((pair) => !pair.isPlausible);
  return found.length > 1 ? found.filter((pair) => pair !== pairs.at(-1)) : found;
}

const plausible = {
  lowestKelvin: LOWEST_PLAUSIBLE_BETA_KELVIN,
  highestKelvin: HIGHEST_PLAUSIBLE_BETA_KELVIN,
};

const implausible = ({ betaKelvin, fromCelsius, toCelsius }: PairwiseBeta): SenderRemark =>
  remark('SENDER_BETA_IMPLAUSIBLE', { betaKelvin, ...plausible, between: [fromCelsius, toCelsius] });

function reach({ pairwiseBetas }: Facts): number {
  const from = Math.min(...pairwiseBetas.map((pair) => pair.fromCelsius));
  const to = Math.max(...pairwiseBetas.map((pair) => pair.toCelsius));
  return to - from;
}

/** A kelvin or two beyond the points is no extrapolation worth a sentence. */
const SLACK_KELVIN = 5;

function lacks2585({ beta2585Kelvin, pairwiseBetas }: Facts): boolean {
  if (beta2585Kelvin === null) return false;
  const from = Math.min(...pairwiseBetas.map((pair) => pair.fromCelsius));
  const to = Math.max(...pairwiseBetas.map((pair) => pair.toCelsius));
  return from > 25 + SLACK_KELVIN || to < 85 - SLACK_KELVIN;
}

/** Half a last digit of a hand-held ohmmeter, of a low and of a four-figure display. Common practice, no source. */
const LAST_DIGIT_OHM = 0.05;
const LAST_DIGIT_SHARE = 5e-4;

/** What is less than an ohmmeter's last digit off the others is how it was written down, not a wrong reading. */
function questionedPoints(facts: Facts, outlying: readonly number[]): SenderRemark[] {
  const { residualUnit, points, unit } = facts;
  return outlying.flatMap((index) => {
    const point = points[index]!;
    if (Math.abs(point.residualOhm) <= LAST_DIGIT_OHM + LAST_DIGIT_SHARE * point.resistanceOhm) return [];
    const residual = residualUnit === 'ohm' ? point.residualOhm : point.residualValue;
    const { resistanceOhm, value } = point;
    return remark('SENDER_POINT_QUESTIONED', {
      ...{ pointNumber: index + 1, resistanceOhm, value, unit },
      ...{ residual, residualUnit },
    });
  });
}

function flatWarning({ law, points, unit }: Facts): SenderRemark | false {
  if (law.name !== 'table') return false;
  const at = points.findIndex(
    (point, i) =>
      i > 0 && point.value > points[i - 1]!.value && point.resistanceOhm === points[i - 1]!.resistanceOhm,
  );
  if (at < 0) return false;
  const [before, point] = [points[at - 1]!, points[at]!];
  return remark('SENDER_FLAT_STRETCH', {
    ...{ resistanceOhm: point.resistanceOhm, from: before.value, to: point.value, unit },
  });
}
