import { figure } from '../figure';
import {
  HIGHEST_PLAUSIBLE_BETA_KELVIN,
  isPlausibleBeta,
  LOWEST_PLAUSIBLE_BETA_KELVIN,
  type PairwiseBeta,
} from './beta-gate';
import type { FittedSender, SenderWarning } from './sender';

type Facts = Omit<FittedSender, 'warnings'>;

/** A temperature span shorter than this leaves Beta to the reading errors. Common practice, no source. */
const SHORT_SPAN_KELVIN = 25;

/** What the fit says about its points: whether they contradict the law, and which of them the others speak against. */
export type Judgement = { readonly isMisfitted: boolean; readonly outlying: readonly number[] };

/** What a person should know before trusting a fitted sender. Source: the gates named in each warning's own file. */
export function senderWarnings(facts: Facts, judgement: Judgement): SenderWarning[] {
  const found = [
    ...betaWarnings(facts),
    judgement.isMisfitted &&
      warning(
        'SENDER_MISFIT',
        'the points lie further off the law than reading errors explain; look at the residuals',
      ),
    facts.uncertaintyBasis === 'assumed' &&
      warning(
        'SENDER_UNCERTAINTY_ASSUMED',
        'no uncertainty was given and no point is left over: usual workshop uncertainties are assumed',
      ),
    ...questionedPoints(facts, judgement.outlying),
    facts.quantity === 'temperature' &&
      facts.risesWithValue &&
      warning(
        'SENDER_RISES_WITH_TEMPERATURE',
        'resistance rises with temperature: this is not an NTC thermistor',
      ),
    flatWarning(facts),
    facts.model === 'linear' &&
      facts.points.length === 2 &&
      facts.quantity !== 'temperature' &&
      warning(
        'SENDER_STRAIGHT_ASSUMED',
        'two points: that the sender is straight between them is assumed, measure one near the middle',
      ),
  ];
  return found.filter((each) => each !== false);
}

const warning = (code: string, message: string): SenderWarning => ({ code, message });

function betaWarnings(facts: Facts): (SenderWarning | false)[] {
  const { beta2585Kelvin, pairwiseBetas, quantity, risesWithValue } = facts;
  if (quantity !== 'temperature' || risesWithValue) return [];
  return [
    ...implausiblePairs(pairwiseBetas).map(implausible),
    beta2585Kelvin !== null &&
      !isPlausibleBeta(beta2585Kelvin) &&
      pairwiseBetas.every((pair) => pair.isPlausible) &&
      warning('SENDER_BETA_IMPLAUSIBLE', `Beta 25/85 is ${Math.round(beta2585Kelvin)} K; ${plausibleText}`),
    reach(facts) < SHORT_SPAN_KELVIN &&
      warning(
        'SENDER_SPAN_SHORT',
        `the points span ${reach(facts).toFixed(1)} K; Beta and everything beyond them hang on the reading errors`,
      ),
    lacks2585(facts) &&
      warning(
        'SENDER_BETA_EXTRAPOLATED',
        'Beta 25/85 is an extrapolation: the points do not reach from 25 to 85 degC, and Beta grows with temperature',
      ),
  ];
}

/** The pair of the two ends repeats what its neighbours already said. */
function implausiblePairs(pairs: readonly PairwiseBeta[]): readonly PairwiseBeta[] {
  const found = pairs.filter((pair) => !pair.isPlausible);
  return found.length > 1 ? found.filter((pair) => pair !== pairs.at(-1)) : found;
}

const plausibleText =
  `senders of this kind lie between ${LOWEST_PLAUSIBLE_BETA_KELVIN} and ${HIGHEST_PLAUSIBLE_BETA_KELVIN} K: ` +
  'was the sender soaked, and the current small?';

const implausible = (pair: PairwiseBeta): SenderWarning =>
  warning(
    'SENDER_BETA_IMPLAUSIBLE',
    `Beta between ${pair.fromCelsius.toFixed(1)} and ${pair.toCelsius.toFixed(1)} degC is ` +
      `${Math.round(pair.betaKelvin)} K; ${plausibleText}`,
  );

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

function questionedPoints(facts: Facts, outlying: readonly number[]): SenderWarning[] {
  const { residualUnit, points, unit } = facts;
  return outlying.map((index) => {
    const point = points[index]!;
    const residual = residualUnit === 'ohm' ? point.residualOhm : point.residualValue;
    return warning(
      'SENDER_POINT_QUESTIONED',
      `point ${index + 1} (${figure(point.resistanceOhm)} ohm at ${figure(point.value)} ${unit}) lies ` +
        `${residual.toPrecision(2)} ${residualUnit} off the others: measure it again`,
    );
  });
}

function flatWarning({ law, points, unit }: Facts): SenderWarning | false {
  if (law.name !== 'table') return false;
  const at = points.findIndex(
    (point, i) =>
      i > 0 && point.value > points[i - 1]!.value && point.resistanceOhm === points[i - 1]!.resistanceOhm,
  );
  if (at < 0) return false;
  return warning(
    'SENDER_FLAT_STRETCH',
    `${points[at]!.resistanceOhm} ohm stands for more than one value (${points[at - 1]!.value} to ` +
      `${points[at]!.value} ${unit}): there the value is only bounded`,
  );
}
