import { refuse, type Refusal } from '../refusal';
import {
  conformanceProbability,
  narrowestProvable,
  pairWord,
  worstWord,
  type DecisionRule,
  type ErrorWithUncertainty,
  type Limits,
  type PairWord,
} from './decision';
import { isInDangerQuarter, usualLimits, type Scale } from './limits';

/** A reference and the needle beside it, dial units; uncertainties at 95 %. */
export type Pair = {
  readonly value: number;
  readonly indicated: number;
  /** The part of the reference's that every pair shares, and what this pair has of its own. */
  readonly sharedUncertainty: number;
  readonly eachUncertainty: number;
  /** Of the eye on the dial. */
  readonly readingUncertainty: number;
  readonly leg?: 'up' | 'down' | undefined;
  /** `substituted`: known ohms in the sender's place. */
  readonly way: 'run' | 'substituted';
  /** When it was read, seconds from any moment. */
  readonly second?: number | undefined;
};

export type JudgedPair = ErrorWithUncertainty & {
  readonly limits: Limits;
  readonly word: PairWord;
  readonly chance: number;
  readonly isDangerous: boolean;
};

/** What a proof still wants. `times`: nobody said when the pairs were read. */
export type Wanted = 'three-places' | 'dangerous-end' | 'both-ways' | 'rest' | 'times';

export type Proof = {
  readonly kind: 'proof';
  readonly rule: DecisionRule;
  readonly pairs: readonly JudgedPair[];
  readonly word: PairWord;
  readonly missing: readonly Wanted[];
  /** All within, and nothing missing. */
  readonly isProved: boolean;
  /** Values between which it holds. */
  readonly from: number;
  readonly to: number;
  /** The narrowest limit to both sides that these references and this dial could ever prove. */
  readonly narrowest: number;
};

export type ProofRefusal = Refusal<'PROOF_NO_PAIRS' | 'PROOF_PAIR'>;

/** Two pairs nearer than this part of the scale are at one place. Common practice, no source. */
const ONE_PLACE_PART = 0.05;
const FEWEST_PLACES = 3;
/** Between two pairs, so that the needle comes to rest. Common practice, no source. */
const REST_SECOND = 30;
const ROUNDING = 1 + 1e-9;

/** U of the error. Source: GUM 5.1.2, what is shared and what is not both count for one pair. */
const errorOf = (pair: Pair): ErrorWithUncertainty => ({
  error: pair.indicated - pair.value,
  expandedUncertainty: Math.hypot(pair.sharedUncertainty, pair.eachUncertainty, pair.readingUncertainty),
});

const isOnePlace = ({ lowest, highest }: Scale, one: number, other: number): boolean =>
  Math.abs(one - other) <= ONE_PLACE_PART * (highest - lowest) * ROUNDING;

/** How many pairs there are of which no two are at one place, counted from the lowest up. */
const placesOf = (scale: Scale, pairs: readonly Pair[]): number => {
  const values = pairs.map(({ value }) => value).sort((one, other) => one - other);
  return values.reduce<number[]>((places, value) => {
    const last = places.at(-1);
    return last !== undefined && isOnePlace(scale, last, value) ? places : [...places, value];
  }, []).length;
};

const areBothWays = (scale: Scale, pairs: readonly Pair[]): boolean =>
  pairs.some(
    (one) =>
      one.leg === 'up' &&
      pairs.some((other) => other.leg === 'down' && isOnePlace(scale, one.value, other.value)),
  );

const restWanted = (pairs: readonly Pair[]): readonly Wanted[] => {
  const times = pairs.flatMap(({ second }) => second ?? []).sort((one, other) => one - other);
  if (times.length < pairs.length) return ['times'];
  return times.some((time, index) => index > 0 && time - times[index - 1]! < REST_SECOND) ? ['rest'] : [];
};

const wantedOf = (scale: Scale, pairs: readonly Pair[]): readonly Wanted[] => {
  const isDangerProved = pairs.some(
    ({ way, value }) =>
      way === 'substituted' && (scale.quantity === 'other' || isInDangerQuarter(scale, value)),
  );
  return [
    ...(placesOf(scale, pairs) < FEWEST_PLACES ? (['three-places'] as const) : []),
    ...(isDangerProved ? [] : (['dangerous-end'] as const)),
    ...(areBothWays(scale, pairs) ? [] : (['both-ways'] as const)),
    ...restWanted(pairs),
  ];
};

const faultOf = (pair: Pair, index: number): ProofRefusal | undefined => {
  const number = index + 1;
  if (!Number.isFinite(pair.value))
    return refuse('PROOF_PAIR', { number, wrong: 'value', given: pair.value });
  if (!Number.isFinite(pair.indicated))
    return refuse('PROOF_PAIR', { number, wrong: 'indicated', given: pair.indicated });
  const own = [pair.sharedUncertainty, pair.eachUncertainty, pair.readingUncertainty];
  const bad = own.find((each) => !(each >= 0 && Number.isFinite(each)));
  const none = Math.hypot(pair.sharedUncertainty, pair.eachUncertainty) > 0 ? undefined : 0;
  const given = bad ?? none;
  return given === undefined ? undefined : refuse('PROOF_PAIR', { number, wrong: 'uncertainty', given });
};

/**
 * Pairs of reference and needle against limits, by a rule that was chosen before. `limits` left out: the usual ones,
 * lopsided in the dangerous quarter.
 * Source: `pairWord`; what a proof wants is common practice, no source.
 * Refuses: no pairs (PROOF_NO_PAIRS); a pair without numbers, or whose reference has no uncertainty (PROOF_PAIR).
 */
export const judgePairs = (
  pairs: readonly Pair[],
  question: { readonly scale: Scale; readonly rule: DecisionRule; readonly limits?: Limits | undefined },
): Proof | ProofRefusal => {
  const { scale, rule } = question;
  if (pairs.length === 0) return refuse('PROOF_NO_PAIRS', {});
  const fault = pairs.map(faultOf).find((each) => each !== undefined);
  if (fault !== undefined) return fault;
  const judged = pairs.map((pair): JudgedPair => {
    const result = errorOf(pair);
    const isDangerous = isInDangerQuarter(scale, pair.value);
    const limits = question.limits ?? usualLimits(scale, isDangerous);
    return {
      ...result,
      limits,
      isDangerous,
      word: pairWord(result, limits, rule),
      chance: conformanceProbability(result, limits),
    };
  });
  const word = worstWord(judged.map((pair) => pair.word));
  const missing = wantedOf(scale, pairs);
  const values = pairs.map(({ value }) => value);
  return {
    kind: 'proof',
    rule,
    pairs: judged,
    word,
    missing,
    isProved: word === 'within' && missing.length === 0,
    from: Math.min(...values),
    to: Math.max(...values),
    narrowest: narrowestProvable(Math.max(...judged.map((pair) => pair.expandedUncertainty)), rule),
  };
};
