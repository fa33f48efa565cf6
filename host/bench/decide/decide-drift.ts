import type { Refused } from '../../core/result';
import type { CommandOf, JobState } from '../../job';
import { checkDrift, leftPairs, type DriftChecked } from '../../job/proof/drift-of-job';
import { isProved } from '../../job/proof/proof';
import { refuse } from '../../refusals';

/** One pair a season later against how the vehicle was left; only what was proved can have moved since. */
export const driftSince = (state: JobState, command: CommandOf<'check-drift'>): Refused | [DriftChecked] => {
  if (!isProved(state)) return refuse('NOT_PROVED_YET');
  const { kind, unit, ...pair } = command;
  const found = checkDrift(state, pair);
  if (found !== undefined) return [found];
  const same = leftPairs(state).filter(({ leg }) => leg === command.leg);
  const places = [...new Set(same.map(({ reference }) => Number(reference.toPrecision(4))))];
  return refuse('NOT_AS_LEFT_HERE', { places, unit: state.gauge.unit });
};
