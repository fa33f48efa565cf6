import { fitCurve, gaugeResponse } from '../../core/curve';
import { testChain, type ChainFinding, type ChainPair, type ChainRefusal } from '../../core/proof/chain';
import type { Chain } from '../../core/proof/circuit-model';
import type { Network } from '../../core/network';
import type { Refusal } from '../../core/refusal';
import { senderResponse } from '../../core/sender';
import { curveOptionsOf } from '../state/curve-options';
import { sharedOhmsOf } from '../state/shared-ohms';
import type { JobState } from '../state/state';
import { curveReadings, readingUncertaintyOf } from '../state/views';
import { chainReadings } from './chain-gate';
import { fittedSenderOf } from './substitution';
import { circuitOf, workingFactsOf } from './working-circuit';

const COVERAGE_FACTOR = 2;

/** The chain of a job: its gauge's curve, one of its senders, what is fitted. Refuses as the two fits do. */
export const chainOfJob = (
  state: JobState,
  senderId: string,
  network: Network,
): { readonly kind: 'chain-of-job'; readonly chain: Chain } | Refusal => {
  const { gauge } = state;
  const ohms = sharedOhmsOf(state);
  const curve = fitCurve(curveReadings(state), {
    ...curveOptionsOf(gauge),
    ...(ohms === undefined ? {} : { resistanceUncertainty: ohms }),
  });
  if (curve.kind === 'refused') return curve;
  const fitted = fittedSenderOf(state, senderId);
  if (fitted.kind === 'refused') return fitted;
  const sender = senderResponse(fitted, { unit: gauge.unit });
  if ('kind' in sender) return sender;
  const circuit = circuitOf(workingFactsOf(state, senderId), fitted);
  return {
    kind: 'chain-of-job',
    chain: {
      gauge: gaugeResponse(curve),
      sender,
      network,
      terminals: gauge.terminals ?? (gauge.mechanism === 'thermal' ? 2 : 3),
      heat: circuit && { source: circuit.lead, dissipation: circuit.dissipation },
    },
  };
};

/** What the vehicle shows as found against what its curves foretell. Refuses as the fits and as `testChain`. */
export const testJobChain = (state: JobState, senderId: string): ChainFinding | ChainRefusal | Refusal => {
  const found = chainOfJob(state, senderId, { topology: 'none', parts: [] });
  if (found.kind === 'refused') return found;
  const eye = COVERAGE_FACTOR * readingUncertaintyOf(state.gauge);
  const pairs = chainReadings(state).map((each): ChainPair => ({
    value: each.reference ?? NaN,
    indicated: each.indicated,
    sharedUncertainty: COVERAGE_FACTOR * (each.referenceUncertainty ?? NaN),
    eachUncertainty: 0,
    readingUncertainty: eye,
  }));
  return testChain(found.chain, pairs);
};
