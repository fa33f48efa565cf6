import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { JobState } from '../../job';

/** Less is a wire to ground. Common practice, no source. */
const SHORT_OHM = 2;

/** Coils with a ground of their own bear a grounded sender wire; a heater burns on it, a module and a lone coil may. */
const bearsShort = ({ mechanism, terminals }: JobState['gauge']): boolean =>
  (mechanism === 'two-coil' || mechanism === 'cross-coil') && terminals !== 2;

/** Refuses a short on the sender wire of a gauge that is not known to bear it, whatever is said. */
export const shorted = (
  { gauge }: Pick<JobState, 'gauge'>,
  ohms: readonly (number | undefined)[],
): Refused | undefined => {
  const shortOhm = ohms.find((ohm) => ohm !== undefined && ohm < SHORT_OHM);
  return shortOhm === undefined || bearsShort(gauge) ? undefined : refuse('SHORT_NEVER', { ohm: shortOhm });
};

const PAST: readonly string[] = ['stabiliser-closed', 'stabiliser-ground'];

/** Refuses to drive a heater while its stabiliser is known to let the whole supply through. */
export const pastStabiliser = ({ gauge, conclusion, repairs }: JobState): Refused | undefined => {
  const causes = conclusion?.diagnosed?.verdict === 'is' ? conclusion.diagnosed.causes : [];
  const stands = (conclusion?.n ?? 0) > (repairs.at(-1)?.n ?? 0);
  return gauge.mechanism === 'thermal' && stands && causes.some((cause) => PAST.includes(cause))
    ? refuse('PAST_STABILISER')
    : undefined;
};
