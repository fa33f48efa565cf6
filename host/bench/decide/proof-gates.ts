import { isHintOnly, lagOf } from '../../core/proof/reference';
import { refuse as coreRefuse } from '../../core/refusal';
import type { Refused } from '../../core/result';
import { unitChange } from '../../core/units';
import type { CommandOf, JobState } from '../../job';
import { confirmations } from '../../job/state/confirmations';
import { readingUncertaintyOf } from '../../job/state/views';
import { refuse } from '../../refusals';
import { printed } from '../../words/notation';
import { withSentence } from '../../words/refusal';

/** What is read of a vehicle that runs. */
export type RunPair = Omit<CommandOf<'add-proof-pair'>, 'kind' | 'state'>;

/** Above this no point is worth it. Common practice, no source; the maker's own figure may be lower. */
const ENGINE_LIMIT_CELSIUS = 110;
/** Hotter than any coolant: a slip of the keys, which is told as that. */
const SLIP_CELSIUS = 200;
/** Warm enough to boil where the pressure goes. Common practice, no source. */
const WARM_CELSIUS = 70;
/** So many uncertainties below the reference, and the bulb may hang in steam. Common practice, no source. */
const FAR_BELOW = 3;
const COVERAGE_FACTOR = 2;

/** A temperature of the house in the dial's unit; undefined on a bench, and for a dial that shows none. */
const onTheDial = ({ gauge, place }: JobState, celsius: number): number | undefined => {
  const change = unitChange('degC', gauge.unit);
  return gauge.quantity !== 'temperature' || place === 'bench' || change.kind === 'refused'
    ? undefined
    : Math.round(celsius * change.factor + change.offset);
};

/** The engine is at its limit, whatever the needle says. */
export const tooHot = (state: JobState, reference: number): Refused | undefined => {
  const limit = onTheDial(state, ENGINE_LIMIT_CELSIUS);
  const slip = onTheDial(state, SLIP_CELSIUS) ?? Infinity;
  return limit === undefined || reference < limit || reference > slip
    ? undefined
    : refuse('ENGINE_TOO_HOT', { reference, limit, unit: state.gauge.unit });
};

/** A needle far below its reference in a warm engine: coolant may be gone. Somebody looks before anything else is read. */
export const levelUnsaid = (state: JobState, command: RunPair): Refused | undefined => {
  const warm = onTheDial(state, WARM_CELSIUS);
  if (warm === undefined || command.reference < warm || state.confirmations.includes('coolant-level'))
    return undefined;
  const spread =
    COVERAGE_FACTOR * Math.hypot(readingUncertaintyOf(state.gauge), command.referenceUncertainty ?? 0);
  if (command.reference - command.indicated <= FAR_BELOW * spread) return undefined;
  const { asks } = confirmations['coolant-level'];
  return refuse('CONFIRM_FIRST', { confirmation: 'coolant-level', asks });
};

/** A stamp is no measurement, and a probe in coolant that still warms is at another temperature than the sender. */
export const badReference = (
  { gauge }: JobState,
  { referenceKind, ratePerMinute }: RunPair,
): Refused | undefined => {
  if (referenceKind !== undefined && isHintOnly(referenceKind))
    return withSentence(coreRefuse('REFERENCE_HINT', { reference: referenceKind }), printed);
  const lag = ratePerMinute === undefined ? undefined : lagOf(gauge, ratePerMinute);
  return lag?.kind === 'refused' ? withSentence(lag, printed) : undefined;
};
