import type { JobKind } from '../../../protocol';
import type { JobState } from '../../job';
import { boxKindOf } from '../rules';

/** A sender of a tank is measured with the tank's limits, whatever its gauge is. */
export const senderKind = (state: JobState): JobKind =>
  state.gauge.quantity === 'fuel' ? 'fuel' : boxKindOf(state.gauge);
