import { refuse, type Refusal } from '../refusal';
import { chainModel, NO_DIFFERENCE, type Chain, type ChainModel } from './circuit-model';
import { rankMismatch, type Mismatch } from './mismatch';

/** One natural state: what is true and what the needle shows, dial units; uncertainties at 95 %. */
export type ChainPair = {
  readonly value: number;
  readonly indicated: number;
  readonly sharedUncertainty: number;
  readonly eachUncertainty: number;
  readonly readingUncertainty: number;
};

/** A pair against what gauge and sender together foretell; `expanded` at 95 %. */
export type ForetoldPair = {
  readonly value: number;
  readonly indicated: number;
  readonly predicted: number;
  readonly senderOhm: number;
  readonly seenExpanded: number;
  readonly predictedExpanded: number;
  /** Difference over both uncertainties together: up to 1 they agree. */
  readonly score: number;
};

export type ChainFinding = {
  readonly kind: 'chain';
  readonly pairs: readonly ForetoldPair[];
  readonly worstScore: number;
  /** Over 1: a fault remains, whatever a resistor might hide. */
  readonly faultRemains: boolean;
  /** What would explain it, likeliest first; a ranking, no finding. Empty where nothing remains. */
  readonly mismatch: Mismatch;
};

export type ChainRefusal = Refusal<'PROOF_NO_PAIRS' | 'PROOF_PAIR' | 'SENDER_OUT_OF_RANGE'>;

const COVERAGE_FACTOR = 2;
/** Step of a difference quotient, as a part of the known range. */
const STEP_PART = 1e-3;

/** Dial units of needle for one unit of what is true. */
const slopeAt = (model: ChainModel, { sender }: Chain, value: number): number => {
  const step = STEP_PART * (sender.knownTo - sender.knownFrom);
  const at = (each: number): number => model.reading(each, NO_DIFFERENCE);
  return (at(value + step) - at(value - step)) / (2 * step);
};

/** How far the needle moves with what nobody knows of the sender's heat; rectangular. Source: GUM 4.3.7. */
const heatUncertainty = ({ heat, ...cold }: Chain): ((value: number) => number) => {
  if (heat === undefined) return () => 0;
  const { lowestWattPerKelvin, highestWattPerKelvin } = heat.dissipation;
  const [most, least] = [lowestWattPerKelvin, highestWattPerKelvin].map((wattPerKelvin) =>
    chainModel({ ...cold, heat: { ...heat, dissipation: { ...heat.dissipation, wattPerKelvin } } }),
  );
  return (value) =>
    Math.abs(most!.reading(value, NO_DIFFERENCE) - least!.reading(value, NO_DIFFERENCE)) / (2 * Math.sqrt(3));
};

/** Standard uncertainty of the foretold needle by the curves alone. Source: GUM 5.1.2. */
const curvesUncertainty = (model: ChainModel, chain: Chain, value: number): number => {
  const ohm = model.senderOhm(value);
  const own = chain.sender.relativeUncertainty(value);
  const at = (logOhm: number): number => model.reading(value, { ...NO_DIFFERENCE, logOhm });
  const ofSender = Math.abs(at(own) - at(-own)) / 2;
  return Math.hypot(ofSender, chain.gauge.readingUncertainty(ohm));
};

const faultOf = ({ sender }: Chain, pair: ChainPair, index: number): ChainRefusal | undefined => {
  const number = index + 1;
  if (!Number.isFinite(pair.indicated))
    return refuse('PROOF_PAIR', { number, wrong: 'indicated', given: pair.indicated });
  if (!Number.isFinite(pair.value))
    return refuse('PROOF_PAIR', { number, wrong: 'value', given: pair.value });
  const reference = Math.hypot(pair.sharedUncertainty, pair.eachUncertainty);
  if (!(reference > 0 && Number.isFinite(reference)))
    return refuse('PROOF_PAIR', { number, wrong: 'uncertainty', given: reference });
  const room = 0.05 * (sender.knownTo - sender.knownFrom);
  return pair.value >= sender.knownFrom - room && pair.value <= sender.knownTo + room
    ? undefined
    : refuse('SENDER_OUT_OF_RANGE', {
        value: pair.value,
        unit: sender.unit,
        from: sender.knownFrom,
        to: sender.knownTo,
      });
};

/**
 * Whether the vehicle's own gauge and sender, together, show what their curves say.
 * Source: E_n = |seen - predicted| / root(U_seen^2 + U_predicted^2), ISO/IEC 17043 B.3.1.3 e (from memory).
 * Refuses: no pairs (PROOF_NO_PAIRS), a pair without numbers or without an uncertainty (PROOF_PAIR), a value for which
 * the sender has no curve (SENDER_OUT_OF_RANGE).
 */
export const testChain = (chain: Chain, pairs: readonly ChainPair[]): ChainFinding | ChainRefusal => {
  if (pairs.length === 0) return refuse('PROOF_NO_PAIRS', {});
  const fault = pairs.map((pair, index) => faultOf(chain, pair, index)).find((each) => each !== undefined);
  if (fault !== undefined) return fault;
  const model = chainModel(chain);
  const ofHeat = heatUncertainty(chain);
  const foretold = pairs.map((pair) => {
    const predicted = model.reading(pair.value, NO_DIFFERENCE);
    const slope = slopeAt(model, chain, pair.value);
    const curves = Math.hypot(curvesUncertainty(model, chain, pair.value), ofHeat(pair.value));
    const ofReference = Math.abs(slope) * Math.hypot(pair.sharedUncertainty, pair.eachUncertainty);
    const predictedExpanded = Math.hypot(ofReference, COVERAGE_FACTOR * curves);
    const seenExpanded = pair.readingUncertainty;
    return {
      ...{ value: pair.value, indicated: pair.indicated, predicted, senderOhm: model.senderOhm(pair.value) },
      ...{ seenExpanded, predictedExpanded },
      score: Math.abs(pair.indicated - predicted) / Math.hypot(seenExpanded, predictedExpanded),
      /** For the ranking: what is of this pair alone, and what is shared. */
      own: Math.hypot(seenExpanded, slope * pair.eachUncertainty) / COVERAGE_FACTOR,
      shared: (slope * pair.sharedUncertainty) / COVERAGE_FACTOR,
      curves,
    };
  });
  const worstScore = Math.max(...foretold.map(({ score }) => score));
  const faultRemains = !(worstScore <= 1);
  return {
    kind: 'chain',
    pairs: foretold.map(({ own, shared, curves, ...pair }) => pair),
    worstScore,
    faultRemains,
    mismatch: faultRemains ? rankMismatch(chain, model, foretold) : NOTHING,
  };
};

const NOTHING: Mismatch = { ranked: [], tellsApart: undefined };
