import type { Network } from '../../core/network';
import type { ChainPair } from '../../core/proof/chain';
import { chainModel, NO_DIFFERENCE } from '../../core/proof/circuit-model';
import { BOOK_CURVE, OWN_CURVE, reEstimate } from '../../core/proof/re-estimate';
import { reTrim } from '../../core/proof/re-trim';
import { referenceUncertainty } from '../../core/proof/reference';
import { refuse, type Refusal } from '../../core/refusal';
import type { EventBody } from '../schema/events';
import { scaleOf } from '../schema/scale';
import { chosenFrom } from '../state/chosen';
import type { JobState, ProofPair } from '../state/state';
import { countedSenderPoints, readingUncertaintyOf } from '../state/views';
import { chainOfJob } from './chain-of-job';
import { runPairs } from './run-pairs';
import { trimOptionsOf } from './trim-options';
import { workingFactsOf } from './working-circuit';

const COVERAGE_FACTOR = 2;
const PLACES = [0, 0.25, 0.5, 0.75, 1];

export type Reestimated = Extract<EventBody, { kind: 'sender-reestimated' }>;

/** Of its own uncertainty a reference shares what its kind shares; where nobody knows, all of it. */
const sharedPart = ({ gauge }: JobState, pair: ProofPair): number => {
  const { quantity, unit } = gauge;
  const found =
    pair.referenceKind === undefined
      ? undefined
      : referenceUncertainty({ kind: pair.referenceKind, quantity, unit, emissivity: 1 });
  if (found === undefined || found.kind === 'refused') return 1;
  const shared = Math.hypot(found.shared, found.perValue * pair.reference);
  return shared / Math.hypot(shared, found.each);
};

const chainPair = (state: JobState, pair: ProofPair): ChainPair => {
  const expanded = COVERAGE_FACTOR * (pair.referenceUncertainty ?? 0);
  const part = sharedPart(state, pair);
  return {
    value: pair.reference,
    indicated: pair.indicated,
    sharedUncertainty: part * expanded,
    eachUncertainty: Math.sqrt(Math.max(0, 1 - part * part)) * expanded,
    readingUncertainty: COVERAGE_FACTOR * readingUncertaintyOf(state.gauge),
  };
};

/** A sender whose every point came out of a table is another specimen. */
const isBookCurve = (state: JobState, senderId: string): boolean =>
  countedSenderPoints(state, senderId).every(({ source }) => source === 'datasheet');

/**
 * What the pairs of a proof say of the sender in the vehicle, and whether other resistors are worth fitting for it.
 * Source: `reEstimate`, `reTrim`. Refuses: no pair that was run (PROOF_NO_PAIRS), pairs that no sender near this one would
 * give (PROOF_FITS_NOTHING), and as the two fits.
 */
export const reEstimateJob = (state: JobState, senderId: string): Reestimated | Refusal => {
  const pairs = runPairs(state);
  if (pairs.length === 0) return refuse('PROOF_NO_PAIRS', {});
  const network: Network = workingFactsOf(state, senderId).fitted ?? { topology: 'none', parts: [] };
  const found = chainOfJob(state, senderId, network);
  if (found.kind === 'refused') return found;
  const { chain } = found;
  const isBook = isBookCurve(state, senderId);
  const estimate = reEstimate(
    chain,
    pairs.map((pair) => chainPair(state, pair)),
    isBook ? BOOK_CURVE : OWN_CURVE,
  );
  if (estimate === undefined) return refuse('PROOF_FITS_NOTHING', {});
  const { lowest, highest } = scaleOf(state.gauge.marks);
  const { options, from, to } = wishes(state);
  const band = {
    from: from ?? Math.max(lowest, chain.sender.knownFrom),
    to: to ?? Math.min(highest, chain.sender.knownTo),
  };
  const asItWas = chainModel(chain);
  const { source, dissipation } = chain.heat ?? {};
  const offer = reTrim(chain, estimate, band, {
    options: {
      ...options,
      terminals: chain.terminals,
      ...(source === undefined ? {} : { lead: source }),
      ...(dissipation === undefined ? {} : { dissipation }),
    },
  });
  return {
    kind: 'sender-reestimated',
    senderId,
    pairIds: pairs.map(({ pairId }) => pairId),
    curve: isBook ? 'book' : 'own',
    ohmsRatio: Math.exp(estimate.logOhm),
    steepnessRatio: Math.exp(estimate.tilt),
    referenceOff: estimate.referenceOff,
    needle: PLACES.map((part) => {
      const value = band.from + part * (band.to - band.from);
      const { reading, standardUncertainty } = estimate.needleAt(value);
      const byCurve = asItWas.reading(value, NO_DIFFERENCE);
      return { value, byCurve, reading, expandedUncertainty: COVERAGE_FACTOR * standardUncertainty };
    }),
    ...(offer === undefined
      ? {}
      : {
          offer: {
            candidate: chosenFrom(offer.candidate),
            worstNow: offer.expectedNow,
            worstThen: offer.expectedThen,
            chanceBetter: offer.chanceBetter,
            isWorthIt: offer.isWorthIt,
          },
        }),
  };
};

/** What Trim was asked, less its band, which is the same for both networks. */
const wishes = (state: JobState) => {
  const { from, to, ...options } = trimOptionsOf(state);
  return { options, from, to };
};
